"""SIGKILL at random moments while parts are filed: what was committed must be there, and nothing half done.

A child process files parts as fast as it can and says through a pipe which are committed; at a random moment it is
killed. Then the register is opened as the next program would, and looked through: every part that was said to be
committed is there with all its rows, no part lacks any, ``verify`` finds nothing, and no file is left over.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from benchmarks.filed_parts import PIN_U95_MM, PINS, SAMPLE, SAMPLES, sample_document
from calib.bench import calibrate_bench
from calib.file import save_calibration
from flankwise.reasons import sentence
from records import filing
from records.picture_store import file_sha256
from records.register import Register, open_register
from records.verification import verify
from vision.pictures.picture import read_picture

PICTURE_BYTES = 150_000
LONGEST_LIFE_S = 0.4
"""Of a child that files; an action takes some tens of milliseconds, so that kills fall into all its stages."""

COMMAND_LIFE_S = (0.3, 3.0)


@dataclass(frozen=True)
class KillReport:
    """What became of the register. ``complaints``: what ``verify`` said, faults and remarks alike."""

    kills: int = 0
    after_commit: int = 0
    lost: int = 0
    half_filed: int = 0
    cleared: int = 0
    complaints: tuple[str, ...] = ()

    def __add__(self, other: KillReport) -> KillReport:
        return KillReport(
            self.kills + other.kills,
            self.after_commit + other.after_commit,
            self.lost + other.lost,
            self.half_filed + other.half_filed,
            self.cleared + other.cleared,
            self.complaints + other.complaints,
        )


def kill_filing(folder: Path, kills: int, *, seed: int = 1) -> KillReport:
    """Kill ``kills`` times a process that files parts with pictures into a register in ``folder``."""
    folder.mkdir(parents=True)
    register = open_register(folder / "parts.sqlite", create=True)
    document = sample_document()
    draw = random.Random(seed)  # noqa: S311 - moments, not secrets
    report = KillReport()
    known = {_file_one(register, folder, document, "screw 0")}  # and everything is loaded when the children begin
    begun = time.perf_counter()
    known |= {_file_one(register, folder, document, "screw 1")}
    longest_s = max(LONGEST_LIFE_S, 4 * (time.perf_counter() - begun))  # some filings end on a busy machine, too
    for number in range(kills):
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(reading)
            _file_without_end(register, folder, document, number, writing)
        os.close(writing)
        committed = killed(child, reading, draw.uniform(0.0, longest_s), after_first=number % 2 == 1)
        known |= committed
        found = looked_through(folder / "parts.sqlite", known)
        report += found + KillReport(kills=1, after_commit=len(committed))
    return report


def kill_commands(folder: Path, kills: int, *, seed: int = 1) -> KillReport:
    """Kill ``kills`` times a whole ``flankwise record add``, as a person runs it."""
    if kills == 0:
        return KillReport()
    folder.mkdir(parents=True)
    calibration, register = folder / "bench.json", folder / "parts.sqlite"
    pins = [(read_picture(str(SAMPLES / name)), diameter) for name, diameter in PINS]
    save_calibration(calibrate_bench(pins=pins, pin_u95_mm=PIN_U95_MM), calibration)
    command = [
        sys.executable, "-c", "from cli.main import run; run()", "record", "add", str(SAMPLE), "--calibration",
        str(calibration), "--register", str(register), "--instrument", "marine sextant", "--made", "1938", "--json",
    ]  # fmt: skip
    root = Path(__file__).resolve().parents[1]
    draw = random.Random(seed)  # noqa: S311 - moments, not secrets
    report = KillReport()
    parts = 0
    for number in range(kills):
        place = ["--position", f"index arm {number}", "--create"]
        child = subprocess.Popen([*command, *place], cwd=root, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)  # noqa: S603
        time.sleep(draw.uniform(*COMMAND_LIFE_S))
        child.kill()
        said = child.communicate()[0]
        committed = int(b'"status": "filed"' in said)
        parts += committed
        if register.exists():
            report += looked_through(register, set(), at_least=parts)
            parts = _count(open_register(register))
        report += KillReport(kills=1, after_commit=committed)
    return report


def killed(child: int, reading: int, life_s: float, *, after_first: bool = False) -> set[int]:
    """Kill the process ``child`` after ``life_s``, or so long ``after_first`` it said that something was committed, and
    return the numbers that it had said were.
    """
    with os.fdopen(reading) as said:
        first = said.readline() if after_first else ""
        time.sleep(life_s)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return {int(line) for line in (first + said.read()).split()}


def _file_without_end(register: Register, folder: Path, document: dict[str, Any], number: int, said: int) -> None:
    """The child: it never returns."""
    try:
        count = 0
        while True:
            count += 1
            part = _file_one(register, folder, document, f"screw {number}.{count}")
            os.write(said, f"{part}\n".encode())
    finally:
        os._exit(1)


def _file_one(register: Register, folder: Path, document: dict[str, Any], name: str) -> int:
    """File one part with everything; return its id when it is committed."""
    picture = folder / f"{name}.png"
    picture.write_bytes(b"\x89PNG" + os.urandom(PICTURE_BYTES))
    with register.writing() as writing:
        part = filing.add_part(writing, name=name)
        filed = filing.add_picture(
            writing,
            picture,
            sha256=file_sha256(picture),
            width_px=400,
            height_px=300,
            thumbnail=b"\xff\xd8\xff" + os.urandom(5000),
        )
        measured = filing.add_measurement(writing, part, document, picture=filed)
        filing.add_identification(writing, measured, {"status": "no_match", "candidates": []})
        filing.add_note(writing, "filed to be killed", part=part)
    return part


def looked_through(path: Path, known: set[int], *, at_least: int = 0) -> KillReport:
    """Open the register as the next program would: what is lost of the ``known`` parts, what is half filed."""
    register = open_register(path)
    with register.reading() as connection:
        there = {part for (part,) in connection.execute("SELECT id FROM parts")}
        ((whole,),) = connection.execute(
            "SELECT count(*) FROM parts p WHERE EXISTS (SELECT 1 FROM current c JOIN measurements m "
            "ON m.id = c.measurement_id JOIN measurement_documents d ON d.measurement_id = m.id "
            "JOIN identifications i ON i.id = c.identification_id JOIN pictures k ON k.id = m.picture_id "
            "WHERE c.part_id = p.id)"
        )
    found = verify(register)
    left = [f"{path.name}" for path in register.store.incoming.glob("*")]
    return KillReport(
        lost=len(known - there) + max(at_least - len(there), 0),
        half_filed=len(there) - int(whole),
        cleared=register.cleared,
        complaints=tuple([sentence(reason) for reason in (*found.faults, *found.remarks)] + left),
    )


def _count(register: Register) -> int:
    with register.reading() as connection:
        return int(connection.execute("SELECT count(*) FROM parts").fetchone()[0])
