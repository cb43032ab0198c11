"""``flankwise record correct``: set right what was written down wrong; what it was before stays on file."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.errors import CommandLineError
from cli.lengths import parse_length
from cli.output import show, write_json
from cli.register import RegisterFile, Who, opened, part_number
from flankwise.reasons import message

if TYPE_CHECKING:
    from records.register import Writing

FIELDS: dict[str, tuple[str, ...]] = {
    "part": ("name", "instrument", "position", "job", "withdrawn"),
    "instrument": ("name", "maker", "model", "serial", "made", "country", "owner-note"),
    "job": ("name", "instrument", "about", "owner"),
    "position": ("name", "place"),
    "measurement": ("withdrawn",),
    "die": ("name", "cuts", "remark", "withdrawn"),
    "replacement": ("made-part", "cut-by", "made", "die", "setting", "stock", "remark", "withdrawn"),
    "note": ("text", "withdrawn"),
    "hole": ("engagement", "depth"),
    "trial": ("remark", "withdrawn"),
}
"""What can be corrected, by its name on the command line."""

_NEVER_EMPTY = frozenset({"withdrawn", "place", "text", "engagement"})


def correct(
    what: Annotated[str, typer.Argument(metavar="WHAT", help="part, instrument, job, position, measurement, die, ...")],
    which: Annotated[str, typer.Argument(metavar="WHICH", help="Its number or name; 'INSTRUMENT: POSITION'.")],
    changes: Annotated[
        list[str], typer.Argument(metavar="FIELD=VALUE", help="name='index arm screw', withdrawn=yes, made=1938, ...")
    ],
    why: Annotated[str | None, typer.Option("--why", metavar="TEXT", help="Why it is corrected.")] = None,
    register: RegisterFile = None,
    who: Who = None,
    as_json: options.Json = False,
) -> None:
    """Correct what is on file. The value before, who changed it, when and why are kept.

    Measured numbers are never changed: withdraw a measurement with withdrawn=yes, and measure again.
    """
    if what not in FIELDS:
        raise CommandLineError(f"{what!r} cannot be corrected: one of {', '.join(FIELDS)} can")
    wanted = _changes(what, changes)
    from cli.refusals import refusals_reported
    from records import correction

    with refusals_reported(as_json=as_json):
        file = opened(register)
        with file.writing(who) as writing:
            row = _row(writing, what, which)
            columns = _columns(writing, what, row, wanted)
            done = correction.correct(writing, f"{what}s", row, columns, why=why)
    if as_json:
        write_json({"schema": "flankwise/correction/1", "status": "corrected" if done else "unchanged", "what": what,
                    "id": row, "corrections": done})  # fmt: skip
    else:
        show(f"{what} {row}: {len(done)} corrected" if done else f"{what} {row} says so already")


def _changes(what: str, changes: list[str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for text in changes:
        field, equals, value = text.partition("=")
        field = field.strip().lower().replace("_", "-")
        if not equals or field not in FIELDS[what]:
            raise CommandLineError(f"{text!r}: write FIELD=VALUE; of a {what}, {', '.join(FIELDS[what])} can change")
        if field in found:
            raise CommandLineError(f"{field} was given twice")
        if not value.strip() and (field in _NEVER_EMPTY or (field == "name" and what != "part")):
            raise CommandLineError(f"{field} cannot be empty")
        found[field] = value.strip()
    return found


def _row(writing: Writing, what: str, which: str) -> int:
    """The id of the row meant. Raises RefusalError where it is not on file."""
    from records import lookup

    if what == "instrument":
        return lookup.known_instrument(writing.connection, which)
    if what == "job":
        return lookup.known_job(writing.connection, which)
    if what == "die":
        return lookup.known_die(writing.connection, which)
    if what == "position":
        instrument, colon, position = which.rpartition(":")
        if not colon:
            raise CommandLineError(f"{which!r}: write the instrument before the position, 'marine sextant: arm 3'")
        owner = lookup.known_instrument(writing.connection, instrument)
        return lookup.known_position(writing.connection, owner, position)
    number = part_number(which)
    if what == "part":
        lookup.known_part(writing.connection, number)
    if what == "hole":  # by the number of its part
        from records.holes import hole_of
        from records.reading import read_part

        return hole_of(read_part(writing.connection, number)).id
    return number  # that of a row which is not there is refused by records.correction


def _columns(writing: Writing, what: str, row: int, wanted: dict[str, str]) -> dict[str, str | float | None]:
    """Columns and values of what was typed, names turned into the ids of what they name."""
    columns: dict[str, str | float | None] = {}
    readers: dict[str, Callable[[str], dict[str, str | float | None]]] = {
        "withdrawn": lambda text: {"withdrawn": _yes_or_no(text)},
        "made": lambda text: _made(what, text),
        "country": lambda text: {"country": _country(text)},
        "place": lambda text: {"place": _whole(text, "place")},
        "instrument": lambda text: _instrument(writing, what, text),
        "job": lambda text: {"job_id": _job(writing, text)},
        "engagement": lambda text: {"engagement": parse_length(text, "engagement")},
        "depth": lambda text: {"depth": parse_length(text, "depth") if text else None},
        "made-part": lambda text: {"made_part_id": _known_part(writing, text)},
        "cut-by": lambda text: {"cut_by_id": _known_die(writing, text)},
        "cuts": lambda text: {"cuts": _thread(text)},
    }
    for field, text in wanted.items():
        if field == "position":
            continue
        reader = readers.get(field)
        columns |= reader(text) if reader else {field.replace("-", "_"): text or None}
    if "position" in wanted:  # last: it is looked for on the instrument that the part shall have
        columns["position_id"] = _position(writing, row, columns, wanted["position"])
    if what in {"instrument", "job", "position", "die"} and "name" in columns:
        from records.lookup import check_name_free

        check_name_free(writing.connection, f"{what}s", row, str(columns["name"]))
    return columns


def _instrument(writing: Writing, what: str, text: str) -> dict[str, str | float | None]:
    from records import lookup

    instrument = lookup.known_instrument(writing.connection, text) if text else None
    # a part that moves to another instrument leaves its position there behind
    columns: dict[str, str | float | None] = {"instrument_id": instrument}
    return columns | ({"position_id": None} if what == "part" else {})


def _position(writing: Writing, part: int, columns: dict[str, Any], text: str) -> int | None:
    from records import lookup

    if not text:
        return None
    instrument = columns.get("instrument_id")
    if "instrument_id" not in columns:
        instrument = lookup.instrument_of_part(writing.connection, part)
    if instrument is None:
        raise CommandLineError("the part is on no instrument: give instrument=NAME as well")
    return lookup.known_position(writing.connection, int(instrument), text)


def _job(writing: Writing, text: str) -> int | None:
    from records import lookup

    return lookup.known_job(writing.connection, text) if text else None


def _known_part(writing: Writing, text: str) -> int | None:
    from records import lookup

    return lookup.known_part(writing.connection, part_number(text)) if text else None


def _known_die(writing: Writing, text: str) -> int | None:
    from records import lookup

    return lookup.known_die(writing.connection, text) if text else None


def _thread(text: str) -> str | None:
    from cli.record.die import thread_typed

    return thread_typed(text, "cuts") if text else None


def _made(what: str, text: str) -> dict[str, str | float | None]:
    if what == "replacement":
        from cli.record.note import parse_day

        return {"made": parse_day(text, "made")}
    from cli.years import parse_made

    first, last = parse_made(text) if text else (None, None)
    return {"made_from": first, "made_to": last}


def _country(text: str) -> str | None:
    from threads.identify.provenance import UnknownOriginError, country_code

    try:
        return country_code(text) if text else None
    except UnknownOriginError as error:
        raise CommandLineError(f"country: {message(error)}") from error


def _yes_or_no(text: str) -> int:
    if text.lower() not in {"yes", "no"}:
        raise CommandLineError(f"withdrawn={text}: write yes or no")
    return int(text.lower() == "yes")


def _whole(text: str, what: str) -> int:
    if not (text.isascii() and text.isdecimal()) or len(text) > 9:
        raise CommandLineError(f"{what}={text}: write a whole number")
    return int(text)
