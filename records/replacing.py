"""Filing a replacement: what it was made with, and the new screw itself where its picture was measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from records import filing
from records.connection import value
from records.documenting import Place, document_measured
from records.lookup import die_called, known_part

if TYPE_CHECKING:
    from flankwise.bench import Bench
    from records.register import Register, Writing
    from vision.result.measurement import Measurement


@dataclass(frozen=True)
class Replaced:
    """What was filed: ids. ``made_part``: the new screw; ``die``: None where no die of that name is on file."""

    replacement: int
    made_part: int | None
    die: int | None


def file_replacement(
    register: Register,
    part: int,
    *,
    measurement: Measurement | None = None,
    made_part: int | None = None,
    die: str | None = None,
    setting: str | None = None,
    stock: str | None = None,
    made: str | None = None,
    remark: str | None = None,
    who: str | None = None,
) -> Replaced:
    """File a replacement made for ``part``; with ``measurement`` the new screw becomes a part of its own.

    It belongs to no instrument, so that it is not judged among the maker's screws. Raises RefusalError
    (no_part_on_file); nothing is filed then.
    """
    done: list[Replaced] = []

    def add(writing: Writing, new: int | None) -> None:
        known_part(writing.connection, part)
        if new is not None:
            known_part(writing.connection, new)
        cut_by = None if die is None else die_called(writing.connection, die)
        if cut_by is not None and value(writing.connection, "SELECT withdrawn FROM dies WHERE id = ?", (cut_by,)):
            cut_by = None  # its name stays in the words
        added = filing.add_replacement(
            writing, part, made=made, die=die, setting=setting, stock=stock, remark=remark, made_part=new, cut_by=cut_by
        )
        done.append(Replaced(added, new, cut_by))

    if measurement is None:
        with register.writing(who) as writing:
            add(writing, made_part)
    else:
        document_measured(register, measurement, Place(name=f"replacement for part {part}"), who=who, also=add)
    return done[0]


def bench_of_part(register: Register, part: int) -> Bench | None:
    """The bench that the measurement of ``part`` was made on; None where it is not on file.

    Raises RefusalError: no_part_on_file, not_measured.
    """
    from flankwise.bench import bench_of
    from records.measured_again import filed_plane
    from records.reading import calibration_text, measurement_of

    with register.reading() as connection:
        measurement = measurement_of(connection, part)
        known = measurement.calibration
        calibration = None if known is None else calibration_text(connection, known)
    try:
        return bench_of(filed_plane(measurement.document, calibration))
    except (ValueError, KeyError, TypeError):
        return None
