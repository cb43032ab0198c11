"""The guide's page of warnings and refusals, made from the table of sentences.

python docs/warnings_page.py > docs/7_warnings.md
"""

from __future__ import annotations

import csv
import re
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from flankwise.reasons.table import Row, rows  # noqa: E402 - run as a script, the path comes first

CHAPTERS = ROOT / "flankwise" / "reasons" / "chapters.csv"

HEAD = """\
# Warnings and refusals

A **warning** comes with a result: read it before the figures.
Without `--full`, what comes with nearly every picture (light, hand, free end, a scale by hand) shares the line \
"Not known", each with its effect.
A **refusal** comes instead of one, with exit code 3.
With `--json` both carry the code of the first column. What stands for a number or a name is written as ….
The last column leads to the page of this guide that says more.
"""
FOOT = "\nNo warning is no promise: [when not to believe the numbers](6_numbers.md#when-not-to-believe-them).\n"


def page() -> str:
    """The page as a whole."""
    text, before = [HEAD], ""
    with CHAPTERS.open(encoding="utf-8", newline="") as file:
        for line in csv.DictReader(file):
            if line["chapter"] != before:
                before = line["chapter"]
                text.append(f"\n## {before}\n\n| code | what is the matter | what to do | page |\n|---|---|---|---|\n")
            text.append(_line(line["code"]))
    return "".join([*text, FOOT])


def cases(code: str) -> list[Row]:
    """All rows of a code, that of the code itself first."""
    return [row for key, row in rows().items() if key.partition(".")[0] == code]


def _line(code: str) -> str:
    found = cases(code)
    wrong = " ".join(dict.fromkeys(_shown(row.wrong) for row in found))
    do = " ".join(dict.fromkeys(_shown(row.do) for row in found if row.do)) or "Nothing."
    pages = dict.fromkeys(row.guide for row in found if row.guide)
    more = ", ".join(f"[{page.partition('_')[0]}]({page})" for page in pages)
    return f"| `{code}` | {wrong} | {do} | {more} |\n"


def _shown(text: str) -> str:
    """``text`` with … for what is filled in, and options as the guide writes them."""
    filled = re.sub(r"\{[^}]*\}", "…", text)
    return re.sub(r"(?<![\w`'])(--[a-z][a-z0-9-]*)", r"`\1`", filled).replace("|", r"\|")


if __name__ == "__main__":
    sys.stdout.write(page())
