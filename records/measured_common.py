"""A measurement on file with what its errors share with others of its bench."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flankwise.judging_instrument import common_errors
from threads.identify.screw_evidence import CommonErrors
from threads.measured.measured_document import possible_thread
from threads.measured.thread import MeasuredThread


def with_common(document: Mapping[str, Any]) -> tuple[MeasuredThread, CommonErrors | None]:
    """The thread of a ``flankwise/measurement/1``, and what a calibrated bench does to all its parts; None without."""
    thread, budget, bench = with_budget(document)
    return thread, None if bench is None else common_errors(budget, thread, bench)


def with_budget(document: Mapping[str, Any]) -> tuple[MeasuredThread, dict[str, list[tuple[str, float]]], str | None]:
    """The thread, its budget as (source, u) of each quantity, and the calibration's id, None without one."""
    budget = {
        quantity: [(str(term["source"]), float(term["u"])) for term in terms]
        for quantity, terms in document.get("uncertainty_budget", {}).items()
    }
    return possible_thread(document), budget, document.get("calibration", {}).get("id")
