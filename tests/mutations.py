"""Breaks single lines of the program, one after another in a copy, and sees whether the tests notice.

    python -m tests.mutations            all of them, some ten minutes on a quiet machine
    python -m tests.mutations lock tone  those with one of these words in their name

Ends with 1 where a broken line went unnoticed. A mutation is noticed by the tests that are named with it, so those are
the ones that must not be lost. ``tests/test_mutations.py`` sees that every line is still there to be broken.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
LONGEST_S = 300


@dataclass(frozen=True)
class Mutation:
    """``old`` stands once in ``file``, and is replaced by ``new``; ``tests``: what pytest is asked to run."""

    name: str
    file: str
    old: str
    new: str
    tests: str


_BACKUP, _FILING = "tests/records/test_backup.py", "tests/records/test_filing.py"
_BUNDLE, _CELLS = "tests/records/test_bundle_refused.py", "tests/records/test_cells.py"
_CHECK, _EDGES = "tests/threads/judge/test_check.py", "tests/vision/outline/test_edges.py"

MUTATIONS = (
    Mutation(
        "fsync of a picture",
        "records/picture_store.py",
        "        os.fsync(copy.fileno())\n",
        "",
        "tests/records/test_picture_store.py",
    ),
    Mutation(
        "fsync of the name of a picture",
        "records/picture_store.py",
        "        put_in_place(temporary, target)\n        sync_folder(target.parent)\n",
        "        put_in_place(temporary, target)\n",
        "tests/records/test_picture_store.py",
    ),
    Mutation(
        "transaction undone: pictures",
        "records/register.py",
        "                store.take_back()",
        "                pass",
        f"{_FILING} -k fails",
    ),
    Mutation(
        "transaction committed",
        "records/register.py",
        'connection.execute("COMMIT")',
        'connection.execute("ROLLBACK")',
        _FILING,
    ),
    Mutation(
        "hash at the end of an action",
        "records/register.py",
        "seals.seal(connection, unsealed)",
        "pass",
        f"{_BACKUP} -k comes_back",
    ),
    Mutation(
        "hash of the content", "records/seals.py", "        digest.update(written)\n", "", f"{_BACKUP} -k altered"
    ),
    Mutation(
        "hash compared",
        "records/verification.py",
        "        if now.get(row) == sha256:",
        "        if row in now:",
        f"{_BACKUP} -k altered",
    ),
    Mutation(
        "derived made anew",
        "records/register.py",
        "                refresh(connection, writing.parts)\n",
        "",
        "tests/records/test_listing.py",
    ),
    Mutation(
        "value before a correction",
        "records/correction.py",
        '"before": json.dumps(now[column]',
        '"before": json.dumps(value',
        f"{_FILING} -k correction",
    ),
    Mutation(
        "picture compared while it is copied",
        "records/picture_store.py",
        "    if digest.hexdigest() != sha256:",
        "    if False:",
        _FILING,
    ),
    Mutation(
        "lock of a backup",
        "records/backup.py",
        "        if not locked(descriptor):",
        "        if False:",
        f"{_BACKUP} -k two_backups",
    ),
    Mutation(
        "earlier backup kept until the manifest",
        "records/backup.py",
        '    earlier = list(folder.glob("register-*"))\n',
        '    earlier = list(folder.glob("register-*"))\n    [path.unlink() for path in earlier]\n',
        f"{_BACKUP} -k damaged_register_does_not",
    ),
    Mutation(
        "backup of a damaged register",
        "records/backup.py",
        '"PRAGMA quick_check(1)") != "ok":',
        '"PRAGMA quick_check(1)") == "":',
        f"{_BACKUP} -k damaged_register_does_not",
    ),
    Mutation(
        "backup compared before it is restored",
        "records/backup.py",
        "            if not kept.is_file() or file_sha256(kept) != sha256:",
        "            if not kept.is_file():",
        f"{_BACKUP} -k damaged_backup",
    ),
    Mutation(
        "permissions of a copy",
        "records/copying.py",
        "os.O_EXCL, 0o600)",
        "os.O_EXCL, 0o644)",
        f"{_BACKUP} -k owner_alone",
    ),
    Mutation(
        "link followed",
        "records/register_path.py",
        "if path.is_symlink() else path",
        "if False else path",
        f"{_BACKUP} -k link",
    ),
    Mutation(
        "lock of results",
        "records/batch/results.py",
        "        if not locked(descriptor):",
        "        if False:",
        "tests/records/test_batch_results.py",
    ),
    Mutation(
        "bound: names in a bundle",
        "records/exchange/bundle.py",
        "        if info.orig_filename not in (MANIFEST, PARTS) and not _PICTURE.fullmatch(info.orig_filename):",
        "        if False:",
        _BUNDLE,
    ),
    Mutation(
        "bound: hash in a bundle", "records/exchange/bundle.py", "_hash(archive, entry) != sha256:", "False:", _BUNDLE
    ),
    Mutation(
        "bound: swollen files", "records/exchange/bundle.py", "MOST_PACKED = 200", "MOST_PACKED = 200_000", _BUNDLE
    ),
    Mutation(
        "bound: manifest",
        "records/exchange/bundle.py",
        "_MOST_OF_AN_ENTRY = 1000",
        "_MOST_OF_AN_ENTRY = 10**9",
        _BUNDLE,
    ),
    Mutation("bound: depth", "threads/shared/plain_json.py", "MOST_DEPTH = 40", "MOST_DEPTH = 400", _BUNDLE),
    Mutation("bound: 1e999", "threads/shared/plain_json.py", "        parse_float=_finite,\n", "", _BUNDLE),
    Mutation(
        "bound: a pitch that no screw has",
        "threads/measured/possible.py",
        '"pitch": (0.008, 80.0, "mm")',
        '"pitch": (-1.0, 1e301, "mm")',
        _BUNDLE,
    ),
    Mutation(
        "bound: packed pictures",
        "vision/pictures/raster.py",
        "    if unpacked > max(PACKED_FROM, MOST_PACKED * packed):",
        "    if False:",
        "tests/vision/pictures/test_picture_bombs.py",
    ),
    Mutation(
        "escape: formulas",
        "records/cells.py",
        "    return _RUNS.sub(_KEEPS_AS_TEXT, written)",
        "    return written",
        _CELLS,
    ),
    Mutation(
        "escape: drawings", "records/exchange/dxf.py", '.replace("^", "^ ")', "", "tests/records/test_dxf.py -k code"
    ),
    Mutation(
        "escape: HTML",
        "records/report/html.py",
        "    return escape(shown)",
        "    return shown",
        "tests/records/test_report.py -k markup",
    ),
    Mutation(
        "escape: terminal",
        "cli/characters.py",
        '    return character.encode("unicode_escape").decode("ascii")',
        "    return character",
        "tests/cli/test_tables.py tests/cli/test_main.py",
    ),
    Mutation(
        "checksum of a calibration",
        "calib/file.py",
        '    if checksum is None or data.get("checksum") != checksum:',
        "    if False:",
        "tests/calib/test_calibration_file.py",
    ),
    Mutation(
        "unit: inch",
        "threads/shared/formatting.py",
        "MM_PER_INCH = 25.4",
        "MM_PER_INCH = 25.0",
        "tests/threads/shared/test_formatting.py",
    ),
    Mutation(
        "guard band",
        "threads/judge/judgement.py",
        "    elif all(inside >= kept for inside, kept, _ in sides):",
        "    elif all(inside >= 0 for inside, kept, _ in sides):",
        "tests/threads/judge",
    ),
    Mutation(
        "guard band: one-sided",
        "threads/judge/judgement.py",
        "    return Reach(measured.standard_uncertainty, max(-measured.one_sided, 0.0), max(measured.one_sided, 0.0))",
        "    return Reach(measured.standard_uncertainty)",
        "tests/threads/judge",
    ),
    Mutation(
        "covariance of pitch and diameter",
        "threads/measured/virtual_pitch_diameter.py",
        "    error = rng.multivariate_normal(\n        np.zeros(4),\n"
        '        thread.covariance.of(("pitch_diameter", "pitch", "flank_angle_left", "flank_angle_right")),\n',
        "    error = rng.multivariate_normal(\n        np.zeros(4),\n"
        '        np.diag(np.diag(thread.covariance.of(("pitch_diameter", "pitch", "flank_angle_left", '
        '"flank_angle_right")))),\n',
        "tests/threads/measured/test_virtual_pitch_diameter.py",
    ),
    Mutation(
        "coverage factor",
        "threads/shared/quantity.py",
        "COVERAGE_FACTOR = 2.0",
        "COVERAGE_FACTOR = 1.0",
        "tests/threads/shared tests/threads/judge",
    ),
    Mutation(
        "unified tolerance",
        "threads/rules/unified.py",
        "0.015 * pitch ** (2 / 3), 6)",
        "0.016 * pitch ** (2 / 3), 6)",
        "tests/threads/rules/test_unified.py tests/published/test_published_unified.py",
    ),
    Mutation(
        "metric pitch diameter",
        "threads/rules/iso_metric.py",
        "    basic_pd = major - 0.64951905 * pitch",
        "    basic_pd = major - 0.65 * pitch",
        "tests/threads/rules/test_iso_metric.py tests/published/test_published_iso_metric.py",
    ),
    Mutation(
        "best wire",
        "threads/judge/wires.py",
        "    return pitch / 2 / math.cos(math.radians(flank_angle_deg))",
        "    return pitch / 2 / math.sin(math.radians(flank_angle_deg))",
        "tests/threads/judge/test_wires.py",
    ),
    Mutation(
        "threshold of a sure answer",
        "threads/identify/identification.py",
        "SURE = 0.95",
        "SURE = 0.5",
        "tests/threads/identify tests/threads/workshop/test_answer.py",
    ),
    Mutation(
        "helix sign on the left flank",
        "vision/model/shadow.py",
        "    dk = h[1] * sign\n",
        "    dk = h[1]\n",
        "tests/vision/model/test_shadow.py",
    ),
    Mutation(
        "helix in the shadow",
        "vision/model/shadow.py",
        "    phi = m * (t - k / r) + q * (r + b)\n    # second",
        "    return m * t + q * (r + b)\n    # second",
        "tests/vision/model/test_shadow.py",
    ),
    Mutation(
        "edge at half the light",
        "vision/outline/edges.py",
        "1e-6, span)[:, None] - 0.5",
        "1e-6, span)[:, None] - 0.4",
        _EDGES,
    ),
    Mutation(
        "tone of sRGB", "vision/pictures/tone.py", "** 2.4)", "** 2.2)", "tests/vision/pictures/test_picture_tone.py"
    ),
    Mutation(
        "outliers weighed down",
        "vision/shared/robust.py",
        "OUTLIER = 5.0",
        "OUTLIER = 500.0",
        "tests/vision/shared/test_robust.py tests/vision/fit/test_rejected.py",
    ),
    Mutation(
        "another try after a death",
        "records/batch/processes.py",
        "                elif worker.number in once:",
        "                elif True:",
        "tests/records/test_batch_processes.py",
    ),
)


def copied(folder: Path) -> Path:
    """The files under version control, and those that are about to be."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, check=True, capture_output=True, text=True,
    )  # fmt: skip
    for name in listed.stdout.splitlines():
        if (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, folder / name)
    return folder


