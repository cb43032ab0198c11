"""Several parts in one picture, as on a tray: all that were measured filed in one action, or none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from flankwise.identifying import identify
from flankwise.part import Part, Parts
from records import drawing
from records.documenting import Documented, Place, file_measured, identification_document
from records.next_position import next_position
from records.register import Register
from records.series_on_file import series_on_file
from threads.shared.refusal import Reason, RefusalError
from vision.result.measurement import Measurement


@dataclass(frozen=True)
class TrayPart:
    """One of the parts in the picture. ``number``: in it; ``filed``: None for one that was not measured, and then
    ``reasons`` say why (none for a plain pin).
    """

    number: int
    position: str
    filed: Documented | None
    reasons: tuple[Reason, ...] = ()


def file_tray(
    register: Register, parts: Parts, place: Place, positions: Sequence[str] = (), *, who: str | None = None
) -> tuple[TrayPart, ...]:
    """File each measured part of a picture, in the order of their numbers.

    ``positions``: where they belong; after the last one it is counted on (``index arm 1``, ``index arm 2``), and where
    there is none they are filed without. ``place``: all else; its ``name`` is followed by the number in the picture.

    Raises RefusalError: tray_without_screws, tray_positions, and as ``documenting.document_measured``; then nothing is
    filed.
    """
    measured = [one for one in parts.seen if isinstance(one.found, Measurement)]
    if not measured:
        raise RefusalError("tray_without_screws", picture=parts.picture.path)
    names = list(positions[: len(measured)])
    while names and len(names) < len(measured) and names[-1]:
        names.append(next_position(names[-1]))
    if "" in names:
        raise RefusalError("tray_positions", given=len(positions), parts=len(measured))
    on_file, origin, made = series_on_file(register.path), place.country, place.made
    told = {
        one.number: identification_document(
            identify(Part(one.found), origin=origin, made=made, on_file=on_file).found, origin, made
        )
        for one in measured
        if isinstance(one.found, Measurement)
    }
    done: dict[int, tuple[Documented, str]] = {}
    with register.writing(who) as writing:
        for count, one in enumerate(measured):
            assert isinstance(one.found, Measurement)
            position = names[count] if names else None
            name = None if place.name is None else f"{place.name} {one.number}"
            # what the first one made is there for the others
            here = replace(place, position=position, name=name)
            done[one.number] = file_measured(writing, one.found, here, identification=told[one.number])
    for one in measured:
        assert isinstance(one.found, Measurement)
        uid = done[one.number][1]
        drawing.keep(register.store.folder, uid, drawing.to_bytes(drawing.drawing_of(one.found)))
    where = dict(zip((one.number for one in measured), names, strict=False))
    return tuple(
        TrayPart(
            one.number, where.get(one.number, ""), done[one.number][0] if one.number in done else None,
            one.found if isinstance(one.found, tuple) else (),
        )
        for one in parts.seen
    )  # fmt: skip
