"""The workshop's own series beside the built-in ones: kept whole or not at all, found everywhere, never in the way."""

from __future__ import annotations

from pathlib import Path

import pytest

from flankwise.reasons import message
from tests.each import each
from tests.refused import refused
from tests.threads.measured_factory import measured_thread
from threads.identify.identification import identify
from threads.judge.wires import wire_sizes
from threads.own import own_files
from threads.own.own_folder import BrokenOwnSeriesError
from threads.own.own_table import EXAMPLE, OwnTableError
from threads.rules.series_tables import ALIASES, builtin_names
from threads.standards import own_series
from threads.standards.designation import UnknownDesignationError, designation_of, parse
from threads.standards.limits import candidates, limits_of
from threads.standards.own_series import BuiltInSeriesError
from threads.standards.series import UnknownSeriesError, entries, series_info, series_names
from threads.workshop.tools import tools_of

CLOSE = EXAMPLE.replace("ISO metric,,screw,0.06", "ISO metric,close,screw,0.06").encode()


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "data"
    monkeypatch.setenv("FLANKWISE_DATA", str(folder))
    return folder


def test_without_own_series_nothing_is_there_and_nothing_is_written(data: Path) -> None:
    assert own_files.own_series() == ()
    assert series_names() == builtin_names()
    assert not data.exists()


def test_an_own_series_is_found_everywhere() -> None:
    before = len(entries())
    own_series.add(EXAMPLE.encode())
    assert series_names() == (*builtin_names(), "QW")
    assert series_info("qw").own
    assert not series_info("NC").own
    assert [entry.size for entry in entries("qw")] == ["1.8x0.35", "2.2x0.40"]
    assert len(entries()) == before + 2
    assert [limits.designation for limits in candidates(["QW"])] == ["1.8x0.35 QW", "2.2x0.40 QW"]
    assert candidates()[-1].designation == "2.2x0.40 QW"
    for text in ("1.8x0.35 QW", "#1.8X0.35qw", "1,8x0,35 QW", " 1.8 × 0.35 qw "):
        assert parse(text).text == "1.8x0.35 QW"
    assert parse("1.8x0.35 qw nut").text == parse("1.8x0.35 qw", internal=True).text == "1.8x0.35 QW nut"
    assert limits_of(parse("1.8x0.35 QW")).major.low == 1.74
    with pytest.raises(UnknownDesignationError) as unknown:
        parse("1.8x0.36 QW")
    assert "1.8x0.35 QW" in unknown.value.nearest
    with refused(UnknownDesignationError, match="a class of internal threads"):
        parse("1.8x0.35 QW nut", internal=False)


def test_designations_give_themselves_back() -> None:
    own_series.add(CLOSE)
    for entry in entries("QW"):
        for internal, classes in ((False, entry.classes), (True, entry.internal_classes)):
            for name in classes:
                designation = designation_of(entry, name, internal=internal)
                assert parse(designation.text) == designation
                limits = limits_of(designation)
                assert limits.internal == internal
                assert tools_of(limits).ask_for
                assert internal or wire_sizes(limits).best_wire > 0
    assert parse("1.8x0.35 QW close").text == parse("1.8x0.35qw-close").text == "1.8x0.35 QW close"


def test_identification_takes_it_in_and_out_again() -> None:
    own_series.add(EXAMPLE.encode())
    middle = limits_of(parse("2.2x0.40 QW"))
    thread = measured_thread(2.14, 1.90, 0.40)
    found = identify(thread, series=["QW"])
    assert found.candidates[0].limits.designation == middle.designation
    assert any(candidate.limits.series == "QW" for candidate in identify(thread).candidates)
    own_series.remove("QW")
    assert not any(candidate.limits.series == "QW" for candidate in identify(thread).candidates)
    with pytest.raises(UnknownSeriesError):
        identify(thread, series=["QW"])


def test_adding_twice_needs_replace_and_replaces_whole(data: Path) -> None:
    own_series.add(EXAMPLE.encode())
    with refused(OwnTableError, match="one of your own series already"):
        own_series.add(CLOSE)
    assert entries("QW")[0].classes == ("workshop",)
    own_series.add(CLOSE, replace=True)
    assert entries("QW")[0].classes == ("close",)
    assert [path.name for path in (data / "series").iterdir()] == ["qw.csv"]


