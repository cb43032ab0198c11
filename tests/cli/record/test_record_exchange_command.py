"""``flankwise record report``, ``export`` and ``import``: whole commands, and what they refuse."""

from __future__ import annotations

import json
import re
import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest

from cli.main import main
from tests.records.workshop import measured_workshop


@pytest.fixture(scope="module")
def register(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A register that no test writes."""
    return str(measured_workshop(tmp_path_factory.mktemp("register")).path)


def as_json(capsys: pytest.CaptureFixture[str], *arguments: str, expect: int = 0) -> dict[str, Any]:
    capsys.readouterr()
    assert main(["record", *arguments, "--json"]) == expect
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


@pytest.mark.slow
def test_a_job_is_printed_in_both_kinds(
    register: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, start in (("job.pdf", b"%PDF-"), ("job.html", b"<!DOCTYPE html>")):
        target = tmp_path / name
        found = as_json(capsys, "report", "1", "-o", str(target), "--register", register, "--paper", "letter")
        assert (found["parts"], found["measured"]) == (4, 3)
        assert target.read_bytes().startswith(start)
        assert found["bytes"] == target.stat().st_size
    # a report may be written again; another file only with --force; a terminal is told how far it is
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert main(["record", "report", "1", "-o", str(tmp_path / "job.pdf"), "--register", register]) == 0
    told = re.findall(r"(\d+) %", capsys.readouterr().err)
    assert len(told) == found["measured"]
    assert sorted(map(int, told)) == [int(one) for one in told]
    other = tmp_path / "other.pdf"
    other.write_bytes(b"%PDF-1.4 of somebody else")
    assert main(["record", "report", "1", "-o", str(other), "--register", register]) == 2
    assert other.read_bytes() == b"%PDF-1.4 of somebody else"


def test_parts_go_from_one_register_to_another(
    register: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bundle, there = str(tmp_path / "job.zip"), str(tmp_path / "there.sqlite")
    assert as_json(capsys, "export", "-o", bundle, "--job", "1", "--register", register)["parts"] == 4
    found = as_json(capsys, "import", bundle, "--register", there)
    assert (found["filed"]["parts"], found["filed"]["pictures"], found["without_picture"]) == (4, 1, 0)
    assert as_json(capsys, "import", bundle, "--register", there)["filed"] == {}
    assert main(["record", "verify", "--register", there]) == 0
    table, document = str(tmp_path / "parts.csv"), str(tmp_path / "parts.json")
    assert main(["record", "export", "-o", table, "--register", there]) == 0
    assert as_json(capsys, "import", table, "--register", there)["on_file"] == {"parts": 4}
    assert main(["record", "export", "-o", document, "--part", "2", "--part", "3", "--register", there]) == 0
    capsys.readouterr()
    assert main(["record", "import", document, "--register", str(tmp_path / "third.sqlite")]) == 0
    told = capsys.readouterr()
    assert "2 parts" in told.out
    assert "1 pictures did not come along" in told.err
    drawing = tmp_path / "part.dxf"
    assert main(["record", "export", "-o", str(drawing), "--part", "1", "--register", register]) == 0
    assert b"OUTLINE" in drawing.read_bytes()


def test_what_is_refused_is_told_with_its_code(
    register: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    def code(*arguments: str, where: str = register) -> str:
        return str(as_json(capsys, *arguments, "--register", where, expect=3)["reasons"][0]["code"])

    out = tmp_path / "x"
    assert code("report", "no such job", "-o", f"{out}.pdf") == "no_such_name"
    assert code("report", "1", "-o", f"{out}.pdf", where=str(tmp_path / "none.sqlite")) == "no_register"
    assert code("export", "-o", f"{out}.csv", "--job", "no such job") == "no_such_name"
    assert code("export", "-o", f"{out}.csv", "--part", "99") == "no_part_on_file"
    assert code("export", "-o", f"{out}.dxf", "--part", "4") == "not_measured"
    fresh = str(tmp_path / "fresh.sqlite")
    for name, content, expected in (
        ("a.zip", b"junk", "bundle_unreadable"),
        ("a.json", b"{}", "document_foreign"),
        ("a.csv", b"pitch\n1\n", "table_invalid"),
    ):
        (tmp_path / name).write_bytes(content)
        assert code("import", str(tmp_path / name), where=fresh) == expected
    with zipfile.ZipFile(tmp_path / "evil.zip", "w") as archive:
        archive.writestr("manifest.json", "{}")
        archive.writestr("../evil", "x")
    assert code("import", str(tmp_path / "evil.zip"), where=fresh) == "bundle_unsafe"
    assert not Path(fresh).exists()
    assert not (tmp_path.parent / "evil").exists()


@pytest.mark.parametrize(
    "arguments",
    [
        ("report", "1"),
        ("report", "1", "-o", "job.txt"),
        ("report", "1", "-o", "none/job.pdf"),
        ("report", "1", "-o", "job.pdf", "--paper", "a5"),
        ("report", "1", "-o", "job.pdf", "--unit", "cm"),
        ("export", "-o", "parts.xls"),
        ("export", "-o", "there.csv"),
        ("export", "-o", "part.dxf"),
        ("export", "-o", "part.dxf", "--part", "1", "--part", "2"),
        ("export", "-o", "part.csv", "--part", "1", "--job", "1"),
        ("export", "-o", "part.csv", "--part", "one"),
        ("import", "none.zip"),
        ("import", "there.txt"),
    ],
)
def test_a_wrong_command_line_is_told_before_anything_is_written(
    register: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...]
) -> None:
    monkeypatch.chdir(tmp_path)
    for name in ("there.csv", "there.txt"):
        Path(name).write_text("mine")
    assert main(["record", *arguments, "--register", register]) == 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["there.csv", "there.txt"]
    assert Path("there.csv").read_text() == "mine"
