"""What is done to one picture of a folder, in whatever process or on whatever machine it happens."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from flankwise.bench import Bench
from flankwise.identifying import identify
from flankwise.measuring import measure
from flankwise.reasons import sentence
from records.batch.columns import FAILED, MEASURED, REFUSED, Refused, cells
from records.cells import text_cell
from records.picture_store import file_sha256
from threads.shared.file_name import plain_name
from threads.shared.refusal import Reason, RefusalError

SKIPPED = "skipped"
SUFFIXES = frozenset({".png", ".jpg", ".jpeg", ".tif", ".tiff", ".bmp"})


@dataclass(frozen=True)
class Settings:
    """How every picture of the folder is measured.

    Attributes:
        bench: on which they were taken.
        version: of the program.
        identify: whether each part is identified too, by ``origin``, ``made`` and among ``series``
            (see ``threads.identify``).
        on_file: parts of each series that the workshop has on file. Not in ``key``: a folder that was begun is gone on
            with after another part was filed.
        surface: of every part, where somebody said so.
    """

    bench: Bench
    version: str
    identify: bool = False
    origin: str | None = None
    made: tuple[int, int] | None = None
    series: tuple[str, ...] = ()
    on_file: Mapping[str, int] = field(default_factory=dict)
    surface: str | None = None

    @property
    def key(self) -> str:
        """A short hash of all that is set besides the calibration, and of a scale given by hand."""
        said: list[object] = [self.identify, self.origin, self.made, sorted(self.series)]
        said += [self.surface] if self.surface else []
        by_hand = None if self.bench.plane.traceable else self.bench.plane.um_per_px
        return hashlib.sha256(json.dumps([*said, by_hand]).encode()).hexdigest()[:10]


@dataclass(frozen=True)
class Task:
    """One picture: where it is, its name in the file of results, and by which hashes it is there already."""

    path: str
    name: str
    known: tuple[str, ...] = field(default=())


@dataclass(frozen=True)
class Outcome:
    """What became of a picture: ``measured``, ``refused``, ``failed`` or ``skipped``, why, and its row."""

    name: str
    status: str
    code: str = ""
    message: str = ""
    cells: tuple[str, ...] = ()


def pictures_in(folder: Path, *, recursive: bool) -> Iterator[Path]:
    """The picture files in ``folder``, told by the ends of their names, in the order of their names.

    Hidden files and folders are left out, and links to folders are not followed. Raises OSError for a folder that
    cannot be read.
    """
    there = sorted((path for path in folder.iterdir() if not path.name.startswith(".")), key=lambda path: path.name)
    for path in there:
        if path.suffix.lower() in SUFFIXES and path.is_file():
            yield path
        elif recursive and path.is_dir() and not path.is_symlink():
            yield from pictures_in(path, recursive=True)


def measure_one(settings: Settings, task: Task) -> Outcome:
    """Read, measure and, if asked for, identify one picture. Nothing is raised: what goes wrong stands in the row."""
    sha256, status = "", REFUSED
    try:
        if task.known:
            sha256 = file_sha256(Path(task.path))
            if sha256 in task.known:
                return Outcome(task.name, SKIPPED)
        return _measured(settings, task)
    except RefusalError as refusal:
        why = refusal.reasons
        if why[0].code == "several_parts":  # measuring a folder has no option to name one
            why = (Reason("several_parts.of_folder", parts=why[0].values["parts"]),)
    except OSError as error:
        why = (Reason("unreadable.denied", name=plain_name(task.path), why=error.strerror or "no usable path"),)
    except MemoryError:
        why, status = (Reason("out_of_memory"),), FAILED
    except Exception as error:  # noqa: BLE001 - one picture must not stop the others; the row tells of the defect
        why, status = (Reason("defect", kind=type(error).__name__, text=str(error)[:200]),), FAILED
    return without_measurement(settings, task, why, status=status, sha256=sha256)


def without_measurement(
    settings: Settings, task: Task, why: Sequence[Reason], *, status: str, sha256: str = ""
) -> Outcome:
    """The row of a picture from which nothing was measured; its hash is taken if it is not given."""
    if not sha256:
        try:
            sha256 = file_sha256(Path(task.path))
        except (OSError, ValueError):
            sha256 = ""
    refused = Refused(why[0].code, " ".join(map(sentence, why)))
    row = cells(
        task.name,
        sha256,
        settings.bench.plane.id,
        settings.key,
        settings.version,
        refused,
        identify=settings.identify,
        status=status,
    )
    return Outcome(task.name, status, refused.code, refused.message, row)


def _measured(settings: Settings, task: Task) -> Outcome:
    part = measure(task.path, settings.bench, surface=settings.surface)
    found = None
    if settings.identify:
        found = identify(
            part, origin=settings.origin, made=settings.made, series=settings.series, on_file=settings.on_file
        ).found
    row = cells(
        task.name,
        part.measurement.picture.sha256,
        settings.bench.plane.id,
        settings.key,
        settings.version,
        part.measurement,
        found,
        identify=settings.identify,
    )
    return Outcome(task.name, MEASURED, cells=row)


def name_in_results(path: Path, folder: Path) -> str:
    """What a picture is called in the file of results: its path from the folder, with slashes."""
    return text_cell(path.relative_to(folder).as_posix())
