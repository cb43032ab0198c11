"""What a person or a lit picture says of hand and starts: ``--hand``, ``--starts`` and ``--lit-picture``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from cli.errors import CommandLineError

if TYPE_CHECKING:
    from threads.shared.refusal import Reason

Hand = Annotated[
    str | None, typer.Option("--hand", metavar="right|left", help="The hand of the thread, where you have looked.")
]
Starts = Annotated[
    int | None, typer.Option("--starts", min=1, max=12, metavar="N", help="How many starts it has, where you counted.")
]
LitPicture = Annotated[
    str | None,
    typer.Option(
        "--lit-picture", metavar="FILE", help="A picture of the same part lit from the front: its hand is read there."
    ),
]


@dataclass(frozen=True)
class Seen:
    """What is known of a thread besides its shadow; ``warnings`` say what did not go together."""

    hand: str | None = None
    starts: int | None = None
    warnings: tuple[Reason, ...] = ()


def check_hand(hand: str | None, starts: int | None, lit_picture: str | None, *, one_thread: bool = True) -> None:
    """Raise CommandLineError for what is no hand, or where there is not one thread to which it would belong."""
    if hand not in {None, "right", "left"}:
        raise CommandLineError(f"--hand {hand!r} is not one of right, left")
    if not one_thread and (hand or starts or lit_picture):
        raise CommandLineError(
            "--hand, --starts and --lit-picture go with one thread, not with --stitch or --all-parts"
        )


def seen_of(hand: str | None, starts: int | None, lit_picture: str | None) -> Seen:
    """Hand and starts as stated, or the hand as read from the lit picture where nobody stated it.

    A statement stands against the picture; the warning ``hand_disagrees`` says so. Raises RefusalError for a picture
    that cannot be read.
    """
    if lit_picture is None:
        return Seen(hand, starts)
    from threads.shared.file_name import plain_name
    from threads.shared.refusal import Reason
    from vision.locate.hand import NOT_DETERMINED, read_hand
    from vision.pictures.picture import read_picture

    reading = read_hand(read_picture(lit_picture), starts=starts or 1)
    name = plain_name(lit_picture)
    if reading.hand == NOT_DETERMINED:
        return Seen(hand, starts, (Reason("hand_not_read", f"{name} does not show the hand. {reading.why}"),))
    if hand not in {None, reading.hand}:
        words = (
            f"--hand says {hand}, but the ridges in {name} lean as those of a {reading.hand}-hand thread: look again."
        )
        return Seen(hand, starts, (Reason("hand_disagrees", words),))
    return Seen(reading.hand, starts)
