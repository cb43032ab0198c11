"""A refusal expected by what a person reads of it: the errors themselves carry codes and values only."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

import pytest

from flankwise.reasons import message, sentence
from threads.shared.refusal import Reason, ReasonedError


@contextmanager
def refused(kind: type[Exception], *, match: str) -> Iterator[pytest.ExceptionInfo[ReasonedError]]:
    """As ``pytest.raises``; ``match`` is looked for in the English sentences."""
    with pytest.raises(kind) as caught:
        yield caught
    assert isinstance(caught.value, ReasonedError)
    said = message(caught.value)
    assert re.search(match, said), said


def told(reasons: Iterable[Reason]) -> str:
    """What a person reads of several reasons, each a sentence."""
    return "; ".join(map(sentence, reasons))
