"""Adding to the register: one function a kind of row, each within ``Register.writing``, each giving back the row's id.

``uid`` may be given where the row comes from another register; otherwise a new one is made. Nothing here changes a row
that is there: see ``correction`` for that.
"""

from __future__ import annotations

import hashlib
import json
import os
import uuid
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from records import schema
from records.connection import insert, value
from records.covariance import packed
from records.register import Writing
from records.thumbnail import thumbnail_of
from threads.measured.measured_document import possible_thread
from threads.shared.file_name import plain_name
from threads.shared.plain_json import plain
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture

_KEPT = json.JSONEncoder(separators=(",", ":"), ensure_ascii=False, allow_nan=False).encode


def add_instrument(
    writing: Writing,
    name: str,
    *,
    maker: str | None = None,
    model: str | None = None,
    serial: str | None = None,
    made: tuple[int, int] | None = None,
    country: str | None = None,
    owner_note: str | None = None,
    uid: str | None = None,
) -> int:
    """An instrument under the name by which the bench knows it. ``made``: first and last year it can have been made."""
    return _add(
        writing,
        "instruments",
        uid,
        name=name,
        maker=maker,
        model=model,
        serial=serial,
        made_from=made and made[0],
        made_to=made and made[1],
        country=country,
        owner_note=owner_note,
    )


def add_job(
    writing: Writing,
    name: str,
    *,
    instrument: int | None = None,
    about: str | None = None,
    owner: str | None = None,
    uid: str | None = None,
) -> int:
    """A job: one overhaul, usually of one instrument. ``owner``: whose it is."""
    return _add(writing, "jobs", uid, name=name, instrument_id=instrument, about=about, owner=owner)


def add_position(
    writing: Writing, instrument: int, name: str, *, place: int | None = None, uid: str | None = None
) -> int:
    """A place on an instrument where a screw belongs. ``place``: its turn in lists and reports; the last if None."""
    if place is None:
        last = value(writing.connection, "SELECT max(place) FROM positions WHERE instrument_id = ?", (instrument,))
        place = (last or 0) + 1
    return _add(writing, "positions", uid, instrument_id=instrument, name=name, place=place)


def add_part(
    writing: Writing,
    *,
    name: str | None = None,
    instrument: int | None = None,
    position: int | None = None,
    job: int | None = None,
    uid: str | None = None,
) -> int:
    """A part, with or without a place of its own; its id is the number that the bench calls it by."""
    part = _add(writing, "parts", uid, name=name, instrument_id=instrument, position_id=position, job_id=job)
    writing.parts.add(part)
    return part


def add_picture(
    writing: Writing,
    path: str | os.PathLike[str],
    *,
    sha256: str,
    width_px: int,
    height_px: int,
    thumbnail: bytes | None = None,
    file_name: str | None = None,
    uid: str | None = None,
) -> int:
    """A picture file, kept untouched; the row on file where the same was filed before.

    Args:
        writing: the action.
        path: the file to be copied.
        sha256: of the file.
        width_px: after its orientation was applied.
        height_px: likewise.
        thumbnail: as ``thumbnail.thumbnail_of`` makes it.
        file_name: what it was called, if not as ``path`` says.
        uid: of the row.

    Raises RefusalError (picture_changed) or OSError, see ``PictureStore.take_in``.
    """
    known = value(writing.connection, "SELECT id FROM pictures WHERE sha256 = ?", (sha256,))
    suffix, length = writing.store.take_in(Path(path), sha256, thumbnail)  # heals one that is missing or altered
    if known is not None:
        return int(known)
    return _add(
        writing,
        "pictures",
        uid,
        sha256=sha256,
        suffix=suffix,
        file_name=file_name or plain_name(path),
        bytes=length,
        width_px=width_px,
        height_px=height_px,
    )


def add_read_picture(writing: Writing, picture: Picture) -> int:
    """As ``add_picture``, for a picture that was read to be measured; its thumbnail is made from it."""
    return add_picture(
        writing,
        picture.path,
        sha256=picture.sha256,
        width_px=picture.width_px,
        height_px=picture.height_px,
        thumbnail=thumbnail_of(picture),
    )


def show_part(writing: Writing, part: int, picture: int, *, shows: str | None = None, uid: str | None = None) -> None:
    """Say that ``picture`` shows ``part``; a second time it changes nothing."""
    query = "SELECT id FROM part_pictures WHERE part_id = ? AND picture_id = ?"
    if value(writing.connection, query, (part, picture)) is None:
        _add(writing, "part_pictures", uid, part_id=part, picture_id=picture, shows=shows)


