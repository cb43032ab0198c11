"""What became of one scene: every quantity measured three ways beside its truth, or why there was no answer."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from math import cos, nan, radians, sin
from pathlib import Path
from types import MappingProxyType
from typing import Any

from benchmarks.bound import bounds
from benchmarks.scenes import PIN_U95_MM, BenchScene, draw
from benchmarks.textbook import TextbookThread, pin_diameter_px, read_thread, scale_from_pins
from calib.bench import calibrate_bench
from flankwise.reasons import sentence
from sample_images.scene import Scene
from sample_images.truth import truth_of
from threads.shared.refusal import RefusalError
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

UNITS: dict[str, str] = {
    "pitch_diameter": "um",
    "major_diameter": "um",
    "minor_diameter": "um",
    "virtual_pitch_diameter": "um",
    "pitch": "um",
    "flank_angle_left": "deg",
    "flank_angle_right": "deg",
    "included_angle": "deg",
    "crest_width": "um",
    "root_width": "um",
    "root_radius": "um",
    "taper": "um/mm",
    "axis_tilt": "deg",
    "lead_angle": "deg",
}
"""The quantities compared and the unit of their errors; lengths in um."""


@dataclass(frozen=True)
class Compared:
    """One quantity of one scene; ``true`` and errors (measured less true) in the unit of ``UNITS``.

    Attributes:
        error, u95: with the calibration from the two pins.
        known_error, known_u95: with scale and edge offset known: what the picture alone adds. None where that
            measurement did not give the quantity.
        textbook_error: of the textbook pipeline with its own reading of the same pins; None: it does not give this.
        bound: the least standard deviation that any method could have with scale and edge offset known (``bound``).
    """

    true: float
    error: float
    u95: float
    known_error: float | None
    known_u95: float | None
    textbook_error: float | None
    bound: float | None = None


@dataclass(frozen=True)
class Outcome:
    """One scene.

    Attributes:
        seed: what ``--only`` takes.
        scene: what matters of the scene, for reading the table of failures.
        status: ``"measured"``, ``"refused"`` (reasons say why) or ``"failed"`` (the program broke: a defect).
        reasons: codes and messages of a refusal, or the error.
        textbook_reason: why the textbook pipeline gave nothing; empty when it gave numbers.
        compared: by quantity; one that the picture or the truth does not have is missing.
        free_end: where the measurement says that the thread's free end is: right, left, not in view.
        residual_rms_px, rejected: quality of the fit.
        wear: what the measurement says of it, as in its JSON.
        seconds: measuring the screw, reading of the file not counted.
    """

    seed: int
    um_per_px: float
    scene: dict[str, Any]
    status: str
    reasons: tuple[str, ...] = ()
    textbook_reason: str = ""
    compared: dict[str, Compared] = field(default_factory=dict)
    free_end: str = ""
    residual_rms_px: float = nan
    rejected: float = nan
    warnings: tuple[str, ...] = ()
    wear: dict[str, Any] | None = None
    seconds: float = nan

    def to_dict(self) -> dict[str, Any]:
        return asdict(self)


def try_scene(bench: BenchScene, folder: Path) -> Outcome:
    """Render, calibrate, measure, compare. Never raises for what the program under test does."""
    about = describe(bench.screw)
    scale = bench.screw.camera.um_per_px
    pictures = draw(bench, folder)
    step = "calibration"
    try:
        plane = calibrate_bench(
            focus_locked=True,
            pins=pictures.pins,
            pin_u95_mm=PIN_U95_MM,
            light_cone_deg=0.0,
            lens_opening=0.0,  # what is drawn has no depth of focus
            working_distance_mm=bench.stated_distance_mm,
        )
        step = "measurement"
        start = time.perf_counter()
        measured = measure_picture(pictures.screw, plane)
        seconds = time.perf_counter() - start
        known = measure_picture(pictures.screw, known_bench(bench.screw))
    except RefusalError as refusal:
        reasons = tuple(f"{step}: {reason.code}: {sentence(reason)}" for reason in refusal.reasons)
        return Outcome(bench.seed, scale, about, "refused", reasons)
    except Exception as error:  # noqa: BLE001 - whatever breaks is a finding of the benchmark
        return Outcome(bench.seed, scale, about, "failed", (f"{step}: {type(error).__name__}: {error}",))
    try:
        pins_px = [pin_diameter_px(pin.light) for pin, _ in pictures.pins]
        textbook = read_thread(pictures.screw.light, *scale_from_pins(pins_px, [size for _, size in pictures.pins]))
        textbook_reason = ""
    except ValueError as error:
        textbook, textbook_reason = None, str(error)
    return Outcome(
        seed=bench.seed,
        um_per_px=scale,
        scene=about,
        status="measured",
        textbook_reason=textbook_reason,
        compared=compare(bench.screw, measured, known, textbook, bounds(known, bench.screw.camera)),
        free_end=measured.part.free_end,
        residual_rms_px=float(measured.quality.residual_rms_px),
        rejected=float(measured.quality.rejected_edge_fraction),
        warnings=tuple(warning.code for warning in measured.quality.warnings),
        wear=None if measured.wear is None else measured.wear.to_dict(measured.part.free_end_right),
        seconds=seconds,
    )


def known_bench(screw: Scene) -> FixedScale:
    """A bench whose scale and edge offset are the renderer's own, as good as exactly known."""
    return FixedScale(
        um_per_px=screw.camera.um_per_px,
        relative_u=1e-7,
        edge_offset_u_px=1e-4,
        id="the renderer's own scale",
        edge_offset_px=screw.edge_offset_px,
        light_cone_deg=0.0,
        lens_opening=0.0,
    )


