"""The parts register that a command means."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from cli.errors import CommandLineError, say

if TYPE_CHECKING:
    from records.register import Register

RegisterFile = Annotated[
    str | None,
    typer.Option("--register", metavar="FILE", help="The parts register, if not the one in your data folder."),
]
Who = Annotated[str | None, typer.Option("--who", metavar="NAME", help="Who does it, if not the name of the account.")]
PartNumber = Annotated[str, typer.Argument(metavar="PART", help="The number of a part on file.")]


def opened(register: str | None, *, create: bool = False) -> Register:
    """The register ``--register`` names; a word on stderr where it was brought up to date. Raises RefusalError."""
    from records.register import open_register

    found = open_register(register, create=create)
    if found.upgraded_from is not None:
        say(f"flankwise: the register was brought up to date; as it was before it is kept in {found.upgraded_from}")
    return found


def part_number(text: str) -> int:
    """The number of a part as typed, or scanned off a label: 12, #12, "No. 12", PART12. Raises CommandLineError."""
    digits = text.strip().lower().removeprefix("no.").removeprefix("part").removeprefix("#").strip()
    if not (digits.isascii() and digits.isdecimal()) or len(digits) > 15:
        raise CommandLineError(f"{text!r} is not the number of a part, such as 12; 'flankwise record list' shows them")
    return int(digits)
