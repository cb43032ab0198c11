"""The uncertainty budget of a measurement, and the trials that check it, as a person reads them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cli.tables import plain_table
from threads.shared.formatting import write_quantity
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.quantity_words import QUANTITIES

if TYPE_CHECKING:
    from rich.console import RenderableType

    from vision.result.measurement import Measurement
    from vision.result.monte_carlo import Trials

_NOTHING = 1e-9


def budget_parts(measurement: Measurement, *, inches: bool) -> list[RenderableType]:
    """One table a quantity: every source with its standard uncertainty and its share, the largest first."""
    from vision.fit.budget import shares

    out: list[RenderableType] = []
    for name, words in QUANTITIES:
        terms = measurement.budget.get(name, ())
        quantity: Quantity | None = getattr(measurement.thread, name)
        if not terms or quantity is None or (name == "lead" and measurement.thread.starts == 1):
            continue
        table = plain_table(words, "u", "", "share", right=("u", "share"), whole=("u", "", "share"))
        for term, share in sorted(zip(terms, shares(terms), strict=True), key=lambda pair: -(pair[1] or 0.0)):
            if share is not None and share < _NOTHING:
                continue
            value, unit = _as_u95(term.u, term.unit, inches=inches)
            table.add_row(term.source, value, unit, "one side only" if share is None else f"{100 * share:.0f} %")
        together, unit = _as_u95(quantity.standard_uncertainty, quantity.unit, inches=inches)
        table.add_row("together", together, unit, "100 %")
        out += [table, ""]
    return [*out, "u is a standard uncertainty; U95 is twice the last line, and what acts to one side only is added."]


def trials_parts(measurement: Measurement, trials: Trials, *, inches: bool) -> list[RenderableType]:
    """What the trials say beside the budget, a row a quantity."""
    from vision.fit.quantities import NAMES

    table = plain_table(
        f"{trials.values.shape[0]} trials",
        "mean", "95 % interval, from", "to", "", "u", "u of the budget", "",
        right=("mean", "95 % interval, from", "to", "u", "u of the budget"), whole=("mean", "u"),
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
        of_trials, unit = _as_u95(u, quantity.unit, inches=inches)
        linear, _ = _as_u95(quantity.standard_uncertainty, quantity.unit, inches=inches)
        if mean is not None and lower is not None and upper is not None:
            table.add_row(words, mean.value, lower.value, upper.value, mean.unit, of_trials, linear, unit)
    return [table, f"random numbers of seed {trials.seed}; what acts to one side only is in neither u"]


def _as_u95(u: float, unit: str, *, inches: bool) -> tuple[str, str]:
    """A standard uncertainty with two significant digits, lengths in um (or inches), and its unit."""
    scaled = Quantity(1e3 * u, 0.0, "um") if unit == "mm" and not inches else Quantity(u, 0.0, unit)
    # written as the U95 of half its size, which is how two significant digits are kept
    written = write_quantity(Quantity(scaled.value, scaled.value / COVERAGE_FACTOR, scaled.unit), inches=inches)
    return ("0", scaled.unit) if written is None else (written.u95 or "0", written.unit)
