"""What the commands that print on paper share: the file, the paper, the language, which parts are meant."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.errors import CommandLineError, say
from cli.register import part_number
from cli.target import file_to_write

if TYPE_CHECKING:
    from records.register import Register
    from records.report.spoken import Spoken

PAPERS = ("a4", "letter")
LANGUAGES = ("en", "de")

PaperSize = Annotated[str, typer.Option("--paper", metavar="a4|letter", help="The size of the paper.")]
Language = Annotated[str, typer.Option("--language", metavar="en|de", help="Of the paper.")]


def read_paper(paper: str) -> str:
    """Raises CommandLineError."""
    if paper not in PAPERS:
        raise CommandLineError(f"--paper {paper!r} is not one of {', '.join(PAPERS)}")
    return paper


def read_language(language: str, unit: str) -> Spoken:
    """The language and the unit of the paper. Raises CommandLineError."""
    if language not in LANGUAGES:
        raise CommandLineError(f"--language {language!r} is not one of {', '.join(LANGUAGES)}")
    inches = options.reads_inches(unit)
    from records.report.spoken import Spoken

    return Spoken(language, inches)


def paper_file(output: str, suffixes: Sequence[str], *, force: bool) -> Path:
    """The file to write: a new one, or a paper of this program. Raises CommandLineError."""
    target = file_to_write("-o", output, suffixes)
    if target.exists() and not force:
        from records.report.gather import is_report

        if not is_report(target):
            raise CommandLineError(f"-o {output} exists and is no paper of this program: choose another, or --force")
    return target


def write_paper(target: Path, content: bytes, missing: str = "") -> None:
    """Write it, and say which letters no type has. Raises CommandLineError where it cannot be written."""
    from threads.shared.whole_file import write_whole

    try:
        write_whole(target, content)
    except (OSError, ValueError) as error:
        words = getattr(error, "strerror", None) or "it cannot be written"
        raise CommandLineError(f"-o {target}: {words}") from error
    if missing:
        say(
            f"flankwise: no type on this machine has the letters {missing[:20]}: they are printed as codes. "
            "Install a TrueType one that has them, on Debian and Ubuntu the package fonts-droid-fallback"
        )


@contextmanager
def share_told(words: str) -> Iterator[Callable[[float], None]]:
    """What is called with the share done, 0 to 1: a terminal shows it meanwhile, in per cent, behind ``words``."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return

    def reached(share: float) -> None:
        sys.stderr.write(f"\r{words}: {100 * share:3.0f} %")
        sys.stderr.flush()

    try:
        yield reached
    finally:
        sys.stderr.write(f"\r{' ' * (len(words) + 7)}\r")


def parts_meant(register: Register, typed: Sequence[str] | None, job: str | None, instrument: str | None) -> list[int]:
    """The parts that are numbered, or all of a job or an instrument in the order of their positions.

    Raises CommandLineError where none or more than one way is taken; RefusalError: no_such_name, empty_job.
    """
    if sum(map(bool, (typed, job, instrument))) != 1:
        raise CommandLineError("which parts? Give their numbers, or --job NAME, or --instrument NAME")
    if typed:
        return [number for text in typed for number in _numbers(text)]
    from records.listing import Conditions, page_of_parts
    from records.lookup import known_instrument, known_job
    from threads.shared.refusal import RefusalError

    with register.reading() as connection:
        of = (
            Conditions(job=known_job(connection, job))
            if job is not None
            else Conditions(instrument=known_instrument(connection, instrument or ""))
        )
        found = [line.id for line in page_of_parts(connection, of, most=_MOST).lines]
    if not found:
        raise RefusalError("empty_job", name=job or instrument)
    return found


_MOST = 2000


def _numbers(text: str) -> list[int]:
    """12, or 3-7. Raises CommandLineError."""
    first, dash, last = text.strip().partition("-")
    if not dash:
        return [part_number(first)]
    low, high = part_number(first), part_number(last)
    if not 0 <= high - low < _MOST:
        raise CommandLineError(f"{text!r}: the first number is the smaller one, as in 3-7, and at most {_MOST} parts")
    return list(range(low, high + 1))
