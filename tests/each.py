"""Many cheap cases in one test: all are tried, and whatever fails is listed.

As ``pytest.mark.parametrize``, for tables of hundreds of rows: collecting and reporting a case takes longer than it.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable
from functools import wraps
from typing import Any

import pytest


def each(names: str | tuple[str, ...], rows: Iterable[Any]) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Call the test once for each of ``rows``; ``names`` as in ``parametrize``. No row at all is a failure."""
    wanted, cases = names.split(", ") if isinstance(names, str) else list(names), list(rows)

    def one_test(function: Callable[..., None]) -> Callable[..., None]:
        @wraps(function)
        def all_cases(**fixtures: Any) -> None:
            failed = []
            for case in cases:
                given = dict(zip(wanted, (case,) if isinstance(names, str) and len(wanted) == 1 else case, strict=True))
                try:
                    function(**fixtures, **given)
                except Exception as error:  # noqa: BLE001 - told below, with its case
                    failed.append(f"{given}: {type(error).__name__}: {error}")
            if failed or not cases:
                pytest.fail(f"{len(failed)} of {len(cases)} cases:\n" + "\n".join(failed[:20]), pytrace=False)

        parameters = inspect.signature(function).parameters.values()
        all_cases.__signature__ = inspect.Signature([p for p in parameters if p.name not in wanted])  # type: ignore[attr-defined]
        return all_cases

    return one_test
