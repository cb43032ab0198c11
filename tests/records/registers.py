"""Registers for tests, in the invented Quayside Workshop."""

from __future__ import annotations

import hashlib
import json
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any

from benchmarks.filed_parts import documents, sample_document
from records import filing
from records.register import Register, Writing, open_register
from threads.shared.plain_json import plain
from threads.standards.designation import parse
from threads.standards.limits import Limits, limits_of


@cache
def mould() -> dict[str, Any]:
    """The document of a screw that was really measured."""
    return sample_document()


def screws(count: int, seed: int = 1) -> list[tuple[Limits, dict[str, Any]]]:
    """Screws of the tables, each with its document."""
    return list(islice(documents(mould(), seed), count))


def new_register(folder: Path) -> Register:
    return open_register(folder / "parts.sqlite", create=True)


def picture_file(folder: Path, name: str = "screw.png", content: bytes = b"not a real picture") -> tuple[Path, str]:
    """A file that passes for a PNG, and its hash."""
    path = folder / name
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + content)
    return path, hashlib.sha256(path.read_bytes()).hexdigest()


def file_picture(writing: Writing, path: Path, sha256: str) -> int:
    return filing.add_picture(writing, path, sha256=sha256, width_px=640, height_px=480, thumbnail=b"\xff\xd8\xffsmall")


def identification(limits: Limits, status: str = "identified") -> dict[str, Any]:
    named = {"designation": limits.designation, "series": limits.series, "size": limits.size, "probability": 0.9}
    return {"status": status, "candidates": [{**named, "class": limits.thread_class}]}


def file_workshop(register: Register, parts: int = 6) -> list[int]:
    """Half of the parts on a marine sextant of 1938, half on a field theodolite of 1952; their ids."""
    filed = []
    with register.writing("Ada at the bench") as writing:
        sextant = filing.add_instrument(
            writing, "marine sextant", maker="Quayside Workshop", serial="4117", made=(1938, 1938), country="US"
        )
        theodolite = filing.add_instrument(writing, "field theodolite", made=(1950, 1954), country="DE")
        job = filing.add_job(writing, "overhaul", instrument=sextant)
        for number, (limits, document) in enumerate(screws(parts)):
            on_sextant = number % 2 == 0
            instrument = sextant if on_sextant else theodolite
            position = filing.add_position(writing, instrument, f"index arm {number}")
            part = filing.add_part(
                writing,
                name=f"screw {number}",
                instrument=instrument,
                position=position,
                job=job if on_sextant else None,
            )
            measurement = filing.add_measurement(writing, part, document)
            filing.add_identification(writing, measurement, identification(limits))
            filed.append(part)
    return filed


SEXTANT = ("0-80 NF-2", "2-64 NF-2", "4-40 NC-2", "5-40 NC-2", "8-32 NC-2", "10-32 NF-2", "4-40 NC-2")


def document(limits: Limits, fraction: float) -> dict[str, Any]:
    """The measurement of a screw at ``fraction`` of its zones; uncertainties are those of one that was measured."""
    of: dict[str, Any] = json.loads(json.dumps(plain(mould())))
    zones = {"major_diameter": limits.major, "pitch_diameter": limits.pitch_diameter}
    thread = of["thread"]
    for name, band in zones.items():
        assert band.low is not None
        assert band.high is not None
        thread[name]["value"] = band.low + fraction * (band.high - band.low)
    thread["virtual_pitch_diameter"]["value"] = thread["pitch_diameter"]["value"]
    thread["minor_diameter"]["value"] = thread["pitch_diameter"]["value"] - 0.62 * limits.pitch
    thread["pitch"]["value"] = thread["lead"]["value"] = limits.pitch
    thread["threads_per_inch"]["value"] = 25.4 / limits.pitch
    return of


def sextant_register(folder: Path) -> Register:
    """A sextant of seven old screws and one metric one, a part without a picture, and an empty position."""
    found = new_register(folder)
    with found.writing("Ada") as writing:
        sextant = filing.add_instrument(writing, "marine sextant", made=(1938, 1938), country="US")
        for number, designation in enumerate((*SEXTANT, "M3x0.5-6g"), 1):
            position = filing.add_position(writing, sextant, f"screw {number}")
            part = filing.add_part(writing, instrument=sextant, position=position)
            filing.add_measurement(writing, part, document(limits_of(parse(designation)), 0.8))
        filing.add_part(writing, name="lost screw", instrument=sextant)
        filing.add_position(writing, sextant, "screw 9")
        filing.add_instrument(writing, "field theodolite")
    return found
