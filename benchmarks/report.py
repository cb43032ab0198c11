"""How long does it take to print a job?

    python -m benchmarks.report [--parts 500] [--runs 1]

Files that many parts of one job in a new register, each with its photograph (copies of the thread pictures in
``sample_images``, measured once each), and runs the whole command ``flankwise record report``, start of interpreter
and processes included: as it is given after filing, and once as HTML. Printed are the time on the clock, the
processor time of all processes together, and the memory of the largest. Exit code 1 where 500 parts would take over
20 s of the processor, or one process over 200 MB.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import cycle, islice
from pathlib import Path

from records.documenting import Place, document_measured, identification_document
from records.register import Register, open_register
from threads.identify.identification import identify
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

SAMPLES = Path(__file__).resolve().parents[1] / "sample_images"
JOB = "overhaul"
MOST_S_A_PART = 20.0 / 500
MOST_MB = 200.0


def register_of(parts: int, folder: Path) -> Register:
    """A register with one job of so many parts, every one with a picture file of its own."""
    register = open_register(folder / "parts.sqlite", create=True)
    measured = []
    for source in sorted(SAMPLES.glob("sextant_*screw*.png")):
        found = measure_picture(read_picture(source), FixedScale(4.0))
        identity = identify(found.thread, origin="US", made=(1938, 1938))
        measured.append((found, identification_document(identity, origin="US", made=(1938, 1938))))
    for number, (found, document) in enumerate(islice(cycle(measured), parts), 1):
        place = Place(
            instrument="marine sextant", made=(1938, 1938), country="US", job=JOB, position=f"index arm {number}"
        )
        own = _of_its_own(found, folder / f"{number}.png", number)
        document_measured(register, own, place, identification=document)
    return register


def _of_its_own(found: Measurement, path: Path, number: int) -> Measurement:
    """The measurement with a copy of its picture that no other part has."""
    shutil.copyfile(found.picture.path, path)
    with path.open("ab") as file:
        file.write(str(number).encode())  # behind the end of a PNG, where no reader looks
    return replace(found, picture=read_picture(path))


@dataclass(frozen=True)
class Run:
    """What a command took: seconds on the clock and of the processor, and MB of its largest process."""

    seconds: float
    processor_s: float
    memory_mb: float


_MEASURED = """
import resource, subprocess, sys, time
started = time.perf_counter()
done = subprocess.run(sys.argv[1:], check=True, capture_output=True, text=True)
seconds, used = time.perf_counter() - started, resource.getrusage(resource.RUSAGE_CHILDREN)
print(seconds, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, done.stdout)
"""
"""In a process of its own: what it starts is said to have been as large as itself, and the benchmark is larger."""


def run(register: Register, target: Path) -> Run:
    """Run the whole command."""
    command = [sys.executable, "-c", "from cli.main import run; run()", "record", "report", JOB, "-o", str(target)]
    command += ["--register", str(register.path), "--json"]
    done = subprocess.run(  # noqa: S603
        [sys.executable, "-c", _MEASURED, *command], check=True, capture_output=True, text=True
    )
    seconds, processor, memory, answer = done.stdout.split(" ", 3)
    if json.loads(answer)["status"] != "written":
        raise SystemExit(answer)
    return Run(float(seconds), float(processor), float(memory))


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the benchmark; 0 where the promise was kept."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--parts", type=int, default=500)
    parser.add_argument("--runs", type=int, default=1)
    given = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as place:
        register = register_of(given.parts, Path(place))
        print(f"{given.parts} parts; {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}")
        best = {}
        for kind in ("pdf", "html"):
            target = Path(place) / f"job.{kind}"
            best[kind] = one = min((run(register, target) for _ in range(given.runs)), key=lambda one: one.processor_s)
            print(
                f"  {kind.upper():4} {one.seconds:6.1f} s on the clock, {one.processor_s:6.1f} s of the processor,"
                f" {one.memory_mb:4.0f} MB, file {target.stat().st_size / 1e6:5.1f} MB"
            )
    pdf = best["pdf"]
    return 0 if pdf.processor_s <= MOST_S_A_PART * given.parts and pdf.memory_mb <= MOST_MB else 1


if __name__ == "__main__":
    sys.exit(main())