def add_calibration(writing: Writing, document: str, *, uid: str | None = None) -> int:
    """A calibration, as the text of its file; the one on file where the same was filed before.

    The text has been checked by ``calib.file.load_calibration``. Raises ValueError, KeyError for other text.
    """
    sha256 = hashlib.sha256(document.encode()).hexdigest()
    known = value(writing.connection, "SELECT id FROM calibrations WHERE sha256 = ?", (sha256,))
    if known is not None:
        return int(known)
    return _add(
        writing, "calibrations", uid, calibration=str(json.loads(document)["id"]), sha256=sha256, document=document
    )


def add_measurement(
    writing: Writing,
    part: int,
    document: Mapping[str, Any],
    *,
    picture: int | None = None,
    calibration: int | None = None,
    measured: str | None = None,
    version: str | None = None,
    uid: str | None = None,
) -> int:
    """A measurement of ``part``. Earlier ones stay; the latest by ``measured`` is the one that counts.

    Args:
        writing: the action.
        part: id of the part.
        document: the object of ``measure --json`` (``Measurement.to_dict``).
        picture: id of the picture it was measured in; None where that is not on file.
        calibration: id of the calibration behind it; None where that is not on file.
        measured: when, UTC; now if None.
        version: of the program that measured; this one's if None.
        uid: of the row.

    Raises:
        threads.measured.measured_document.MeasurementDocumentError: ``document`` is not such an object.
    """
    thread = possible_thread(document)
    numbers: dict[str, float] = {}
    for name in schema.QUANTITIES:
        quantity = getattr(thread, name)
        numbers[name], numbers[f"{name}_u95"] = float(quantity.value), float(quantity.u95)
    measurement = _add(
        writing,
        "measurements",
        uid,
        part_id=part,
        picture_id=picture,
        calibration_id=calibration,
        measured=measured or writing.now,
        version=version or program_version(),
        internal=int(thread.internal),
        covariance=packed(thread.covariance),
        **numbers,
    )
    values = {"measurement_id": measurement, "document": document_text(document)}
    insert(writing.connection, "measurement_documents", values)
    if picture is not None:
        show_part(writing, part, picture)
    writing.parts.add(part)
    return measurement


def add_identification(
    writing: Writing, measurement: int, document: Mapping[str, Any], *, uid: str | None = None
) -> int:
    """An identification of a measured part: the object of ``identify --json``, kept without the measurement in it.

    ``says`` in it is the answer in a few words (``threads.identify.identity_words.short_words``), ``given`` the
    evidence.
    """
    best = document["candidates"][0] if document["candidates"] and document["status"] != "no_match" else {}
    added = _add(
        writing,
        "identifications",
        uid,
        measurement_id=measurement,
        status=document["status"],
        says=document.get("says") or best.get("designation") or "no series",
        designation=best.get("designation"),
        series=best.get("series"),
        size=best.get("size"),
        thread_class=best.get("class"),
        probability=best.get("probability"),
        document=document_text({key: value for key, value in document.items() if key != "measurement"}),
    )
    writing.parts.add(_part_of(writing, measurement))
    return added


def add_check(writing: Writing, measurement: int, document: Mapping[str, Any], *, uid: str | None = None) -> int:
    """A check of a measured part: the object of ``check --json``, kept without the measurement in it."""
    kept = {key: value for key, value in document.items() if key != "measurement"}
    return _add(
        writing,
        "checks",
        uid,
        measurement_id=measurement,
        against=str(document["against"]),
        verdict=str(document["verdict"]),
        document=document_text(kept),
    )


def add_die(
    writing: Writing,
    name: str,
    *,
    kind: str = "die",
    cuts: str | None = None,
    remark: str | None = None,
    uid: str | None = None,
) -> int:
    """A die or tap (``kind``) of the workshop. ``name``: as it is engraved or labelled; ``cuts``: its thread."""
    return _add(writing, "dies", uid, name=name, kind=kind, cuts=cuts, remark=remark)


