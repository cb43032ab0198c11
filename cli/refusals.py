"""How a refused picture, gauge or file is reported."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from cli.errors import CommandRefusedError, say
from cli.output import write_json
from threads.shared.refusal import RefusalError


@contextmanager
def refusals_reported(*, as_json: bool) -> Iterator[None]:
    """Report a RefusalError raised inside: one line per reason on stderr, with ``as_json`` the object on stdout too.

    Raises CommandRefusedError in its place.
    """
    try:
        yield
    except RefusalError as refusal:
        _report(refusal, as_json=as_json)
        raise CommandRefusedError from refusal


def report_broken_series(error: Exception, *, as_json: bool) -> bool:
    """Report ``error`` as a refusal if it is a damaged file of an own series, which any command may come upon."""
    from threads.own.own_folder import BrokenOwnSeriesError

    if not isinstance(error, BrokenOwnSeriesError):
        return False
    _report(RefusalError("own_series_broken", str(error)), as_json=as_json)
    return True


def _report(refusal: RefusalError, *, as_json: bool) -> None:
    for reason in refusal.reasons:
        say(f"flankwise: refused: {reason.message}")
    if as_json:
        write_json(refusal_document([(reason.code, reason.message) for reason in refusal.reasons]))


def refusal_document(reasons: Sequence[tuple[str, str]]) -> dict[str, Any]:
    """The object of a refusal from the code and the message of each reason."""
    each = [{"code": code, "message": message} for code, message in reasons]
    return {"schema": "flankwise/refusal/1", "status": "refused", "reasons": each}
