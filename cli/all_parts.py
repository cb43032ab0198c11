"""``flankwise measure --all-parts``: every part in one picture, a row each."""

from __future__ import annotations

from cli.bench import bench_of
from cli.errors import say
from cli.output import show, write_json
from flankwise.reasons import sentence


def measure_all_parts(
    picture_path: str,
    calibration: str | None,
    um_per_px: float | None,
    *,
    inches: bool,
    as_json: bool,
    focus_locked: bool = False,
) -> None:
    """Measure each part in the picture; what is refused is said in a line on stderr each, as long as one is measured.

    Raises CommandRefusedError where none is.
    """
    from cli.refusals import refusals_reported
    from flankwise.measuring import measure_all

    with refusals_reported(as_json=as_json):
        bench = bench_of(calibration, um_per_px, focus_locked=focus_locked)
        assert bench is not None
        found = measure_all(picture_path, bench)
    picture, parts = found.picture, found.seen
    for part in parts:
        for reason in part.found if isinstance(part.found, tuple) else ():
            say(f"flankwise: warning: part {part.number} refused: {sentence(reason)}")
    if as_json:
        write_json(found.to_dict())
        return
    from cli.part_lists import parts_table

    where = "from left to right, row by row"
    count = "1 part" if len(parts) == 1 else f"{len(parts)} parts"
    show(f"{picture.path}: {count} in view, numbered {where}", "", parts_table(parts, inches=inches))
