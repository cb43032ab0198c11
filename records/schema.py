"""The tables of the parts register, as SQLAlchemy sees them, and what marks a file as a register.

The tables are made by ``records/migrations``; a test holds the two together. Every row that another workshop may
receive has a ``uid`` of its own, so that registers can be joined without clashes; ``id`` is good in one register only.
Rows of measurements, identifications, checks, pictures and calibrations are never changed (triggers see to it): a new
result is a new row. What can be set right (``CORRECTABLE``) keeps the value before, who and when in ``corrections``.
Times are UTC, ISO 8601, to the millisecond. Lengths are mm, angles degrees.
"""

from __future__ import annotations

from sqlalchemy import Column, Float, ForeignKey, Integer, LargeBinary, MetaData, Table, Text

METADATA = MetaData()


def _id() -> Column[int]:
    return Column("id", Integer, primary_key=True)


def _signed() -> tuple[Column[str], Column[str], Column[str]]:
    """The columns that say which row it is wherever it goes, when it was written, and by whom."""
    return (
        Column("uid", Text, nullable=False, unique=True),
        Column("added", Text, nullable=False),
        Column("who", Text, nullable=False),
    )


def _to(table: str, *, nullable: bool = False, name: str | None = None) -> Column[int]:
    return Column(name or f"{table.removesuffix('s')}_id", Integer, ForeignKey(f"{table}.id"), nullable=nullable)


def _withdrawn() -> Column[int]:
    return Column("withdrawn", Integer, nullable=False, server_default="0")


INSTRUMENTS = Table(
    "instruments",
    METADATA,
    _id(),
    *_signed(),
    Column("name", Text, nullable=False),  # what the bench calls it; unique without regard to case
    Column("maker", Text),
    Column("model", Text),
    Column("serial", Text),
    Column("made_from", Integer),  # first and last year in which it can have been made
    Column("made_to", Integer),
    Column("country", Text),  # ISO 3166 alpha-2
    Column("owner_note", Text),
)

JOBS = Table(
    "jobs",
    METADATA,
    _id(),
    *_signed(),
    Column("name", Text, nullable=False),
    _to("instruments", nullable=True),
    Column("about", Text),
)

POSITIONS = Table(
    "positions",
    METADATA,
    _id(),
    *_signed(),
    _to("instruments"),
    Column("name", Text, nullable=False),
    Column("place", Integer, nullable=False),  # the order in which the report goes round the instrument
)

PARTS = Table(
    "parts",
    METADATA,
    _id(),
    *_signed(),
    Column("name", Text),
    _to("instruments", nullable=True),
    _to("positions", nullable=True),
    _to("jobs", nullable=True),
    _withdrawn(),
)

PICTURES = Table(
    "pictures",
    METADATA,
    _id(),
    *_signed(),
    Column("sha256", Text, nullable=False, unique=True),
    Column("suffix", Text, nullable=False),  # of the file in the picture folder: ".png"
    Column("file_name", Text, nullable=False),  # as it was called where it came from, without folders
    Column("bytes", Integer, nullable=False),
    Column("width_px", Integer, nullable=False),
    Column("height_px", Integer, nullable=False),
)

PART_PICTURES = Table(
    "part_pictures",
    METADATA,
    _id(),
    *_signed(),
    _to("parts"),
    _to("pictures"),
    Column("shows", Text),  # "thread", "head", "whole part": free words
)

CALIBRATIONS = Table(
    "calibrations",
    METADATA,
    _id(),
    *_signed(),
    Column("calibration", Text, nullable=False),  # the id that stands in the calibration file
    Column("sha256", Text, nullable=False, unique=True),  # of ``document``
    Column("document", Text, nullable=False),  # the calibration file, as read
)

QUANTITIES = (
    "pitch", "major_diameter", "pitch_diameter", "minor_diameter", "virtual_pitch_diameter",
    "flank_angle_left", "flank_angle_right", "included_angle",
)  # fmt: skip
"""Quantities of a measurement with columns of their own: ``NAME`` and ``NAME_u95``."""

