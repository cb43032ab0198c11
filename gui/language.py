"""The language of the window: that of the system, or the one a person chose."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from gui.worded import LANGUAGE

FOLDER = Path(__file__).parent / "translations"
LANGUAGES = {"en": "English", "de": "Deutsch"}
"""Those that are complete, by their own names."""


def language_of(chosen: str) -> str:
    """The current language, ``chosen`` being "system" or one of LANGUAGES; English where nobody knows the system's."""
    if chosen in LANGUAGES:
        return chosen
    system = QLocale.system().name()[:2]
    return system if system in LANGUAGES else "en"


def speak(chosen: str) -> str:
    """Install the words of the language; to be called before the window is made. Returns the language."""
    application = QCoreApplication.instance()
    assert application is not None
    for translator in application.findChildren(QTranslator):
        QCoreApplication.removeTranslator(translator)
        translator.deleteLater()
    language = language_of(chosen)
    application.setProperty(LANGUAGE, language)
    if language != "en":
        qt = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
        for name, folder in ((f"flankwise_{language}", str(FOLDER)), (f"qtbase_{language}", qt)):
            translator = QTranslator(application)
            if translator.load(name, folder):
                QCoreApplication.installTranslator(translator)
    return language
