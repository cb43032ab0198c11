"""``flankwise play --movement``: the clearance of a screw in its hole, from how far it moves."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from cli.brief import BRIEF_CAUTION, doubts
from cli.errors import CommandLineError
from cli.hole import reading_u95, thread_called
from cli.output import show, write_json
from cli.trial_options import read_movement, read_way
from flankwise.reasons import message, sentence

if TYPE_CHECKING:
    from flankwise.part import Part


def show_clearance(
    measured: Callable[[], Part],
    thread: str,
    movement: str,
    *,
    read_with: str | None,
    movement_u95: str | None,
    overhang: str,
    engagement_mm: float,
    inches: bool,
    as_json: bool,
) -> None:
    """Measure the screw and print its clearance; texts as typed. Raises CommandLineError, CommandRefusedError."""
    from cli.refusals import refusals_reported
    from flankwise.holes import clearance
    from threads.hole.hole_words import movement_words
    from threads.hole.trial import HoleError

    of, (way, own_u95), out = thread_called(thread), read_movement(movement), read_way(overhang, "--overhang")
    u95 = own_u95 or reading_u95(read_with, movement_u95)
    with refusals_reported(as_json=as_json):
        screw = measured()
    try:
        found = clearance(screw, of, way, out, engagement_mm, movement_u95=u95)
    except HoleError as error:
        raise CommandLineError(message(error)) from error
    if as_json:
        write_json(found.to_dict())
        return
    doubtful = [item.block for item in doubts([("screw", screw.measurement)], inches=inches)]
    show(sentence(movement_words(found.found), inches=inches), *doubtful, BRIEF_CAUTION)
