"""The language and the unit of a paper, and what turns reasons and words into its text.

A paper says what is the matter and not what to do at the program: no options, no buttons.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flankwise.reasons import chance, sentence, word
from threads.shared.formatting import NOT_DETERMINED, write_quantity
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason

LANGUAGES = ("en", "de")


@dataclass(frozen=True)
class Spoken:
    """How a paper speaks: "en" or "de", lengths in mm or inches."""

    language: str = "en"
    inches: bool = False

    def say(self, reason: Reason) -> str:
        return sentence(reason, language=self.language, inches=self.inches, to_do=False)

    def word(self, text: str) -> str:
        return word(text, self.language)

    def chance(self, probability: float) -> str:
        return chance(probability, self.language)

    def named(self, name: str) -> str:
        """The name of a part that begins with its number, as ``records.filed_part.part_words`` makes it."""
        first, _, rest = name.partition(" ")
        return f"{self.word('part')} {rest}" if first == "part" and rest else name

    def quantity(self, quantity: Quantity) -> str:
        written = write_quantity(quantity, inches=self.inches)
        return self.word(NOT_DETERMINED) if written is None else str(written)

    def told(self, plain: Mapping[str, Any]) -> str:
        """A reason of a document; its own words only where its values are not there, without what names an option."""
        reason = Reason.from_dict(plain)
        fresh = Reason(reason.key, **reason.values)
        text = self.say(fresh)
        if text != str(fresh):
            return text
        return " ".join(one for one in reason.told.split(". ") if " --" not in f" {one}")
