"""Documents that come from outside, looked at before a row is written; then filed, all of them or none."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from calib.calibration import calibration_from_dict
from flankwise.reasons import message
from records.arriving import arriving
from records.exchange.arrived import Arrived, Fetch, Ready
from records.exchange.document import KINDS, SCHEMA
from records.exchange.filing_in import file_rows
from records.faults import faults_told
from records.register import Register, Writing
from records.thumbnail import thumbnail_of
from threads.measured.measured_document import MeasurementDocumentError, possible_thread
from threads.shared.plain_json import strictly_parsed
from threads.shared.refusal import RefusalError
from vision.pictures.picture import read_picture

MOST_BYTES = 200_000_000


def parsed(content: bytes, name: str) -> Any:
    """``content`` as JSON. Raises RefusalError (document_unreadable) for anything else, a key twice included."""
    try:
        return strictly_parsed(content)
    except (ValueError, RecursionError) as error:
        raise RefusalError("document_unreadable.json", name=name, why=str(error)) from error


def read_document(path: Path, name: str) -> dict[str, Any]:
    """A document in a file of its own. Raises RefusalError: document_unreadable, too_large, and those below."""
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise RefusalError("document_unreadable", name=name, why=error.strerror) from error
    if len(content) > MOST_BYTES:
        raise RefusalError("document_too_large", name=name)
    return checked_document(parsed(content, name), name)


def checked_document(document: Any, name: str) -> dict[str, Any]:
    """``document`` if it keeps to its schema and everything it refers to is in it.

    Raises RefusalError: document_foreign, document_newer, document_invalid, reference_missing.
    """
    schema = document.get("schema") if isinstance(document, dict) else None
    if schema != SCHEMA:
        if isinstance(schema, str) and schema.startswith("flankwise/parts/"):
            raise RefusalError("document_newer", name=name)
        raise RefusalError("document_foreign", name=name)
    _check_schema(document, name)
    document = {kind.table: [] for kind in KINDS} | document  # earlier versions did not know of every kind
    uids: dict[str, set[str]] = {}
    for kind in KINDS:
        uids[kind.table] = {row["uid"] for row in document[kind.table]}
        if len(uids[kind.table]) != len(document[kind.table]):
            raise RefusalError("document_invalid.uid", name=name, table=kind.table)
        for row in document[kind.table]:
            for to, table in kind.to:
                if row.get(to) is not None and row[to] not in uids[table]:
                    raise RefusalError("reference_missing", name=name, table=kind.table, uid=row["uid"], to=to)
    _check_days(document, name)
    _check_rows(document, name)
    return dict(document)


def file_document(register: Register, document: Mapping[str, Any], fetch: Fetch) -> Arrived:
    """File the rows of a checked document that are not on file yet, in one transaction; ``fetch`` gives the pictures.

    An instrument, a job or a die whose name another one has gets a number behind it. Raises RefusalError:
    picture_refused, document_invalid, and what ``Register.writing`` raises; then nothing was filed.
    """
    arrived = Arrived()
    with faults_told(register.path), arriving(register.store.folder) as folder:
        ready = _decoded(register, document, fetch, folder, arrived)
        with register.writing() as writing:
            try:
                file_rows(_as_written(writing), document, ready, arrived)
            except (sqlite3.Error, KeyError, TypeError, ValueError, MeasurementDocumentError) as error:
                if getattr(error, "sqlite_errorcode", 0) & 0xFF not in (0, sqlite3.SQLITE_CONSTRAINT):
                    raise  # the disk, a lock: told as such
                why = " ".join(str(error).split())  # a constraint of the database is written on several lines
                raise RefusalError("document_invalid.rows", why=why) from error
    return arrived


def _decoded(
    register: Register, document: Mapping[str, Any], fetch: Fetch, folder: Path, arrived: Arrived
) -> dict[str, Ready]:
    """The pictures that are not on file yet, by their hash, decoded before anybody has to wait for the register."""
    with register.reading() as connection:
        known = {sha256 for (sha256,) in connection.execute("SELECT sha256 FROM pictures")}
    ready = {}
    for row in document["pictures"]:
        path = folder / row["sha256"]
        if row["sha256"] in known:
            continue
        if not fetch(row["sha256"], path):
            arrived.without_picture += 1
            continue
        try:
            picture = read_picture(path)
        except RefusalError as refusal:
            raise RefusalError("picture_refused", why=refusal.reasons[0]) from refusal
        small = path.with_suffix(".jpg")
        small.write_bytes(thumbnail_of(picture))
        ready[picture.sha256] = Ready(path, small, picture.width_px, picture.height_px)
    return ready


def _as_written(writing: Writing) -> Callable[[Mapping[str, Any]], Writing]:
    """The same action in the name of who wrote a row, at the time of the row."""
    return lambda row: replace(writing, who=row["who"], now=row["added"])


@cache
def _validator() -> Any:
    from jsonschema import Draft202012Validator

    schema = json.loads(Path(__file__).with_name("parts_1.schema.json").read_text("utf-8"))
    return Draft202012Validator(schema)


def _check_schema(document: Mapping[str, Any], name: str) -> None:
    try:
        error = next(_validator().iter_errors(document), None)
    except RecursionError as deep:
        raise RefusalError("document_invalid.deep", name=name) from deep
    if error is not None:
        where = "/".join(str(step) for step in error.absolute_path) or "the document"
        raise _invalid(name, where, error.message)


def _check_days(document: Mapping[str, Any], name: str) -> None:
    """Days that are in no calendar."""
    for kind in KINDS:
        for row in document[kind.table]:
            for column in ("added", "measured"):
                try:
                    datetime.fromisoformat(row.get(column, row["added"]))
                except ValueError as error:
                    raise _invalid(name, f"{kind.table} {row['uid']}", str(error)) from error


def _check_rows(document: Mapping[str, Any], name: str) -> None:
    """What no schema says: documents of measurements, hashes of calibrations, years."""
    for row in document["measurements"]:
        try:
            possible_thread(row["document"])
        except (MeasurementDocumentError, OverflowError, RecursionError) as error:
            raise _invalid(name, f"measurement {row['uid']}", message(error)) from error
    for row in document["trials"]:
        try:
            if (row["screw"] is None) == (row["document"] is None):
                raise _invalid(name, f"trial {row['uid']}", "one of screw and document has to be null")
            if row["document"] is not None:
                possible_thread(row["document"])
        except (MeasurementDocumentError, OverflowError, RecursionError) as error:
            raise _invalid(name, f"trial {row['uid']}", message(error)) from error
    for row in document["calibrations"]:
        if hashlib.sha256(row["document"].encode("utf-8", "surrogatepass")).hexdigest() != row["sha256"]:
            raise RefusalError("document_invalid.hash", name=name, uid=row["uid"])
        try:
            calibration_from_dict(parsed(row["document"].encode("utf-8", "surrogatepass"), name))
        except (KeyError, TypeError, ValueError, AttributeError, OverflowError) as error:
            raise RefusalError("document_invalid.calibration", name=name, uid=row["uid"]) from error
    for row in document["instruments"]:
        first, last = row["made_from"], row["made_to"]
        if (first is None) != (last is None) or (first is not None and first > last):
            raise RefusalError("document_invalid.years", name=name, uid=row["uid"])
    for row in document["notes"]:
        if sum(row[of] is not None for of in ("part", "instrument", "job")) != 1:
            raise RefusalError("document_invalid.note", name=name, uid=row["uid"])


def _invalid(name: str, where: str, why: str) -> RefusalError:
    return RefusalError("document_invalid", name=name, where=where[:100], why=" ".join(why.split())[:200])
