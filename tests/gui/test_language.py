"""German is complete, says the same things, and is what the window shows."""

from __future__ import annotations

import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QLocale, QTranslator

from gui.app import create_application, create_window
from gui.language import FOLDER, language_of, speak
from gui.reworded import ELSEWHERE, REWORDED
from gui.said import said
from gui.sentences import TARGET, source, words
from gui.settings import Settings
from gui.translations.sentences import SENTENCES

ROOT = Path(__file__).parents[2]
TS = FOLDER / "flankwise_de.ts"


def messages(file: Path) -> dict[tuple[str, str], str | None]:
    """(context, source): translation; None where it is unfinished."""
    found = {}
    for context in ET.parse(file).getroot().iter("context"):
        name = context.findtext("name") or ""
        for message in context.iter("message"):
            told = message.find("translation")
            assert told is not None
            done = told.get("type") is None and bool(told.text)
            found[name, message.findtext("source") or ""] = told.text if done else None
    return found


@pytest.fixture
def german() -> Iterator[None]:
    """The window speaks German meanwhile."""
    create_application()
    speak("de")
    yield
    speak("en")


def test_the_sentences_from_downstairs_are_collected_anew() -> None:
    assert TARGET.read_text("utf-8") == source(), "run python -m gui.sentences"


def test_german_has_every_word_that_the_window_says(tmp_path: Path) -> None:
    tool = Path(sys.executable).with_name("pyside6-lupdate")
    if not tool.exists():
        pytest.skip("the translator's tool is not installed")
    files = sorted(str(path) for path in (ROOT / "gui").rglob("*.py"))
    done = subprocess.run([tool, *files, "-ts", tmp_path / "now.ts"], capture_output=True, timeout=600, check=False)
    assert done.returncode == 0
    now, german = messages(tmp_path / "now.ts"), messages(TS)
    missing = [key for key in now if german.get(key) is None]
    assert missing == [], "translate these in gui/translations/flankwise_de.ts and run pyside6-lrelease on it"


def test_what_is_put_into_a_sentence_stays_in_it() -> None:
    places = re.compile(r"\{\w+\}")
    for (context, text), told in messages(TS).items():
        assert told is not None, (context, text)
        assert set(places.findall(told)) <= set(places.findall(text)), (context, text, told)


def test_the_words_that_are_loaded_are_those_of_the_list() -> None:
    create_application()
    loaded = QTranslator()
    assert loaded.load("flankwise_de", str(FOLDER))
    for (context, text), told in list(messages(TS).items())[::7]:
        assert loaded.translate(context, text) == told


@pytest.mark.usefixtures("german", "qtbot")
def test_the_window_and_its_refusals_are_german(tmp_path: Path) -> None:
    window = create_window(Settings(tmp_path / "window.ini"))
    speak("de")
    other = create_window(_german_settings(tmp_path))
    texts = [button.text() for button in other._buttons.buttons()]
    assert texts == ["Messplatz", "Teil", "Passung", "Kartei"]
    assert said("Only 4 threads in view: 6 or more give a firmer answer.").startswith("Nur 4 Gänge im Bild")
    assert said("something nobody has translated") == "something nobody has translated"
    for made in (window, other):
        made.close()


@pytest.mark.usefixtures("german")
def test_single_words_from_downstairs_are_german() -> None:
    assert said("above") == "darüber"
    assert said("shank") == "Schaft"
    assert said("backlight mirrored by the flanks, full bound").endswith("gespiegeltes Gegenlicht, volle Grenze")
    assert [word for word in words() if said(word) == word] == []


def test_no_sentence_sends_to_an_option_of_the_command_line() -> None:
    patterns = set(map(str, SENTENCES))
    assert set(REWORDED) <= patterns
    of_commands = {text for text in patterns - set(REWORDED.values()) if "--" in text or "flankwise " in text}
    left = {text for text in of_commands - set(REWORDED) if not text.startswith(ELSEWHERE)}
    assert left == set(), "give them the window's words in gui/reworded.py"
    assert all(any(text.startswith(begin) for text in of_commands) for begin in ELSEWHERE)
    for pattern, told in REWORDED.items():
        assert "--" not in told
        assert set(re.findall(r"\{\d\}", told)) <= set(re.findall(r"\{\d\}", pattern))


@pytest.mark.usefixtures("qtbot")
def test_a_warning_is_put_in_the_window_s_words() -> None:
    create_application()
    speak("en")
    told = said(
        "Nobody said how wide the light is: U95 allows for polished flanks in a half cone of 4 deg. Mask the pad to a "
        "small patch and calibrate with --light-cone to narrow it."
    )
    assert "half cone of 4 deg" in told
    assert "under Light and lens" in told


def _german_settings(folder: Path) -> Settings:
    settings = Settings(folder / "german.ini")
    settings.set_text("language", "de")
    return settings


def test_the_system_s_language_is_followed_where_it_is_known() -> None:
    system = QLocale.system().name()[:2]
    assert language_of("system") == (system if system in {"de", "en"} else "en")
