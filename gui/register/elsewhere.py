"""Parts to and from elsewhere, each a plain call for a worker: export, import, backup, a look at the whole."""

from __future__ import annotations

from pathlib import Path

from gui.register.deeds import opened
from threads.shared.refusal import Reason

KINDS = (".flankwise", ".zip", ".csv", ".json")
"""Endings of what is written and read."""


def exported(file: str | None, target: Path, job: int | None) -> tuple[int, tuple[Reason, ...]]:
    """Write parts as CSV, JSON or a bundle; returns how many, and what had to be left out."""
    from records.exchange.outgoing import chosen_parts, write_parts

    register = opened(file)
    with register.reading() as connection:
        parts = chosen_parts(connection, job=job, instrument=None, parts=())
    written = write_parts(register, parts, target)
    return written.counts["parts"], written.missing


def imported(file: str | None, source: Path) -> dict[str, int]:
    """Take a bundle, a document or a table in: all of it, or nothing. Returns what was filed, by kind."""
    from records.exchange.incoming import take_in

    return dict(take_in(source, lambda: opened(file, create=True)).filed)


def backed_up(file: str | None, folder: Path) -> tuple[Reason, ...]:
    """Copy the register and its pictures into an empty ``folder``, while it is in use; what had to be left out."""
    from records.backup import back_up

    return tuple(back_up(opened(file), folder).missing.values())


def verified(file: str | None) -> tuple[Reason, ...]:
    """What is wrong with the register, a sentence each; nothing where all is well."""
    from records.verification import verify

    return verify(opened(file)).faults
