"""What a refusal has to be, whoever refuses: words, in one line."""

from __future__ import annotations


def assert_plain(refusal: Exception) -> None:
    """The refusal can be shown as it is."""
    assert str(refusal)
    assert "\n" not in str(refusal)
