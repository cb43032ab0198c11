"""What the square code on a label says: the part's number, so that a scanner types it into the search.

Capital letters and digits only: a scanner types keys, and these lie alike on English and German keyboards.
"""

from __future__ import annotations

import re

_CODE = re.compile(r"\s*PART(\d{1,15})\s*", re.ASCII | re.IGNORECASE)


def label_code(part: int) -> str:
    """The code of the part with this number.

    >>> label_code(12), part_of_code(" part12 "), part_of_code("part 12"), part_of_code("4-40")
    ('PART12', 12, None, None)
    """
    return f"PART{part}"


def part_of_code(text: str) -> int | None:
    """The number in a code as it was scanned; None for anything else, "part 12" included: that is words."""
    found = _CODE.fullmatch(text)
    return None if found is None else int(found[1])
