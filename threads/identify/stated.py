"""What a document or a person says of a thread, as evidence of its own beside measurement, origin and year.

A weight says how many times likelier what is stated becomes against everything else. The usual weights are workshop
assumptions without a source: a maker's drawing is hard to beat, a word is not.
"""

from __future__ import annotations

from dataclasses import dataclass

from threads.shared.refusal import ReasonedError
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.limits import Limits
from threads.standards.series import UnknownSeriesError, series_info

DRAWING, CATALOGUE, WORD = "drawing", "catalogue", "word"
WEIGHTS = {DRAWING: 100.0, CATALOGUE: 20.0, WORD: 4.0}
"""By whom, and how many times likelier that makes it."""
MOST = 1e6
CONTRADICTED = 0.05
"""Where what is stated keeps a smaller probability in spite of its weight, the measurement contradicts it."""


class StatedError(ReasonedError, ValueError):
    """What was stated is no series and no designation, or its source or weight is not known."""


@dataclass(frozen=True)
class Stated:
    """A statement. ``text``: as given; ``series``, ``size``, ``thread_class``: what it names, empty if it does not."""

    text: str
    by: str
    weight: float
    series: str
    size: str = ""
    thread_class: str = ""

    def names(self, limits: Limits) -> bool:
        """Whether a class is among what is stated."""
        return (
            limits.series == self.series
            and self.size in ("", limits.size)
            and self.thread_class in ("", limits.thread_class)
        )


def stated(text: str, by: str = WORD, weight: float | None = None) -> Stated:
    """Read a statement: a series (``NC``), a size (``5-40 NC``) or a class (``5-40 NC-2``).

    Raises StatedError for a text that is none of these, a source that is not one of ``WEIGHTS``, or a weight that is
    not between 1 and ``MOST``.
    """
    if by not in WEIGHTS:
        raise StatedError("stated_by_unknown", by=by, known=tuple(WEIGHTS))
    how = WEIGHTS[by] if weight is None else weight
    if not 1.0 <= how <= MOST:
        raise StatedError("stated_weight", weight=how)
    clean = " ".join(text.split())
    try:
        return Stated(clean, by, how, series_info(clean).name)
    except UnknownSeriesError:
        pass
    try:
        found = parse(clean)
    except UnknownDesignationError as error:
        raise StatedError("stated_unknown", text=clean) from error
    named = clean.casefold().endswith(found.thread_class.casefold()) and found.text != f"{found.size} {found.series}"
    return Stated(clean, by, how, found.series, found.size, found.thread_class if named else "")
