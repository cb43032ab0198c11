"""SIGKILL at random moments while bundles are taken in: each is there whole, or not at all."""

from __future__ import annotations

import os
import random
from pathlib import Path

from PIL import Image

from benchmarks.filed_parts import sample_document, sample_identification
from benchmarks.register_kills import LONGEST_LIFE_S, KillReport, killed, looked_through
from records import filing
from records.exchange.arrival import file_document
from records.exchange.bundle import open_bundle
from records.exchange.outgoing import write_parts
from records.picture_store import file_sha256
from records.register import open_register

BUNDLES, PARTS_IN_ONE = 12, 3
SIDE_PX = 256


def kill_imports(folder: Path, kills: int, *, seed: int = 1) -> KillReport:
    """Kill ``kills`` times a process that takes bundles into a register in ``folder``, one after the other."""
    if kills == 0:
        return KillReport()
    folder.mkdir(parents=True)
    bundles = _bundles(folder)
    draw = random.Random(seed)  # noqa: S311 - moments, not secrets
    report = KillReport()
    target, done = 0, set(range(BUNDLES))
    for _ in range(kills):
        if len(done) == BUNDLES:  # a new register, to take them in again
            target, done = target + 1, set()
            open_register(folder / f"into {target}.sqlite", create=True)
        path = folder / f"into {target}.sqlite"
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(reading)
            _take_in(path, [(n, file) for n, (file, _) in enumerate(bundles) if n not in done], writing)
        os.close(writing)
        committed = killed(child, reading, draw.uniform(0.0, 2 * LONGEST_LIFE_S))
        found = looked_through(path, set())
        there = _uids(path)
        whole = {n for n, (_, uids) in enumerate(bundles) if uids <= there}
        begun = {n for n, (_, uids) in enumerate(bundles) if uids & there}
        lost = len((done | committed) - whole) * PARTS_IN_ONE
        done = whole
        report += found + KillReport(1, len(committed), lost, len(begun - whole) * PARTS_IN_ONE)
    return report


def _bundles(folder: Path) -> list[tuple[Path, set[str]]]:
    """Bundles of parts with pictures, each with the uids of its parts; everything is loaded when they are written."""
    source = open_register(folder / "from.sqlite", create=True)
    document = sample_document()
    identification = sample_identification(document)
    made = []
    for number in range(BUNDLES):
        with source.writing() as writing:
            parts = []
            for _ in range(PARTS_IN_ONE):
                picture = folder / "picture.png"
                Image.frombytes("L", (SIDE_PX, SIDE_PX), os.urandom(SIDE_PX**2)).save(picture)
                part = filing.add_part(writing, name=f"screw of bundle {number}")
                filed = filing.add_picture(
                    writing, picture, sha256=file_sha256(picture), width_px=SIDE_PX, height_px=SIDE_PX
                )
                measured = filing.add_measurement(writing, part, document, picture=filed)
                filing.add_identification(writing, measured, identification)
                parts.append(part)
        bundle = folder / f"bundle {number}.zip"
        write_parts(source, parts, bundle)
        with source.reading() as connection:
            marks = ",".join("?" * len(parts))
            found = connection.execute(f"SELECT uid FROM parts WHERE id IN ({marks})", parts)  # noqa: S608 - marks only
            made.append((bundle, {uid for (uid,) in found}))
    warm = open_register(folder / "warm.sqlite", create=True)
    with open_bundle(made[0][0]) as opened:
        file_document(warm, opened.document, opened.extract)
    return made


def _take_in(path: Path, bundles: list[tuple[int, Path]], said: int) -> None:
    """The child: it never returns."""
    try:
        register = open_register(path)
        for number, file in bundles:
            with open_bundle(file) as opened:
                file_document(register, opened.document, opened.extract)
            os.write(said, f"{number}\n".encode())
    finally:
        os._exit(1)


def _uids(path: Path) -> set[str]:
    with open_register(path).reading() as connection:
        return {uid for (uid,) in connection.execute("SELECT uid FROM parts")}
