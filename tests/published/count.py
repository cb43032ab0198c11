"""Counts the published numbers that the checks here compare with: ``python -m tests.published.count``.

A number is one printed value of a table that a test reads; the columns that only say which thread it is are left out.
Sources that quote each other count as one.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from importlib import import_module
from typing import Any

HANDBOOK = "Machinery's Handbook, 27th and 31st ed."


@dataclass(frozen=True)
class Listed:
    """A table: module (without ``test_published_``), name, source, series it is about, leading columns that name."""

    module: str
    table: str
    source: str
    series: str
    naming: int = 1


LISTED = [
    Listed("american_national", "HANDBOOK_TABLE_22", HANDBOOK, "NC NF NS", 2),
    Listed("american_national", "HANDBOOK_TABLE_23", HANDBOOK, "NC NF NEF NS", 2),
    Listed("unified", "ENGINEERING_REFERENCE_EXTERNAL", "an online engineering reference", "UNC UNF", 2),
    Listed("unified", "ENGINEERING_REFERENCE_INTERNAL", "an online engineering reference", "UNC UNF", 2),
    Listed("unified", "TAP_CATALOGUE_2020", "a tap maker's catalogue, 2020", "UNC UNF"),
    Listed("unified", "TOOL_GUIDE_2022_MM", "a tool maker's guide, 2022", "UNF"),
    Listed("unified", "ASME_UN_2A2B_dict", "the package screw_thread_lib", "UNC UNF"),
    Listed("unified_series", "WORKSHOP_CHART", "a workshop's chart", "UNC UNF UNS", 2),
    Listed("unified_series", "UNC_NUTS_2016", "a one-page table of nuts, 2016", "UNC"),
    Listed("unified_series", "RING_GAUGES", "a gauge maker's list of ring gauges", "UNEF", 2),
    Listed("unified_series", "TRANSCRIPTION", "an online transcription of ASME B1.1", "UNC UNF UN UNS", 3),
    Listed("unified_series", "HANDBOOK_LARGE", HANDBOOK, "UN", 3),
    Listed("unified_series", "HANDBOOK_BASIC", HANDBOOK, "UNC UNF UNEF UN", 2),
    Listed("iso_metric", "ONLINE_CHART", "an online chart of M profile", "M"),
    Listed("iso_metric", "ROLL_THREADING_TABLE", "a roll-threading table", "M"),
    Listed("iso_metric", "SHOP_CHART", "a machine shop's chart", "M fine"),
    Listed("iso_metric", "M12_SHEETS", "data sheets of M12", "M"),
    Listed("iso_metric", "PUBLIC_TABLE", "a public CAD library's table", "M fine M"),
    Listed("iso_metric", "TAP_CATALOGUE_2021", "a tap maker's catalogue, 2021", "M"),
    Listed("iso_metric", "UNI_4535", "a tool maker's guide, 2022", "M"),
    Listed("iso_metric", "SMALL_SIZES", "a fastener catalogue, p. 711", "M"),
    Listed("metric_above_m12", "LIBRARY", "a public CAD library's table", "M fine M"),
    Listed("metric_above_m12", "UNI_4535", "a tool maker's guide, 2022", "M"),
    Listed("old_metric", "NATIONAL", HANDBOOK, "SI DIN VSM", 2),
    Listed("old_metric", "LOWENHERZ", HANDBOOK, "Lowenherz"),
    Listed("british_association", "BEYOND", "Tables of Physical and Chemical Constants, 1941", "BA"),
    Listed("whitworth_forms", "CHART", "an engineers' chart of Whitworth threads", "BSW"),
    Listed("whitworth_forms", "SUPPLIER", "a fastener supplier's table", "BSW"),
    Listed("whitworth_forms", "BRASS", "an online table of brass threads", "BSB"),
    Listed("whitworth_forms", "CYCLE", "an online table of cycle threads", "BSC", 2),
    Listed("whitworth_forms", "HANDBOOK_FORM", HANDBOOK, "BSW"),
    Listed("whitworth_forms", "BRITISH_ASSOCIATION_FORM", HANDBOOK, "BA"),
    Listed("pipe_and_cycle", "GOST", "GOST 6357-52, on a web page", "G"),
    Listed("pipe_and_cycle", "CYCLE_SHOP_LISTS", "two shop lists of cycle threads", "BSC"),
    Listed("wires", "HANDBOOK_OVER_WIRES", HANDBOOK, "V NC", 2),
    Listed("wires", "HANDBOOK_CONSTANTS", HANDBOOK, "BSW"),
    Listed("wires", "BEST_WIRES", "a thread measuring service's page", "UNC"),
    Listed("drills", "HANDBOOK_PERCENTAGES", HANDBOOK, "UNC UNF"),
]


def numbers(listed: Listed) -> int:
    """How many printed values a table has."""
    table: Any = getattr(import_module(f"tests.published.test_published_{listed.module}"), listed.table)
    if isinstance(table, dict):
        return sum(_numbers_in(value) for value in table.values())
    return sum(_values(row.split()[listed.naming :]) for row in table)


def _numbers_in(value: Any) -> int:
    if isinstance(value, dict):
        return sum(isinstance(one, float) for one in value.values())
    return 1


def _values(columns: list[str]) -> int:
    return sum(column.replace(".", "", 1).lstrip("-").isdigit() for column in columns)


def totals() -> tuple[int, set[str], set[str]]:
    """Numbers, series and sources."""
    series = {name for one in LISTED for name in one.series.replace("M fine", "M_fine").split()}
    return sum(map(numbers, LISTED)), series, {one.source for one in LISTED}


if __name__ == "__main__":
    lines = [f"{numbers(one):5d}  {one.series:22s}  {one.source}" for one in LISTED]
    count, of_series, of_sources = totals()
    lines.append(f"{count} published numbers, {len(of_series)} series, {len(of_sources)} sources")
    sys.stdout.write("\n".join(lines) + "\n")
