"""Reads the CSV tables in ``threads/data``: every row has a ``source`` column that says where its numbers come from."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

FROM_MEMORY = "from memory, unverified"
"""How the ``source`` of a row begins whose numbers have not been compared with a printed text."""


ONE_LOOSE_SOURCE = "one loose source, unverified"
"""How it begins where the numbers stand on one page that is wrong elsewhere."""


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """The rows of ``threads/data/<name>`` in file order, as text. Do not change the dictionaries: they are shared."""
    text = files("threads").joinpath("data", name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def is_unverified(source: str) -> bool:
    """True when ``source`` says that the numbers are from memory, or from one page that is not to be relied on."""
    return source.startswith((FROM_MEMORY, ONE_LOOSE_SOURCE))


def join_sources(*sources: str) -> str:
    """One line from several sources, without repeats; what is from memory goes first, so that it is not overlooked."""
    once = dict.fromkeys(source for source in sources if source)
    return "; ".join(sorted(once, key=lambda source: not is_unverified(source)))
