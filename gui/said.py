"""Sentences that come from downstairs, in the language of the window where they are known in it."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication


def said(text: str) -> str:
    """``text``, a refusal, a warning or advice, in the language in force; as it is where nobody translated it."""
    return QCoreApplication.translate("said", text) if text else ""
