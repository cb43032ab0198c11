"""What is on file sharpens how common a series is, and never stands in the way."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from records.series_on_file import series_on_file
from tests.records.registers import file_workshop, new_register, screws


def test_parts_are_counted_by_series(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    assert series_on_file(register.path) == {}
    file_workshop(register, 6)
    assert series_on_file(register.path) == Counter(limits.series for limits, _ in screws(6))


def test_what_is_no_register_counts_nothing(tmp_path: Path) -> None:
    assert series_on_file(tmp_path / "none.sqlite") == {}
    other = tmp_path / "other.sqlite"
    other.write_bytes(b"no database at all")
    assert series_on_file(other) == {}
