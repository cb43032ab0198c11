"""A part of the register in place of a designation or a picture: ``--against-part``, ``--hole-part``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cli.register import opened

if TYPE_CHECKING:
    from flankwise.reference import Reference
    from threads.workshop.drawn_thread import TriedHole


def filed_part(register: str | None, number: int) -> Reference:
    """The part with this number. Raises RefusalError: no_register, no_part_on_file, not_measured and others."""
    from records.filed_part import filed_part as on_file

    return on_file(opened(register), number)


def filed_hole(register: str | None, number: int) -> Reference | TriedHole:
    """A hole on file, by its cast, else by its trials. Raises RefusalError (not_a_hole) too, where it is a screw."""
    from records.holes import hole_on_file

    return hole_on_file(opened(register), number)
