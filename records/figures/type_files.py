"""Where the type for print is: DejaVu comes with the drawing library, for other scripts the system's own is looked for.

DejaVu (licence: that of Bitstream Vera, changes in the public domain; it may be embedded) has Latin, Greek, Cyrillic,
Armenian, Georgian, Hebrew and Arabic letters, and signs. It has no Chinese, Japanese or Korean ones.
"""

from __future__ import annotations

import logging
from functools import cache
from pathlib import Path


@cache
def dejavu(*, bold: bool = False) -> Path:
    """The file of DejaVu Sans."""
    from matplotlib import get_data_path

    return Path(get_data_path()) / "fonts" / "ttf" / ("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf")


@cache
def system_types() -> tuple[Path, ...]:
    """All TrueType and OpenType files of the system, in the order of their names; those with cubic outlines last."""
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    from matplotlib.font_manager import findSystemFonts

    found = (Path(name) for name in findSystemFonts(fontext="ttf"))
    files = [path for path in found if path.suffix.lower() in {".ttf", ".ttc", ".otf", ".otc"}]
    return tuple(sorted(files, key=lambda path: (has_cubic_outlines(path), path)))


@cache
def has_cubic_outlines(path: Path) -> bool:
    """Whether the first type in a file has the outlines of PostScript and not those of TrueType."""
    try:
        with path.open("rb") as file:
            head = file.read(16)
            if head.startswith(b"ttcf"):  # a collection: where its first type begins stands at its twelfth byte
                file.seek(int.from_bytes(head[12:16]))
                head = file.read(4)
    except OSError:
        return False
    return head.startswith(b"OTTO")


@cache
def code_points(path: Path) -> frozenset[int]:
    """The code points that the first type in a file has signs for; none for one that cannot be read."""
    from matplotlib.ft2font import FT2Font

    try:
        return frozenset(FT2Font(str(path)).get_charmap())
    except (OSError, RuntimeError, ValueError):
        return frozenset()


@cache
def type_with(code: int) -> Path | None:
    """A TrueType file of the system that has this code point; None where no file has."""
    files = (path for path in system_types() if not has_cubic_outlines(path))
    return next((path for path in files if code in code_points(path)), None)


def families_for(text: str) -> tuple[list[str], str]:
    """Names of the types to draw ``text`` in, the drawing library's own first, and the text that they can show.

    A letter that no type has, or that does not print, is shown as its code: ``[U+65E5]``.
    """
    from matplotlib.font_manager import FontProperties, fontManager

    own = code_points(dejavu())
    families, shown = ["DejaVu Sans"], ""
    for letter in text:
        path = None if ord(letter) in own or not letter.isprintable() else type_with(ord(letter))
        if path is not None:
            name = str(FontProperties(fname=path).get_name())
            if name not in families:
                families.append(name)
            if not any(known.fname == str(path) for known in fontManager.ttflist):  # installed since it looked
                fontManager.addfont(path)
        told = letter.isprintable() and (path is not None or ord(letter) in own)
        shown += letter if told else f"[U+{ord(letter):04X}]"
    return families, shown