def test_what_is_refused_leaves_nothing_behind(data: Path) -> None:
    own_series.add(EXAMPLE.encode())
    kept = (data / "series" / "qw.csv").read_bytes()
    with pytest.raises(OwnTableError):
        own_series.add(EXAMPLE.replace("2.20", "x").encode(), replace=True)
    assert (data / "series" / "qw.csv").read_bytes() == kept
    assert [path.name for path in (data / "series").iterdir()] == ["qw.csv"]


def test_a_write_that_fails_leaves_the_old_file(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    own_series.add(EXAMPLE.encode())

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("threads.shared.whole_file.os.fsync", full)
    with pytest.raises(OSError, match="No space left"):
        own_series.add(CLOSE, replace=True)
    assert (data / "series" / "qw.csv").read_bytes() == EXAMPLE.encode()
    assert [path.name for path in (data / "series").iterdir()] == ["qw.csv"]
    assert entries("QW")[0].classes == ("workshop",)


@each("name", [*builtin_names(), *ALIASES, "add", "Remove", "show"])
def test_names_of_others_are_refused(name: str) -> None:
    written = "".join(name.split())
    with pytest.raises(OwnTableError) as caught:
        own_series.add(EXAMPLE.replace("QW,", f"{written},", 1).encode())
    assert caught.value.faults[0].column == "series"
    assert own_files.own_series() == ()


def test_threads_that_would_be_read_as_others_are_refused() -> None:
    standard = EXAMPLE.replace("QW,", "NC2,", 1).replace("1.8x0.35", "4-40")  # 4-40 NC-2 without its spaces
    with refused(OwnTableError, match="'4-40 NC2' is written as a thread of a built-in series is"):
        own_series.add(standard.encode())
    first = EXAMPLE.replace("1.8x0.35", "A").replace("QW,", "BQ,", 1)
    second = EXAMPLE.replace("1.8x0.35", "AB").replace("QW,", "Q,", 1)  # ABQ both
    own_series.add(first.encode())
    with refused(OwnTableError, match="is written like another thread"):
        own_series.add(second.encode())


def test_removing() -> None:
    own_series.add(EXAMPLE.encode())
    with pytest.raises(BuiltInSeriesError):
        own_series.remove("nc")
    for name in ("QX", "", "../series/qw", "qw.csv"):
        with pytest.raises(UnknownSeriesError):
            own_series.remove(name)
    assert own_series.remove(" QW ").name == "qw.csv"
    assert own_files.own_series() == ()
    with pytest.raises(UnknownSeriesError):
        own_series.remove("QW")


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "empty"),
        (b"\0\1\2", "not a text file"),
        (EXAMPLE.replace("0.40", "x").encode(), "row 4, column 'pitch'"),
        (EXAMPLE.replace("0.35,", "x,").encode(), r"and 1 more"),
        (EXAMPLE.replace("QW,", "NC,", 1).encode(), "'NC' is the name of a built-in series"),
        (EXAMPLE.replace("QW,", "QX,", 1).encode(), "is called 'QX', but its file is not"),
    ],
)
def test_a_damaged_file_is_one_line_that_says_what_to_do(data: Path, content: bytes, says: str) -> None:
    own_series.add(EXAMPLE.encode())
    (data / "series" / "qw.csv").write_bytes(content)
    assert series_info("NC").name == "NC"  # what needs no own series is not in the way
    for call in (series_names, entries, candidates, lambda: parse("4-40 NC-2"), lambda: series_info("QW")):
        with refused(BrokenOwnSeriesError, match=says) as caught:
            call()
        assert "\n" not in message(caught.value)
        assert "flankwise series remove qw" in message(caught.value)
    own_series.remove("qw")
    assert series_names() == builtin_names()


def test_what_is_no_file_of_a_series_is_left_alone(data: Path) -> None:
    (data / "series" / "old").mkdir(parents=True)
    (data / "series" / "notes.txt").write_text("not a series")
    (data / "series" / "qw.csv.tmp").write_text("half written")
    assert series_names() == builtin_names()
    (data / "series" / "folder.csv").mkdir()
    with refused(BrokenOwnSeriesError, match=r"folder\.csv"):
        series_names()


def test_a_data_folder_that_is_a_file_holds_no_series(data: Path) -> None:
    data.write_text("not a folder")
    assert series_names() == builtin_names()
    with pytest.raises(OSError, match="directory"):
        own_series.add(EXAMPLE.encode())
