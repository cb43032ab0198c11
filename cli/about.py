"""``flankwise about``: one page on the program and this machine, to be pasted into a report of a defect."""

from __future__ import annotations

from typing import Annotated

import typer

from cli import options
from cli.output import show, write_json
from cli.register import RegisterFile
from cli.tables import Paragraph

KINDS = {
    "frozen": "the unpacked program",
    "installed": "installed among Python's packages",
    "checkout": "in its project folder",
}
WHERE = {None: "in its usual place", "given": "as given"}


def about(
    names: Annotated[
        bool, typer.Option("--names", help="With paths and the names of cameras, which may tell who you are.")
    ] = False,
    register: RegisterFile = None,
    as_json: options.Json = False,
) -> None:
    """Tell versions, folders, cameras and what is missing, on one page for a report of a defect.

    It names no path, file, account or camera unless asked to.
    """
    from flankwise.reasons import sentence
    from records.about import about as look

    found = look(register, names=names)
    if as_json:
        write_json(found.to_dict())
        return
    there = [f"{name} {version}" for name, version in found.packages.items() if version is not None]
    lines = [
        ("flankwise", f"{found.version}, {KINDS[found.kind]}"),
        ("system", f"{found.system}, Python {found.python}"),
        ("packages", ", ".join(there)),
    ]
    for place in found.places:
        words = [place.path or WHERE.get(place.named_by, f"where {place.named_by} says")]
        words += [] if place.there else ["not there yet"]
        words += [] if place.writable else ["cannot be written"]
        if place.what == "register" and found.register_version is not None:
            words.append(f"version {found.register_version}, {found.parts} parts")
        if place.what == "log" and found.defects:
            words.append(f"{found.defects} logs of failures")
        lines.append((place.what, ", ".join(words)))
    lines.append(("cameras", ", ".join((str(found.cameras), *found.camera_names))))
    missing = [sentence(reason) for reason in found.missing] or ["nothing"]
    lines += [("missing" if number == 0 else "", text) for number, text in enumerate(missing)]
    show(*(Paragraph(text, f"{head:<11}") for head, text in lines))
