"""A picture, gauge or file that cannot be used: what is wrong and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Reason:
    """One reason of a refusal: a stable code and one line for the person at the bench."""

    code: str
    message: str


class RefusalError(Exception):
    """Raised when a picture, gauge or file is refused. The command line ends with exit code 3."""

    def __init__(self, code: str, message: str, *more: Reason) -> None:
        super().__init__(message)
        self.reasons: tuple[Reason, ...] = (Reason(code, message), *more)

    @property
    def code(self) -> str:
        """The code of the first reason."""
        return self.reasons[0].code
