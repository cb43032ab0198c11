"""What the workshop prints at the head of its papers: its name on the first line, address and telephone below."""

from __future__ import annotations

from records.connection import value
from records.filing import refuse_long
from records.register import Register

MOST_LINES = 6
_NAME = "letterhead"


def letterhead(register: Register) -> tuple[str, ...]:
    """The lines, none where nobody has written any. Raises RefusalError."""
    with register.reading() as connection:
        text = value(connection, "SELECT text FROM settings WHERE name = ?", (_NAME,))
    return tuple(text.splitlines()) if text else ()


def keep_letterhead(register: Register, text: str) -> tuple[str, ...]:
    """Keep ``text``, at most ``MOST_LINES`` lines, and return its lines; empty: papers have no head from now on.

    Raises RefusalError: text_too_long, and what ``Register.writing`` raises.
    """
    lines = [line.strip() for line in text.strip().splitlines()][:MOST_LINES]
    refuse_long({"name": "".join(lines)})
    with register.writing() as writing:
        writing.connection.execute(
            "INSERT OR REPLACE INTO settings (name, text) VALUES (?, ?)", (_NAME, "\n".join(lines))
        )
    return tuple(lines)
