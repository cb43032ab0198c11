"""Run a harness for as many cases as there is time for.

    python -m tests.fuzz.run pictures --cases 100000 [--seed 1] [--guided]

Plain: random recipes, the same for the same seed. ``--guided``: by coverage, with atheris (the extra ``fuzz``). A case
that ends in any other way than it should, takes over 5 s, or needs over 1 GB ends the run with exit code 1; its recipe
is kept as a file, and ``--again FILE`` runs it once more.
"""

from __future__ import annotations

import argparse
import atexit
import importlib
import os
import random
import resource
import sys
import time
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path

HARNESSES = (
    "pictures", "parts", "calibrations", "bundles", "tables", "words", "tones", "benches", "trials", "dies",
    "instruments", "api",
)  # fmt: skip
LONGEST_S = 5.0
MOST_BYTES = 1_000_000_000
MOST_RECIPE = 300

One = Callable[[bytes], None]


def harness(name: str) -> One:
    """The function ``one`` of a harness."""
    one: One = importlib.import_module(f"tests.fuzz.{name}").one
    return one


def recipe_of(seed: int, number: int) -> bytes:
    """The recipe of case ``number``: short ones are as frequent as long ones."""
    rng = random.Random(f"{seed}/{number}")
    return rng.randbytes(int(2 ** rng.uniform(1, 8.2)))


class Watch:
    """Runs cases, and keeps the longest of them and the first that went wrong."""

    def __init__(self, name: str, kept: Path) -> None:
        self.one = harness(name)
        self.kept = kept / f"{name}.recipe"
        self.cases = 0
        self.longest = 0.0
        self.failed = ""

    def __call__(self, data: bytes) -> None:
        """Run one case. Whatever it raises is raised again."""
        start = time.process_time()  # what others do on the machine is no hang
        try:
            self.one(data)
        except BaseException as error:
            self._keep(data, "".join(traceback.format_exception(error)))
            raise
        took = time.process_time() - start
        self.cases += 1
        self.longest = max(self.longest, took)
        if took > LONGEST_S:
            self._keep(data, f"took {took:.1f} s")
            raise RuntimeError(self.failed)
        if self.cases % 200 == 0 and peak_bytes() > MOST_BYTES:
            self._keep(data, f"{peak_bytes() / 1e6:.0f} MB were needed by this case or one of the 200 before it")
            raise RuntimeError(self.failed)

    def _keep(self, data: bytes, why: str) -> None:
        self.failed = why
        self.kept.write_bytes(data)


def peak_bytes() -> int:
    """The most memory that this process has had."""
    try:  # a process inherits the maximum of rusage from the one that started it, but not this one
        status = Path("/proc/self/status").read_text("ascii")
        return int(status.partition("VmHWM:")[2].split()[0]) * 1024
    except (OSError, IndexError):
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def run_plainly(watch: Watch, cases: int, seed: int) -> None:
    """Random recipes. Raises what the first bad case raises."""
    last = watch.kept.with_suffix(".last")  # a crash of the interpreter itself leaves it behind
    for number in range(cases):
        data = recipe_of(seed, number)
        last.write_bytes(data)
        watch(data)
    last.unlink(missing_ok=True)


def run_guided(watch: Watch, cases: int, seed: int) -> None:
    """Recipes that reach new lines are kept and changed further; ends the process when it is done."""
    import atheris  # noqa: PLC0415 - an extra that is seldom there

    atheris.Setup(
        [
            sys.argv[0],
            f"-atheris_runs={cases}",
            f"-seed={seed}",
            f"-max_len={MOST_RECIPE}",
            "-timeout=60",
            "-rss_limit_mb=0",
        ],
        watch,
    )
    atheris.Fuzz()


def report(name: str, watch: Watch, seconds: float) -> str:
    """One line of the table."""
    return (
        f"{name:<14}{watch.cases:>8} cases {seconds:8.0f} s   slowest {1000 * watch.longest:6.0f} ms   "
        f"memory {peak_bytes() / 1e6:5.0f} MB   {'FAILED' if watch.failed else 'nothing found'}"
    )


def main(argv: Sequence[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz.run", description=__doc__.split("\n", 1)[0])
    parser.add_argument("name", choices=HARNESSES)
    parser.add_argument("--cases", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--guided", action="store_true", help="by coverage, with atheris")
    parser.add_argument("--again", type=Path, metavar="FILE", help="run this recipe once")
    parser.add_argument("--keep", type=Path, default=Path(), metavar="FOLDER", help="where a bad recipe is kept")
    options = parser.parse_args(argv)
    if options.guided:
        import atheris  # noqa: PLC0415 - an extra that is seldom there

        with atheris.instrument_imports(include=["threads", "vision", "calib", "records"]):
            watch = Watch(options.name, options.keep)
    else:
        watch = Watch(options.name, options.keep)
    if options.again is not None:
        watch(options.again.read_bytes())
        return 0
    watch.one(b"")  # seeds, imports and caches
    start = time.perf_counter()
    try:
        if options.guided:
            atexit.register(lambda: print(report(options.name, watch, time.perf_counter() - start), flush=True))
            run_guided(watch, options.cases, options.seed)
        else:
            run_plainly(watch, options.cases, options.seed)
    except Exception:  # noqa: BLE001 - any is a find
        print(watch.failed, file=sys.stderr)
        print(f"the recipe is kept in {os.fspath(watch.kept)}", file=sys.stderr)
    print(report(options.name, watch, time.perf_counter() - start), flush=True)
    return 1 if watch.failed else 0


if __name__ == "__main__":
    sys.exit(main())
