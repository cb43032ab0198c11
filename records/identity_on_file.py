"""What an identification on file says in a few words, as a reason, so that every language can say it."""

from __future__ import annotations

from typing import Any

from threads.shared.refusal import Reason


def words_on_file(words: Any, says: str) -> Reason:
    """The answer that a document keeps as ``words``; the sentence ``says`` where it keeps none, or no reason."""
    try:
        return Reason.from_dict(words)
    except (KeyError, TypeError, ValueError):
        return Reason.from_dict({"code": "identity", "message": says})
