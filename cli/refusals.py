"""How a refused picture, gauge or file is reported."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from cli.errors import CommandRefusedError, say
from cli.output import write_json
from threads.shared.refusal import Reason, RefusalError


@contextmanager
def refusals_reported(*, as_json: bool, instead: Mapping[str, str] | None = None) -> Iterator[None]:
    """Report a RefusalError raised inside: one line per reason on stderr, with ``as_json`` the object on stdout too.

    ``instead``: words of a message, mostly an option that the command does not have, and what is said for them.

    Raises CommandRefusedError in its place.
    """
    try:
        yield
    except RefusalError as refusal:
        reasons = [Reason(reason.code, reworded(reason.message, instead or {})) for reason in refusal.reasons]
        _report(RefusalError(reasons[0].code, reasons[0].message, *reasons[1:]), as_json=as_json)
        raise CommandRefusedError from refusal


def reworded(message: str, instead: Mapping[str, str]) -> str:
    """``message`` with what stands in ``instead`` put for its words."""
    for words, others in instead.items():
        message = message.replace(words, others)
    return message


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
