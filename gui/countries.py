"""Countries by their names, in the language of the window."""

from __future__ import annotations

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication
from PySide6.QtWidgets import QComboBox

from threads.identify.provenance import known_countries

NAMES = {
    "AT": QT_TRANSLATE_NOOP("country", "Austria"),
    "AU": QT_TRANSLATE_NOOP("country", "Australia"),
    "BE": QT_TRANSLATE_NOOP("country", "Belgium"),
    "BG": QT_TRANSLATE_NOOP("country", "Bulgaria"),
    "BR": QT_TRANSLATE_NOOP("country", "Brazil"),
    "CA": QT_TRANSLATE_NOOP("country", "Canada"),
    "CH": QT_TRANSLATE_NOOP("country", "Switzerland"),
    "CN": QT_TRANSLATE_NOOP("country", "China"),
    "CZ": QT_TRANSLATE_NOOP("country", "Czechia"),
    "DE": QT_TRANSLATE_NOOP("country", "Germany"),
    "DK": QT_TRANSLATE_NOOP("country", "Denmark"),
    "ES": QT_TRANSLATE_NOOP("country", "Spain"),
    "FI": QT_TRANSLATE_NOOP("country", "Finland"),
    "FR": QT_TRANSLATE_NOOP("country", "France"),
    "GB": QT_TRANSLATE_NOOP("country", "United Kingdom"),
    "HU": QT_TRANSLATE_NOOP("country", "Hungary"),
    "IE": QT_TRANSLATE_NOOP("country", "Ireland"),
    "IN": QT_TRANSLATE_NOOP("country", "India"),
    "IT": QT_TRANSLATE_NOOP("country", "Italy"),
    "JP": QT_TRANSLATE_NOOP("country", "Japan"),
    "KR": QT_TRANSLATE_NOOP("country", "South Korea"),
    "LU": QT_TRANSLATE_NOOP("country", "Luxembourg"),
    "NL": QT_TRANSLATE_NOOP("country", "Netherlands"),
    "NO": QT_TRANSLATE_NOOP("country", "Norway"),
    "NZ": QT_TRANSLATE_NOOP("country", "New Zealand"),
    "PL": QT_TRANSLATE_NOOP("country", "Poland"),
    "PT": QT_TRANSLATE_NOOP("country", "Portugal"),
    "RO": QT_TRANSLATE_NOOP("country", "Romania"),
    "RU": QT_TRANSLATE_NOOP("country", "Russia"),
    "SE": QT_TRANSLATE_NOOP("country", "Sweden"),
    "SK": QT_TRANSLATE_NOOP("country", "Slovakia"),
    "US": QT_TRANSLATE_NOOP("country", "United States"),
    "YU": QT_TRANSLATE_NOOP("country", "Yugoslavia"),
    "ZA": QT_TRANSLATE_NOOP("country", "South Africa"),
}
"""By their codes of ISO 3166-1, and of ISO 3166-3 for one that is no more."""


def country_name(code: str) -> str:
    """The name of the country of that code; the code itself where it has none here."""
    return QCoreApplication.translate("country", str(NAMES[code])) if code in NAMES else code


def offer_countries(box: QComboBox) -> None:
    """Offer the countries of which something is known, in the order of their names."""
    for name, code in sorted((country_name(code), code) for code in known_countries()):
        box.addItem(name, code)