def noticed(mutation: Mutation, folder: Path) -> bool:
    """Whether the tests named with it fail with the line broken; ``folder`` is afterwards as before."""
    file = folder / mutation.file
    whole = file.read_text("utf-8")
    assert whole.count(mutation.old) == 1, f"{mutation.name}: the line is not in {mutation.file}"
    file.write_text(whole.replace(mutation.old, mutation.new), "utf-8")
    try:
        words = [sys.executable, "-B", "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *mutation.tests.split()]
        ran = subprocess.run(words, cwd=folder, capture_output=True, check=False, timeout=LONGEST_S)
    except subprocess.TimeoutExpired:  # what waits without end is noticed, too
        return True
    finally:
        file.write_text(whole, "utf-8")
    assert ran.returncode in (0, 1), ran.stdout[-1000:].decode()
    return ran.returncode == 1


def main(words: list[str]) -> int:
    """Break them all, or those with one of ``words`` in their name."""
    unnoticed = []
    with tempfile.TemporaryDirectory() as name:
        folder = copied(Path(name))
        for mutation in MUTATIONS:
            if words and not any(word in mutation.name for word in words):
                continue
            began = time.monotonic()
            found = noticed(mutation, folder)
            unnoticed += [] if found else [mutation.name]
            took = time.monotonic() - began
            sys.stdout.write(f"{'noticed' if found else 'NOT NOTICED':12} {took:5.0f} s  {mutation.name}\n")
            sys.stdout.flush()
    return 1 if unnoticed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
