"""What is stated of a thread comes back out of its note."""

from __future__ import annotations

import hashlib
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from records.statements import stated_in, statement_note
from threads.identify.stated import WEIGHTS, stated


@given(
    text=st.sampled_from(["NC", "5-40 NC", "5-40 NC-2", "BA", "4 BA", "M3x0.5-6g", "M3"]),
    by=st.sampled_from(sorted(WEIGHTS)),
    weight=st.none() | st.sampled_from([1.0, 2.5, 100.0, 1e6]),
    source=st.none() | st.text(max_size=30),
    before=st.sampled_from(["", "slot worn; ", "stated: BSW, by word, weight 4; "]),
)
def test_a_statement_comes_back_with_its_weight(
    text: str, by: str, weight: float | None, source: str | None, before: str
) -> None:
    said = stated(text, by, weight)
    assert stated_in([f"{before}{statement_note(said, source)}"]) in (said, stated("BSW"))
    assert stated_in(["stated: BA, by word", statement_note(said, source)]) == said


def test_what_is_no_statement_says_nothing(tmp_path: Path) -> None:
    assert stated_in(["slot worn", "stated: Quux, by drawing", "as stated: by the owner"]) is None
    drawing = tmp_path / "sheet 12.pdf"
    drawing.write_bytes(b"%PDF")
    note = statement_note(stated("NC", "drawing"), str(drawing))
    assert note.endswith(f"source: sheet 12.pdf (SHA-256 {hashlib.sha256(b'%PDF').hexdigest()[:16]}...)")
