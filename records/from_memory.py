"""Which filed answers rest on rows of the tables that are from memory: they carry a mark and a footnote."""

from __future__ import annotations

from typing import Any

from threads.rules.table import is_unverified

MARK = "†"
FOOTNOTE = f"{MARK} limits or sizes from memory, unverified"

IS_FROM_MEMORY = """(d.status <> 'no_match' AND EXISTS (
    SELECT 1 FROM json_each(d.document, '$.candidates') one WHERE json_extract(one.value, '$.unverified') AND (
        one.key = 0 OR json_extract(one.value, '$.designation') IN (
            SELECT value FROM json_each(d.document, '$.groups[0].members')))))"""
"""``identified_from_memory`` in SQL, of an identification ``d``; NULL where there is none."""


def identified_from_memory(document: dict[str, Any]) -> bool:
    """Whether the first candidate of an identification, or one that it is not told apart from, is unverified."""
    if document["status"] == "no_match":
        return False
    named = {name for group in document.get("groups", [])[:1] for name in group["members"]}
    named |= {one["designation"] for one in document["candidates"][:1]}
    return any(one.get("unverified") for one in document["candidates"] if one["designation"] in named)


def checked_from_memory(document: dict[str, Any]) -> bool:
    """Whether the limits of a check (``check --json``) are unverified."""
    return is_unverified(document.get("source", ""))


def marked(text: str, *, from_memory: bool) -> str:
    """``text``, with the mark behind it where it is called for."""
    return f"{text} {MARK}" if from_memory else text
