"""``flankwise series --near``: the threads that look like one, and whether they enter each other."""

from __future__ import annotations

from cli.errors import CommandLineError
from cli.output import show, write_json
from flankwise.reasons import message


def show_near(text: str, *, inches: bool, as_json: bool) -> None:
    """Print the look-alikes of the thread written as ``text``. Raises CommandLineError for none that is known."""
    from threads.judge.look_alikes import look_alikes
    from threads.standards.designation import UnknownDesignationError, parse

    try:
        thread = parse(text)
    except UnknownDesignationError as error:
        raise CommandLineError(message(error)) from error
    found = look_alikes(thread)
    if as_json:
        listed = [one.to_dict() for one in found]
        write_json({"schema": "flankwise/look_alikes/1", "thread": thread.text, "look_alikes": listed})
        return
    from cli.tables import plain_table
    from threads.judge.look_alikes import words
    from threads.shared.formatting import format_lengths

    table = plain_table(
        "thread", "diameter", "pitch", "angle", "its screw in this hole", "this screw in its hole",
        right=("diameter", "pitch", "angle"),
    )  # fmt: skip
    own = thread.entry
    majors = format_lengths([own.major_mm, *(one.entry.major_mm for one in found)], inches=inches)
    pitches = format_lengths([own.pitch_mm, *(one.entry.pitch_mm for one in found)], inches=inches)
    table.add_row(thread.text, majors[0], pitches[0], "", "", "")
    for one, major, pitch in zip(found, majors[1:], pitches[1:], strict=True):
        angle = f"{2 * one.half_angle_deg:+.1f}°" if one.half_angle_deg else "same"
        if one.same:
            table.add_row(one.name, major, pitch, "same", "the same thread", "the same thread")
        else:
            table.add_row(one.name, major, pitch, angle, words(one.its_screw), words(one.its_hole))
    nothing = [] if found else ["No other thread has a diameter within 3 % and a pitch within 2 %.", ""]
    show(
        table,
        "",
        *nothing,
        "Both in the middle of their limits, engaged over 1.5 diameters. Per cent: how far the crests overlap, of the "
        "height of thread.",
    )
