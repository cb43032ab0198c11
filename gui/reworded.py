"""Sentences from downstairs that speak of options of the command line, and what the window says instead.

Keys are patterns of ``gui.translations.sentences``; what is filled in keeps its number. Those of commands that the
window does not have stand in ``ELSEWHERE``: tests look that every sentence is in one of the two.
"""

from __future__ import annotations

from PySide6.QtCore import QT_TRANSLATE_NOOP

REWORDED = {
    "No part of the job {0} is on file: file some with 'flankwise record add'.": QT_TRANSLATE_NOOP(
        "said", "No part of the job {0} is on file yet: file some in the strip of the register."
    ),
    "No part {0} is on file. 'flankwise record list' shows which there are.": QT_TRANSLATE_NOOP(
        "said", "No part {0} is on file. The list of the register shows which there are."
    ),
    "Nobody said how much the cast shrank: {0} % with U95 {1} % is taken. Say --shrinkage, or cast a hole of known "
    "size.": QT_TRANSLATE_NOOP(
        "said",
        "Nobody said how much the cast shrank: {0} % with U95 {1} % is taken. Type it below the hole, or cast a hole "
        "of known size.",
    ),
    "Nobody said how wide the light is: U95 allows for polished flanks in a half cone of {0} deg. Mask the pad to a "
    "small patch and calibrate with --light-cone to narrow it.": QT_TRANSLATE_NOOP(
        "said",
        "Nobody said how wide the light is: U95 allows for polished flanks in a half cone of {0} deg. Mask the pad to "
        "a small patch, give its size under Light and lens, and calibrate anew to narrow it.",
    ),
    "On which instrument is that position? Give --instrument, or a --job of one.": QT_TRANSLATE_NOOP(
        "said", "On which instrument is that position? Type its name before it."
    ),
    "Part {0} is on file as a screw. File the hole from a picture of its cast: flankwise record add PICTURE "
    "--impression.": QT_TRANSLATE_NOOP(
        "said", "Part {0} is on file as a screw. Lay a picture of the cast of its hole in here instead."
    ),
    "Part {0} is on file for {1}. If this is one more picture of it, give --part-id {2}; if it is another part, "
    "--another.": QT_TRANSLATE_NOOP(
        "said", "Part {0} is on file for {1}: is this one more picture of it ({2}), or another part?"
    ),
    "Part {0} is on file without a measurement. Measure it: flankwise record add PICTURE --part-id {1}": (
        QT_TRANSLATE_NOOP(
            "said", "Part {0} is on file without a measurement. Open a picture of it and file it as part {1}."
        )
    ),
    "Pins and flat gauge do not tell the cone of the light: it shows only where both are known to 0.2 um or so "
    "(--pin-u95, --division-u95). Give it with --light-cone if you know it.": QT_TRANSLATE_NOOP(
        "said",
        "Pins and flat gauge do not tell the cone of the light: it shows only where both are known to 0.2 µm or so. "
        "Give it under Light and lens if you know it.",
    ),
    "There is no parts register at {0}. The first 'flankwise record add' makes one; another one is named with "
    "--register.": QT_TRANSLATE_NOOP(
        "said", "There is no parts register at {0} yet. The first part that is filed makes it."
    ),
    "This shadow does not show whether the thread has one start or three; it is read with one. Count the ends of the "
    "ridges at the tip and say --starts if there is more than one.": QT_TRANSLATE_NOOP(
        "said",
        "This shadow does not show whether the thread has one start or three; it is read with one. Count the ends of "
        "the ridges at the tip, and set the starts on the right if there is more than one.",
    ),
    "a hole stands where the screw belongs: the picture of a cast is given with --hole-cast": QT_TRANSLATE_NOOP(
        "said", "a hole stands where the screw belongs: lay the picture of a cast in at Hole"
    ),
    "one is the thread of a screw, the other that of a hole: 'flankwise play' puts them together": QT_TRANSLATE_NOOP(
        "said", "one is the thread of a screw, the other that of a hole: lay the hole in at Hole"
    ),
    "{0} cannot be read or written: {1}. Check the path and the permissions of the folder of the register, or name "
    "another register with --register.": QT_TRANSLATE_NOOP(
        "said", "{0} cannot be read or written: {1}. Check the path and the permissions of the folder of the register."
    ),
    "{0} has a pitch of {1} mm and a pitch diameter of {2} mm, the part {3} mm and {4} mm: it is another size; "
    "'flankwise identify' says which": QT_TRANSLATE_NOOP(
        "said",
        "{0} has a pitch of {1} mm and a pitch diameter of {2} mm, the part {3} mm and {4} mm: it is another size; its "
        "view in Part says which",
    ),
    "{0} {1} in view: name one with --part N (1 to {2}, from left to right, row by row), measure each with --all-parts"
    ", or take the others away.": QT_TRANSLATE_NOOP(
        "said",
        "{0} {1} in view: choose one on the right or by a click (1 to {2}, from left to right, row by row), or take "
        "the others away.",
    ),
}

ELSEWHERE = (
    "No plain shank next to the thread", "No {0} is called {1}, but one", "Nobody said how far the part was turned",
    "Nothing where {0} and {1} overlap", "The calibration and the {0}", "The picture {0} is missing in the register",
    "The picture {0} is {1}. Look", "The turns stated do not fit", "The workers of the cluster",
    "{0} and {1} fit together in {2} ways", "{0} has other columns", "{0} is not a backup", "{0} is on file with {1}",
    "{0} parts lie beside the pin", "{0} references in {1} lead nowhere",
)  # fmt: skip
"""How sentences begin that the window never has to say, or that send to a terminal for good reason: the register is
looked over there."""


def for_window(pattern: str) -> str:
    """The sentence as the window says it."""
    return str(REWORDED.get(pattern, pattern))
