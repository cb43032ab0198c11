"""Flankwise without a shell: one call a job, on files.

    >>> import flankwise
    >>> bench = flankwise.calibrate(
    ...     pins=[(samples / "pin_1000_bench_a.png", "1.000mm"), (samples / "pin_2500_bench_a.png", "2.500mm")],
    ...     pin_u95="1um",
    ... )
    >>> part = flankwise.measure(samples / screw, bench)
    >>> flankwise.identify(part, origin="US", made=1938).candidates[0].designation
    '4-40 NC-2'

Lengths and angles are texts with a unit (``"2.500mm"``, ``"2deg"``) or plain numbers in millimetres and degrees;
pictures are paths. Results are frozen, print readably, and have ``to_dict()``, the JSON of the command line. A picture,
gauge or file that cannot be used raises ``Refused``; an argument that makes no sense raises a ValueError. Both, and
warnings and advice, are codes with values; ``message`` and ``sentence`` put them into words.

What is imported is loaded when it is first called: ``import flankwise`` itself costs next to nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from flankwise.bench import Bench, calibrate, load_bench
    from flankwise.cutting import CutToFit, DiesAnswer, cut_to_fit, dies_for
    from flankwise.holes import ClearanceAnswer, HoleAnswer, clearance, hole, load_hole
    from flankwise.identifying import Answer, identify
    from flankwise.judging import Checked, Compared, check, compare
    from flankwise.judging_instrument import InstrumentAnswer, instrument
    from flankwise.measuring import join, measure, measure_all, stitch
    from flankwise.part import Part, Parts
    from flankwise.playing import Played, play
    from flankwise.reasons import message, sentence
    from flankwise.under_lights import measure_under
    from threads.shared.refusal import RefusalError as Refused

__all__ = [
    "calibrate", "load_bench", "measure", "measure_under", "measure_all", "join", "stitch", "identify", "check",
    "compare", "play", "hole", "load_hole", "clearance", "instrument", "cut_to_fit", "dies_for", "Refused", "message",
    "sentence", "Bench", "Part", "Parts", "Answer", "Checked", "Compared", "Played", "InstrumentAnswer", "HoleAnswer",
    "ClearanceAnswer", "CutToFit", "DiesAnswer",
]  # fmt: skip

_FROM = {
    "flankwise.cutting": ("CutToFit", "DiesAnswer", "cut_to_fit", "dies_for"),
    "flankwise.bench": ("Bench", "calibrate", "load_bench"),
    "flankwise.measuring": ("join", "measure", "measure_all", "stitch"),
    "flankwise.part": ("Part", "Parts"),
    "flankwise.holes": ("ClearanceAnswer", "HoleAnswer", "clearance", "hole", "load_hole"),
    "flankwise.identifying": ("Answer", "identify"),
    "flankwise.judging_instrument": ("InstrumentAnswer", "instrument"),
    "flankwise.judging": ("Checked", "Compared", "check", "compare"),
    "flankwise.playing": ("Played", "play"),
    "flankwise.reasons": ("message", "sentence"),
    "flankwise.under_lights": ("measure_under",),
}
_MODULE = {name: module for module, names in _FROM.items() for name in names}


def __getattr__(name: str) -> object:
    """A name of ``__all__``, loaded when it is first asked for."""
    if name == "Refused":
        found: object = import_module("threads.shared.refusal").RefusalError
    elif name in _MODULE:
        found = getattr(import_module(_MODULE[name]), name)
    else:
        raise AttributeError(f"module 'flankwise' has no attribute {name!r}")
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