def describe(screw: Scene) -> dict[str, Any]:
    """What matters of a scene, in a few plain numbers."""
    truth = truth_of(screw)
    names = ("blur_sigma_px", "noise", "edge_offset_px", "tilt_deg", "rotation_deg", "threads_in_view", "hand")
    assert screw.thread is not None
    return {
        "size": f"{screw.thread.major_mm:.3f}x{screw.thread.pitch_mm:.3f}",
        "root": screw.thread.root,
        "background": screw.light.background,
        **{name: round(truth[name], 4) if isinstance(truth[name], float) else truth[name] for name in names},
        "free_end_in_view": truth["free_end_in_view"],
        "shank": bool(screw.body) and screw.length_mm < 100,
    }


def truth_in_units(screw: Scene) -> dict[str, float | None]:
    """The true value of each quantity of ``UNITS`` in its unit, by the definitions of the measurement.

    The virtual pitch diameter is the simple one and (he / sin 2a)(|d left| + |d right|) for the departures d of the
    flank angles from a = 30 degrees over the engaged depth he = 0.5413 p (BS 919); the renderer cuts no pitch errors.
    """
    truth = truth_of(screw)
    um = {
        name: None if truth[key] is None else truth[key] * 1e3
        for name, key in (
            ("pitch_diameter", "pitch_diameter_mm"),
            ("major_diameter", "major_mm"),
            ("minor_diameter", "minor_mm"),
            ("pitch", "pitch_mm"),
            ("crest_width", "crest_width_mm"),
            ("root_width", "root_width_mm"),
            ("root_radius", "root_radius_mm"),
        )
    }
    left, right = truth["half_angle_left_deg"], truth["half_angle_right_deg"]
    reach = 0.5413 * truth["pitch_mm"] * 1e3 / sin(radians(60))
    virtual = truth["pitch_diameter_mm"] * 1e3 + reach * radians(abs(left - 30) + abs(right - 30))
    return {
        **um,
        "virtual_pitch_diameter": virtual,
        "flank_angle_left": left,
        "flank_angle_right": right,
        "included_angle": truth["included_angle_deg"],
        "taper": truth["taper_um_per_mm"],
        "axis_tilt": truth["tilt_deg"],
        "lead_angle": truth["lead_angle_deg"],
    }


def compare(
    screw: Scene,
    measured: Measurement,
    known: Measurement,
    textbook: TextbookThread | None,
    least: Mapping[str, float] = MappingProxyType({}),
) -> dict[str, Compared]:
    """Each quantity beside its truth. Left out: what the truth does not have, what the measurement does not give.

    ``least``: the bounds of ``benchmarks.bound``.
    """
    true = truth_in_units(screw)
    ours, alone, plain = _values(screw, measured), _values(screw, known), _textbook_values(screw, textbook)
    compared = {}
    for name, unit in UNITS.items():
        right = true[name]
        if right is None or name not in ours:
            continue
        value, u95 = ours[name]
        known_value, known_u95 = alone.get(name, (None, None))
        compared[name] = Compared(
            true=right,
            error=value - right,
            u95=u95,
            known_error=None if known_value is None else known_value - right,
            known_u95=known_u95,
            textbook_error=plain[name] - right if name in plain else None,
            bound=None if name not in least else least[name] * (1e3 if unit == "um" else 1.0),
        )
    return compared


def _values(screw: Scene, measured: Measurement) -> dict[str, tuple[float, float]]:
    """Value and U95 of each quantity, in the units of ``UNITS``, turned to the sense of the truth.

    Flanks, tilt and taper are told from the free end. Where none is in view, the measurement takes it to point right
    (or down) in the picture and says so in a warning; here they are given back as the truth has them. A free end that
    is named must be right. A shadow is the same for a right-hand thread with the free end toward the camera and for a
    left-hand one with the free end away from it: the measurement takes the thread as right-hand unless a near camera
    shows its hand, so the tilt of a left-hand one that it does not know for one changes sign.
    """
    found = {}
    for name, unit in UNITS.items():
        quantity = getattr(measured.thread, name)
        if quantity is not None:
            factor = 1e3 if unit == "um" else 1.0
            found[name] = (quantity.value * factor, quantity.u95 * factor)
    assert screw.thread is not None
    along = cos(radians(measured.part.angle - screw.rotation_deg)) > 0
    turned = measured.part.free_end == "not in view" and not along
    if turned:
        found["flank_angle_left"], found["flank_angle_right"] = found["flank_angle_right"], found["flank_angle_left"]
    taken = measured.thread.hand if measured.thread.hand != "not determined" else "right"
    for name, other in (("taper", turned), ("axis_tilt", turned != (screw.thread.hand != taken))):
        if other and name in found:
            found[name] = (-found[name][0], found[name][1])
    return found


def _textbook_values(screw: Scene, textbook: TextbookThread | None) -> dict[str, float]:
    if textbook is None:
        return {}
    lengths = ("pitch_diameter", "major_diameter", "minor_diameter", "pitch", "crest_width", "root_width")
    left, right = textbook.flank_angle_left, textbook.flank_angle_right
    if cos(radians(textbook.axis_deg - screw.rotation_deg)) < 0:
        left, right = right, left
    return {
        **{name: getattr(textbook, name) * 1e3 for name in lengths},
        "flank_angle_left": left,
        "flank_angle_right": right,
        "included_angle": left + right,
    }