MEASUREMENTS = Table(
    "measurements",
    METADATA,
    _id(),
    *_signed(),
    _to("parts"),
    _to("pictures", nullable=True),
    _to("calibrations", nullable=True),
    Column("measured", Text, nullable=False),
    Column("version", Text, nullable=False),  # of the program that measured
    Column("internal", Integer, nullable=False, server_default="0"),  # 1: a hole, from its cast
    *(column for name in QUANTITIES for column in (Column(name, Float), Column(f"{name}_u95", Float))),
    Column("covariance", LargeBinary),  # see records.covariance
    _withdrawn(),
)

MEASUREMENT_DOCUMENTS = Table(
    "measurement_documents",
    METADATA,
    Column("measurement_id", Integer, ForeignKey("measurements.id"), primary_key=True),
    Column("document", Text, nullable=False),  # the object of ``measure --json``
)
"""Apart from the numbers, so that looking through ten thousand of these does not read ten thousand documents."""

IDENTIFICATIONS = Table(
    "identifications",
    METADATA,
    _id(),
    *_signed(),
    _to("measurements"),
    Column("status", Text, nullable=False),
    Column("says", Text, nullable=False),  # the answer in a few words, for lists and labels
    Column("designation", Text),  # of the most probable candidate, None where none fits
    Column("series", Text),
    Column("size", Text),
    Column("thread_class", Text),
    Column("probability", Float),
    Column("document", Text, nullable=False),  # ``identify --json`` without its measurement, and the evidence given
)

CHECKS = Table(
    "checks",
    METADATA,
    _id(),
    *_signed(),
    _to("measurements"),
    Column("against", Text, nullable=False),
    Column("verdict", Text, nullable=False),
    Column("document", Text, nullable=False),  # ``check --json`` without its measurement
)

CURRENT = Table(
    "current",
    METADATA,
    Column("part_id", Integer, ForeignKey("parts.id"), primary_key=True),
    _to("measurements", nullable=True),
    _to("identifications", nullable=True),
)
"""What follows from other rows (``records.derived``): the measurement of a part that counts, and its identification."""

REPLACEMENTS = Table(
    "replacements",
    METADATA,
    _id(),
    *_signed(),
    _to("parts"),
    _to("parts", nullable=True, name="made_part_id"),  # the new screw, where it is on file as a part of its own
    Column("made", Text, nullable=False),  # day or time
    Column("die", Text),
    Column("setting", Text),
    Column("stock", Text),
    Column("remark", Text),
    _withdrawn(),
)

NOTES = Table(
    "notes",
    METADATA,
    _id(),
    *_signed(),
    _to("parts", nullable=True),  # of exactly one of these three
    _to("instruments", nullable=True),
    _to("jobs", nullable=True),
    Column("text", Text, nullable=False),
    _withdrawn(),
)

CORRECTIONS = Table(
    "corrections",
    METADATA,
    _id(),
    *_signed(),
    Column("table_name", Text, nullable=False),
    Column("row_uid", Text, nullable=False),
    Column("column_name", Text, nullable=False),
    Column("before", Text),  # as JSON: "\"Quayside\"", 1936, null
    Column("after", Text),
    Column("why", Text),
)

CORRECTABLE: dict[str, tuple[str, ...]] = {
    "instruments": ("name", "maker", "model", "serial", "made_from", "made_to", "country", "owner_note"),
    "jobs": ("name", "instrument_id", "about"),
    "positions": ("name", "place"),
    "parts": ("name", "instrument_id", "position_id", "job_id", "withdrawn"),
    "measurements": ("withdrawn",),
    "replacements": ("made_part_id", "made", "die", "setting", "stock", "remark", "withdrawn"),
    "notes": ("text", "withdrawn"),
}
"""What ``records.correction`` may change, each change noted; everything else stays as written."""