def add_replacement(
    writing: Writing,
    part: int,
    *,
    made: str | None = None,
    die: str | None = None,
    setting: str | None = None,
    stock: str | None = None,
    remark: str | None = None,
    made_part: int | None = None,
    cut_by: int | None = None,
    uid: str | None = None,
) -> int:
    """A replacement made for ``part``: with which die, at which setting, from which stock.

    ``made_part``: the new screw itself, where it is on file; ``cut_by``: likewise the die; ``made``: the day, today if
    None.
    """
    writing.parts.add(part)
    return _add(
        writing,
        "replacements",
        uid,
        part_id=part,
        made_part_id=made_part,
        cut_by_id=cut_by,
        made=made or writing.now[:10],
        die=die,
        setting=setting,
        stock=stock,
        remark=remark,
    )


def add_note(
    writing: Writing,
    text: str,
    *,
    part: int | None = None,
    instrument: int | None = None,
    job: int | None = None,
    uid: str | None = None,
) -> int:
    """A note on exactly one of a part, an instrument, a job."""
    if part is not None:
        writing.parts.add(part)
    return _add(writing, "notes", uid, part_id=part, instrument_id=instrument, job_id=job, text=text)


def add_hole(
    writing: Writing,
    part: int,
    thread: str,
    *,
    engagement: float,
    depth: float | None = None,
    uid: str | None = None,
) -> int:
    """Say that ``part`` is a tapped hole of ``thread``. ``engagement``: over which screws engage; ``depth``; mm."""
    writing.parts.add(part)
    return _add(writing, "holes", uid, part_id=part, thread=thread, engagement=engagement, depth=depth)


def add_trial(
    writing: Writing,
    hole: int,
    *,
    outcome: str,
    screw: int | None = None,
    name: str | None = None,
    document: Mapping[str, Any] | None = None,
    turns: float | None = None,
    movement: float | None = None,
    movement_u95: float | None = None,
    overhang: float | None = None,
    remark: str | None = None,
    tried: str | None = None,
    uid: str | None = None,
) -> int:
    """A screw tried in a hole; lengths in mm.

    Args:
        writing: the action.
        hole: id of the row in ``holes``.
        outcome: ``went_in``, ``stopped`` or ``moved``.
        screw: id of the part, where the screw is on file; else
        name: what it is called, and
        document: the object of ``measure --json``.
        turns: after how many it stopped.
        movement: whole travel from side to side, with
        movement_u95: its U95, and
        overhang: from the mouth of the hole to where it was read.
        remark: in words.
        tried: the day; today if None.
        uid: of the row.
    """
    part = value(writing.connection, "SELECT part_id FROM holes WHERE id = ?", (hole,))
    writing.parts.add(int(part))
    return _add(
        writing,
        "trials",
        uid,
        hole_id=hole,
        screw_id=screw,
        name=name,
        document=None if document is None else document_text(document),
        tried=tried or writing.now[:10],
        outcome=outcome,
        turns=turns,
        movement=movement,
        movement_u95=movement_u95,
        overhang=overhang,
        remark=remark,
    )


def add_map_mark(
    writing: Writing, position: int, picture: int, across: float, down: float, *, uid: str | None = None
) -> int:
    """Where a position lies in a picture of the instrument: shares of its width and height from the upper left corner.

    The latest mark of a position that was not withdrawn counts.
    """
    return _add(
        writing, "map_marks", uid, position_id=position, picture_id=picture, across=float(across), down=float(down)
    )


def refuse_long(values: Mapping[str, object]) -> None:
    """Raise RefusalError (text_too_long) for a text that could not be taken in elsewhere."""
    for column, text in values.items():
        most = schema.most_characters(column)
        if isinstance(text, str) and most is not None and len(text) > most:
            raise RefusalError("text_too_long", column=column.replace("_", " "), count=len(text), most=most)


def document_text(document: Mapping[str, Any]) -> str:
    """A document as it is kept: JSON without spaces, a number that is not finite as null."""
    try:
        return _KEPT(document)
    except (TypeError, ValueError, RecursionError):  # numpy's numbers, or one that is not finite
        return _KEPT(plain(document))


@cache
def program_version() -> str:
    """The version of this program."""
    from importlib import metadata

    return metadata.version("flankwise")


def _part_of(writing: Writing, measurement: int) -> int:
    return int(value(writing.connection, "SELECT part_id FROM measurements WHERE id = ?", (measurement,)))


def _add(writing: Writing, table: str, uid: str | None, **values: object) -> int:
    signed = {"uid": uid or str(uuid.uuid4()), "added": writing.now, "who": writing.who, **values}
    refuse_long(signed)
    return insert(writing.connection, table, signed)
