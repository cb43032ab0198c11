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

from flankwise.reasons.table import german_words
from gui.app import create_application, create_window
from gui.language import FOLDER, language_of, speak
from gui.settings import Settings
from gui.worded import word_of, worded
from threads.identify import evidence
from threads.shared.quantity_words import OF_SECTIONS
from threads.shared.refusal import Reason
from vision.fit import budget, rejected
from vision.part import sections
from vision.several.impression import SHRINKAGE
from vision.several.weighted_mean import REPEATABILITY

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
    assert worded(Reason("few_threads", threads=4)).startswith("Nur 4 Gänge im Bild")
    for made in (window, other):
        made.close()


@pytest.mark.usefixtures("german")
def test_single_words_from_the_floors_below_are_german() -> None:
    assert word_of("above") == "darüber"
    assert word_of("shank") == "Schaft"
    assert word_of("backlight mirrored by the flanks").endswith("gespiegeltes Gegenlicht")
    shown = (
        *(evidence.INSIDE, evidence.ABOVE, evidence.BELOW, evidence.CANNOT_TELL, evidence.NOT_JUDGED),
        *(evidence.NOT_RESOLVED, evidence.ROUND_NOT_FLAT, evidence.FLAT_NOT_ROUND),
        *sections.KINDS,
        *(text for _, text in OF_SECTIONS),
        *(rejected.LIES_ON, rejected.MISSING, rejected.SHINES, rejected.WORN, rejected.BURNT),
        *(budget.NOISE_AND_FORM, budget.LOCAL_FORM, budget.BLUR_SHAPE, budget.HEIGHT, budget.OPEN_FORM, budget.GAUGES),
        *(budget.TEMPERATURE, budget.MIRRORED_BY_PINS, budget.MIRRORED_BY_FLANKS, budget.CONE, SHRINKAGE),
        REPEATABILITY,
    )
    assert [word for word in shown if word.replace("_", " ") not in german_words()] == []


@pytest.mark.usefixtures("qtbot")
def test_a_warning_says_what_to_do_in_the_window() -> None:
    create_application()
    speak("en")
    told = worded(Reason("light_cone_unknown", cone_deg=4.0))
    assert "half cones up to 4.0 deg" in told
    assert "in the step Mask" in told


def _german_settings(folder: Path) -> Settings:
    settings = Settings(folder / "german.ini")
    settings.set_text("language", "de")
    return settings


def test_the_system_s_language_is_followed_where_it_is_known() -> None:
    system = QLocale.system().name()[:2]
    assert language_of("system") == (system if system in {"de", "en"} else "en")
