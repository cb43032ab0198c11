"""How much faster is a folder measured by two processes than by one, and does the memory stay where it is?

    python -m benchmarks.batch [--pictures 96] [--many 400] [--runs 2]

Copies of the thread pictures in ``sample_images`` are measured by whole commands ``flankwise batch``, with one process
and with two in turns; start of interpreter and processes included. The best times are compared: whatever else runs on
the machine can only take time away, and how many cores it took meanwhile stands beside the figures. Then ``--many``
pictures are measured by two processes while the memory of all of them together is looked at again and again. Exit code
1 where two processes are less than 1.7 times as fast, or where the memory of the last third is more than a tenth above
that of the middle one.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import cycle, islice
from pathlib import Path
from statistics import median

SAMPLES = Path(__file__).resolve().parents[1] / "sample_images"
LEAST_SPEED_UP = 1.7
MOST_GROWTH = 1.10
LOOK_EVERY_S = 0.25


def folder_of(pictures: int, place: Path) -> Path:
    """A folder with so many pictures of threads."""
    place.mkdir()
    for number, source in enumerate(islice(cycle(sorted(SAMPLES.glob("sextant_*screw*.png"))), pictures)):
        shutil.copyfile(source, place / f"{number:05d}.png")
    return place


@dataclass(frozen=True, order=True)
class Run:
    """Seconds that a whole command took, processor seconds that it used, and cores that others had meanwhile."""

    seconds: float
    used: float
    others: float


def run(folder: Path, jobs: int, watch: list[float] | None = None) -> Run:
    """Run the whole command; into ``watch`` the memory of all its processes, MiB, as time goes on."""
    results = folder.parent / "results.csv"
    results.unlink(missing_ok=True)
    command = [
        sys.executable, "-c", "from cli.main import run; run()", "batch", str(folder), "--scale", "4um", "--jobs",
        str(jobs), "-o", str(results),
    ]  # fmt: skip
    started, busy, own = time.perf_counter(), _busy_s(), _children_s()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:  # noqa: S603
        while process.poll() is None:
            time.sleep(LOOK_EVERY_S if watch is not None else 0.02)
            if watch is not None:
                watch.append(memory_of(process.pid))
    seconds = time.perf_counter() - started
    rows = results.read_text("utf-8").count("\n") - 1
    if process.returncode or rows != len(list(folder.iterdir())):
        raise SystemExit(f"the command ended with {process.returncode} and {rows} rows")
    used = _children_s() - own
    return Run(seconds, used, max(_busy_s() - busy - used, 0.0) / seconds)


def _busy_s() -> float:
    """Seconds that all cores together have worked, since the machine was started (Linux; elsewhere 0)."""
    try:
        user, nice, system, _idle, _wait, *interrupts = (
            Path("/proc/stat").read_text("ascii").splitlines()[0].split()[1:9]
        )
    except OSError:
        return 0.0
    return sum(map(int, (user, nice, system, *interrupts))) / os.sysconf("SC_CLK_TCK")


def _children_s() -> float:
    times = os.times()
    return times.children_user + times.children_system


def memory_of(pid: int) -> float:
    """MiB that the process ``pid`` and all below it hold, what they share counted once (Linux: PSS)."""
    total, waiting = 0.0, [pid]
    while waiting:
        one = waiting.pop()
        try:
            for line in Path(f"/proc/{one}/smaps_rollup").read_text("ascii").splitlines():
                if line.startswith("Pss:"):
                    total += int(line.split()[1]) / 1024
            for thread in Path(f"/proc/{one}/task").iterdir():
                waiting += [int(child) for child in (thread / "children").read_text("ascii").split()]
        except OSError:
            continue
    return total


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the benchmark; 0 where the promises were kept."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pictures", type=int, default=96)
    parser.add_argument("--many", type=int, default=400, help="0: do not look at the memory")
    parser.add_argument("--runs", type=int, default=2)
    given = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as place:
        folder = folder_of(given.pictures, Path(place) / "some")
        times: dict[int, list[Run]] = {1: [], 2: []}
        for _ in range(given.runs):
            for jobs, runs in times.items():
                runs.append(run(folder, jobs))
        best = {jobs: min(runs) for jobs, runs in times.items()}
        speed_up = best[1].seconds / best[2].seconds
        print(f"{given.pictures} pictures, best of {given.runs}; {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}")
        for jobs, quickest in best.items():
            rate = given.pictures / quickest.seconds
            shared = f"{quickest.used:6.1f} s of the processor, others had {quickest.others:.2f} cores"
            words = f"{jobs} process{'es' if jobs > 1 else '  '}  {quickest.seconds:6.1f} s"
            print(f"  {words}   {rate:5.2f} pictures a second   {shared}")
        print(f"  speed-up    {speed_up:6.2f}     (at least {LEAST_SPEED_UP})")
        kept = speed_up >= LEAST_SPEED_UP
        if given.many:
            kept = _memory_stays(folder_of(given.many, Path(place) / "many")) and kept
    return 0 if kept else 1


def _memory_stays(folder: Path) -> bool:
    seen: list[float] = []
    run(folder, 2, seen)
    third = len(seen) // 3
    middle, last = median(seen[third : 2 * third]), median(seen[2 * third :])
    print(f"{len(list(folder.iterdir()))} pictures, memory of all processes together")
    print(f"  {middle:.0f} MiB in the middle third, {last:.0f} MiB in the last, {max(seen):.0f} MiB at most")
    print(f"  growth      {last / middle:6.2f}     (at most {MOST_GROWTH})")
    return last <= MOST_GROWTH * middle


if __name__ == "__main__":
    sys.exit(main())
