"""How a refused picture, gauge or file is reported."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from cli.errors import CommandRefusedError, say
from cli.output import write_json
from vision.refusal import RefusalError


@contextmanager
def refusals_reported(*, as_json: bool) -> Iterator[None]:
    """Report a RefusalError raised inside: one line per reason on stderr, with ``as_json`` the object on stdout too.

    Raises CommandRefusedError in its place.
    """
    try:
        yield
    except RefusalError as refusal:
        for reason in refusal.reasons:
            say(f"flankwise: refused: {reason.message}")
        if as_json:
            reasons = [{"code": reason.code, "message": reason.message} for reason in refusal.reasons]
            write_json({"schema": "flankwise/refusal/1", "status": "refused", "reasons": reasons})
        raise CommandRefusedError from refusal
