"""The uncertainty budget of a measurement, and the trials that check it, as a person reads them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from cli.tables import Block, plain_table
from threads.shared.formatting import write_quantity
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.quantity_words import QUANTITIES

if TYPE_CHECKING:
    from vision.result.measurement import Measurement
    from vision.result.monte_carlo import Trials

_NOTHING = 1e-9


def budget_parts(measurement: Measurement, *, inches: bool) -> list[Block]:
    """One table a quantity: every source with its standard uncertainty and its share, the largest first."""
    from vision.fit.budget import shares

    out: list[Block] = []
    for name, words in QUANTITIES:
        terms = measurement.budget.get(name, ())
        quantity: Quantity | None = getattr(measurement.thread, name)
        if not terms or quantity is None or (name == "lead" and measurement.thread.starts == 1):
            continue
        table = plain_table(words, "u", "share", right=("u", "share"))
        for term, share in sorted(zip(terms, shares(terms), strict=True), key=lambda pair: -(pair[1] or 0.0)):
            if share is not None and share < _NOTHING:
                continue
            part = "one side only" if share is None else f"{100 * share:.0f} %"
            table.add_row(term.source, _as_u95(term.u, term.unit, inches=inches), part)
        table.add_row("together", _as_u95(quantity.standard_uncertainty, quantity.unit, inches=inches), "100 %")
        out += [table, ""]
    return [*out, "u is a standard uncertainty; U95 is twice the last line, and what acts to one side only is added."]


def trials_parts(measurement: Measurement, trials: Trials, *, inches: bool) -> list[Block]:
    """What the trials say beside the budget, a row a quantity."""
    from vision.fit.quantities import NAMES

    table = plain_table(
        f"{trials.values.shape[0]} trials",
        "mean", "95 % interval, from", "to", "u", "u of the budget",
        right=("mean", "95 % interval, from", "to", "u", "u of the budget"),
    )  # fmt: skip
    low, high = trials.interval()
    for name, words in QUANTITIES:
        quantity: Quantity | None = getattr(measurement.thread, name)
        if quantity is None or name not in NAMES or (name == "lead" and measurement.thread.starts == 1):
            continue
        i = NAMES.index(name)
        u = float(trials.standard_uncertainty[i])
        mean, lower, upper = (
            write_quantity(Quantity(float(v), u, quantity.unit), inches=inches)
            for v in (trials.mean[i], low[i], high[i])
        )
        if mean is not None and lower is not None and upper is not None:
            sizes = (str(replace(one, u95="")) for one in (mean, lower, upper))
            both = (_as_u95(one, quantity.unit, inches=inches) for one in (u, quantity.standard_uncertainty))
            table.add_row(words, *sizes, *both)
    return [table, f"random numbers of seed {trials.seed}; what acts to one side only is in neither u"]


def _as_u95(u: float, unit: str, *, inches: bool) -> str:
    """A standard uncertainty with two significant digits and its unit, lengths in um (or inches)."""
    scaled = Quantity(1e3 * u, 0.0, "um") if unit == "mm" and not inches else Quantity(u, 0.0, unit)
    # written as the U95 of half its size, which is how two significant digits are kept
    written = write_quantity(Quantity(scaled.value, scaled.value / COVERAGE_FACTOR, scaled.unit), inches=inches)
    return f"0 {scaled.unit}" if written is None else str(replace(written, value=written.u95 or "0", u95=""))
