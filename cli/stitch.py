"""``flankwise measure --stitch``: overlapping pictures of one long part, joined."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cli.bench import bench_of
from cli.errors import CommandLineError
from cli.lengths import parse_length
from cli.output import show, write_json

if TYPE_CHECKING:
    from cli.tables import Block
    from vision.several.stitch import Stitched


def measure_stitched(
    paths: list[str],
    calibration: str | None,
    um_per_px: float | None,
    moved: list[str] | None,
    *,
    full: bool,
    inches: bool,
    as_json: bool,
    focus_locked: bool = False,
) -> None:
    """Join the pictures and show the thread and the whole part.

    Raises CommandLineError for too few or too many pictures or moves.
    """
    from cli.refusals import refusals_reported
    from flankwise.measuring import stitch
    from vision.several.stitch import MOST_PICTURES

    if not 2 <= len(paths) <= MOST_PICTURES:
        raise CommandLineError(f"--stitch joins two to {MOST_PICTURES} pictures, {len(paths)} given")
    moves = None if not moved else [parse_length(text, "--moved") for text in moved]
    if moves is not None and len(moves) not in {1, len(paths) - 1}:
        raise CommandLineError(
            f"{len(moves)} times --moved for {len(paths)} pictures: say it once for all, or for each after the first"
        )
    with refusals_reported(as_json=as_json):
        bench = bench_of(calibration, um_per_px, focus_locked=focus_locked)
        assert bench is not None
        found = stitch(paths, bench, moved=moves[0] if moves and len(moves) == 1 else moves)
    if as_json:
        write_json(found.to_dict())
        return
    assert found.stitched is not None
    stitched = found.stitched
    if full:
        _show(stitched, inches=inches)
        return
    from cli.brief import Item, doubts, show_brief, sizes

    measurement, misfits = stitched.measurement, [joint.misfit_px for joint in stitched.joints]
    seen = f"{len(paths)} pictures joined, {measurement.thread.threads_in_view} threads in view"
    show_brief([
        Item(f"{seen}, joints {max(misfits, default=0.0):.2f} px apart at most"),
        *sizes(measurement, inches=inches),
        *doubts([("", measurement)], inches=inches),
    ])  # fmt: skip


def _show(stitched: Stitched, *, inches: bool) -> None:
    from cli.findings import heading, measured_table, quality_lines
    from cli.form import form_parts
    from cli.part_lists import joints_table, sections_table

    measurement = stitched.measurement
    order = ", ".join(f"{stitched.pictures[number - 1].path} ({number})" for number in stitched.order)
    sections = sections_table(measurement.part, inches=inches)
    last: list[Block] = [] if sections is None else ["", sections]
    show(
        f"{len(stitched.pictures)} pictures joined, from left to right: {order}",
        *heading(measurement),
        "",
        joints_table(stitched, inches=inches),
        "",
        measured_table(measurement, inches=inches),
        "",
        *form_parts(measurement, inches=inches),
        *last,
        "",
        *quality_lines(measurement),
    )
