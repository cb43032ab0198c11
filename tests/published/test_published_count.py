"""That there are as many published numbers as are claimed, of as many series and from as many sources."""

from tests.published.count import LISTED, numbers, totals


def test_there_are_enough_published_numbers():
    count, series, sources = totals()
    assert count >= 1200
    assert len(series) >= 14
    assert len(sources) >= 9


def test_every_listed_table_has_numbers():
    assert all(numbers(one) > 0 for one in LISTED)
