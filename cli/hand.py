"""What a person or a lit picture says of hand and starts: ``--hand``, ``--starts`` and ``--lit-picture``."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.errors import CommandLineError

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


def check_hand(hand: str | None, starts: int | None, lit_picture: str | None, *, one_thread: bool = True) -> None:
    """Raise CommandLineError for what is no hand, or where there is not one thread to which it would belong."""
    if hand not in {None, "right", "left"}:
        raise CommandLineError(f"--hand {hand!r} is not one of right, left")
    if not one_thread and (hand or starts or lit_picture):
        raise CommandLineError(
            "--hand, --starts and --lit-picture go with one thread, not with --stitch or --all-parts"
        )
