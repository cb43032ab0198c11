"""How a refused picture, gauge or file is reported."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from cli.errors import CommandRefusedError, say
from cli.output import write_json
from flankwise.reasons import sentence
from threads.shared.refusal import Reason, RefusalError


@contextmanager
def refusals_reported(*, as_json: bool, instead: Mapping[str, str] | None = None) -> Iterator[None]:
    """Report a RefusalError raised inside: one line per reason on stderr, with ``as_json`` the object on stdout too.

    ``instead``: rows of the table that this command has in place of others, which speak of options that it lacks.

    Raises CommandRefusedError in its place.
    """
    try:
        yield
    except RefusalError as refusal:
        _report(RefusalError(*(in_place(reason, instead or {}) for reason in refusal.reasons)), as_json=as_json)
        raise CommandRefusedError from refusal


def in_place(reason: Reason, instead: Mapping[str, str]) -> Reason:
    """``reason`` with the row that ``instead`` has for its code."""
    return Reason(instead[reason.code], **reason.values) if reason.code in instead else reason


def report_broken_series(error: Exception, *, as_json: bool) -> bool:
    """Report ``error`` as a refusal if it is a damaged file of an own series, which any command may come upon."""
    from threads.own.own_folder import BrokenOwnSeriesError

    if not isinstance(error, BrokenOwnSeriesError):
        return False
    _report(RefusalError(*error.reasons), as_json=as_json)
    return True


def _report(refusal: RefusalError, *, as_json: bool) -> None:
    for reason in refusal.reasons:
        say(f"flankwise: refused: {sentence(reason)}")
    if as_json:
        write_json(refusal_document(refusal.reasons))


def refusal_document(reasons: Sequence[Reason]) -> dict[str, Any]:
    """The object of a refusal."""
    each = [reason.to_dict() for reason in reasons]
    return {"schema": "flankwise/refusal/1", "status": "refused", "reasons": each}
