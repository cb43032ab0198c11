"""The same thread if the scale of its picture had been another one."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import numpy as np

from threads.measured.thread import Covariance, MeasuredThread
from threads.shared.quantity import Quantity

_INVERSE = "1/in"


def rescaled(thread: MeasuredThread, factor: float) -> MeasuredThread:
    """``thread`` with all lengths ``factor`` times as large; angles, and lengths over lengths, stay.

    Raises ValueError for a factor that is not above 0.
    """
    if not factor > 0:
        raise ValueError(f"a scale cannot be {factor} times another")
    changed: dict[str, Any] = {}
    for field in fields(thread):
        value = getattr(thread, field.name)
        if isinstance(value, Quantity):
            by = {"mm": factor, _INVERSE: 1 / factor}.get(value.unit, 1.0)
            changed[field.name] = Quantity(
                value.value * by, value.standard_uncertainty * by, value.unit, value.one_sided * by
            )
    units = [getattr(getattr(thread, name, None), "unit", "") for name in thread.covariance.order]
    by_row = np.where(np.array(units) == "mm", factor, 1.0)
    covariance = Covariance(thread.covariance.order, thread.covariance.matrix * np.outer(by_row, by_row))
    return replace(thread, **changed, covariance=covariance, per_thread=())
