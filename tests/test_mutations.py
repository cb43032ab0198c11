"""The lines that ``tests/mutations.py`` breaks are there, and so are the tests that should notice."""

from __future__ import annotations

from tests.each import each
from tests.mutations import MUTATIONS, ROOT, Mutation


@each("mutation", MUTATIONS)
def test_the_line_stands_once_and_its_tests_exist(mutation: Mutation) -> None:
    assert (ROOT / mutation.file).read_text("utf-8").count(mutation.old) == 1
    assert mutation.old != mutation.new
    paths = [word for word in mutation.tests.split() if word.startswith("tests/")]
    assert paths
    assert all((ROOT / path).exists() for path in paths)
