"""Random scenes as people really take them: uneven light, noise, JPEG, a near camera, a dirty and damaged outline."""

from __future__ import annotations

from dataclasses import replace
from math import inf, radians, tan

import numpy as np

from benchmarks.scenes import BenchScene, even_normal, pins_for
from sample_images.condition import Blemishes, Wear
from sample_images.random_scene import random_scene
from sample_images.scene import Light, Scene, Thread
from sample_images.truth import uneven_light

JPEG_QUALITY = 85
NOISE = 0.02
UNEVEN = 0.30
SPOILED = 0.10
DISTANCES_MM = (60.0, 120.0)
HEIGHT_U_MM = 0.03
"""How far the screw's axis lies nearer to the camera than the pins' axes, one standard deviation: a near camera then
sees it larger."""
DISTANCE_U = 0.1
"""How well the working distance is known, one standard deviation in parts of it: no rule reaches into the lens."""

HARDSHIPS = ("burrs", "flakes", "oil in roots", "films of oil", "shining flanks", "hairs", "uneven focus", "burnt pad")
"""What comes on top of the stated conditions in the second set of scenes, one to a scene."""


def stated_scene(seed: int, um_per_px: tuple[float, float] = (2.0, 8.0), *, spoiled: float = SPOILED) -> BenchScene:
    """A scene of the stated conditions, its two pins in the same light.

    Light that differs by 30 % over the field, noise 2 %, JPEG of quality 85, 10 % of the outline under specks and
    nicks; two of three scenes through a pinhole 60 to 120 mm away. All else as ``random_scene`` makes it. The pins are
    clean: whoever calibrates wipes them; they lie a little higher or lower than the screw, and the working distance is
    known as a rule tells it.

    Raises:
        ValueError: no thread fits the given limits.
    """
    rng = np.random.default_rng([seed, 4])
    screw = random_scene(rng, um_per_px=um_per_px, noise=(NOISE, NOISE), dark_share=0.0)
    near = rng.random() < 2 / 3
    distance = float(rng.uniform(*DISTANCES_MM)) if near else None
    screw = replace(screw, camera=replace(screw.camera, working_distance_mm=distance), light=_uneven(rng, screw))
    height = HEIGHT_U_MM * even_normal(seed, 5) if distance else 0.0
    farther = replace(screw.camera, um_per_px=screw.camera.um_per_px * (1 + height / (distance or 1.0)))
    pins = pins_for(replace(screw, camera=farther), seed, rng)
    stated = distance * (1 + DISTANCE_U * even_normal(seed, 7)) if distance else None
    return BenchScene(seed, replace(screw, blemishes=Blemishes(spoiled=spoiled)), pins, JPEG_QUALITY, stated)


def _uneven(rng: np.random.Generator, screw: Scene) -> Light:
    """Light whose brightest and darkest places in the field differ by 30 % of the middle: part slope, part vignette."""
    turn, slope = rng.uniform(0, 2 * np.pi), rng.uniform(0.3, 1.0)
    light = Light(
        exposure=float(rng.uniform(0.6, 0.75)),
        gradient_x=float(slope * np.cos(turn)),
        gradient_y=float(slope * np.sin(turn)),
        vignette=float(1 - slope),
        flare=float(rng.uniform(0, 0.05)),
    )
    share = UNEVEN / uneven_light(replace(screw, light=light))
    return replace(
        light,
        gradient_x=share * light.gradient_x,
        gradient_y=share * light.gradient_y,
        vignette=share * light.vignette,
    )


def harder_scene(seed: int) -> tuple[BenchScene, str]:
    """A scene of the stated conditions, half as much spoiled, with one hardship more, and its name."""
    bench = stated_scene(seed, spoiled=SPOILED / 2)
    kind = HARDSHIPS[seed % len(HARDSHIPS)]
    rng = np.random.default_rng([seed, 5])
    return replace(bench, screw=_with(bench.screw, kind, rng)), kind


def _with(screw: Scene, kind: str, rng: np.random.Generator) -> Scene:
    few = int(rng.integers(2, 7))
    spots = screw.blemishes
    if kind == "burrs":
        return replace(screw, blemishes=replace(spots, burrs=2 * few))
    if kind == "flakes":
        return replace(screw, blemishes=replace(spots, flakes=2 * few))
    if kind == "oil in roots":
        return replace(screw, blemishes=replace(spots, oil_roots=few))
    if kind == "films of oil":
        return replace(screw, blemishes=replace(spots, oil_films=few))
    if kind == "shining flanks":
        return replace(screw, blemishes=replace(spots, glare_flanks=few, glare=float(rng.uniform(0.2, 0.7))))
    if kind == "hairs":
        return replace(screw, hairs=few)
    if kind == "uneven focus":
        # up to another 2 px of blur at the far side of the field
        half = screw.camera.width * screw.camera.um_per_px / 2e3
        return replace(
            screw,
            defocus_px_per_mm=float(rng.uniform(0.5, 2.0) / (1.5 * half)),
            focus_at_mm=float(screw.view_mm + rng.uniform(-0.5, 0.5) * half),
        )
    # the brightest part of the field is burnt out
    return replace(screw, light=replace(screw.light, exposure=float(rng.uniform(0.88, 1.0))))


def worn_scene(seed: int) -> tuple[BenchScene, str]:
    """A clean scene of the stated light with a worn thread or, every third time, a sound one; and what is worn.

    A worn crest has lost 6 to 12 % of a pitch in height or, worn along its whole length, what leaves it 0.36 to 0.42
    pitches wide. A worn flank has lost 3 to 6 px or 2.5 to 5 % of a pitch, whichever is less, and no less than 1 px.
    All of it is so along the whole thread or on the half near the free end.
    """
    bench = stated_scene(seed, spoiled=SPOILED / 3)
    rng = np.random.default_rng([seed, 6])
    kind = ("sound", "crest", "flank")[seed % 3]
    screw = bench.screw
    assert screw.thread is not None
    pitch, px = screw.thread.pitch_mm, screw.camera.um_per_px * 1e-3
    # a part of the length only, or all of it
    until = screw.view_mm if rng.random() < 0.5 else inf
    if kind == "crest":
        width, run = screw.thread.crest_width_mm, _run(screw.thread)
        # worn along all of its length a crest is told from one cut low only where it is wider than any class allows
        lost = float(rng.uniform(0.06, 0.12) if until < inf else rng.uniform(0.36, 0.42) - width / pitch) * pitch
        lost /= 1.0 if until < inf else run
        wear = Wear(crest_mm=lost, crest_edge_mm=float(rng.uniform(0, 0.3) * lost), to_mm=until)
    elif kind == "flank":
        lost = max(min(float(rng.uniform(3, 6)) * px, float(rng.uniform(0.025, 0.05)) * pitch), 1.0 * px)
        wear = Wear(
            flank=str(rng.choice(["left", "right"])),
            flank_mm=lost,
            flank_down_to=float(rng.uniform(0.25, 0.5)),
            flank_form=str(rng.choice(["wedge", "step"])),
            to_mm=until,
        )
    else:
        return bench, kind
    return replace(bench, screw=replace(screw, wear=wear)), kind


def _run(thread: Thread) -> float:
    """Axial run of both flanks together for each mm of radius."""
    return tan(radians(thread.half_angle_left_deg)) + tan(radians(thread.half_angle_right_deg))


def lost_um(screw: Scene) -> float:
    """What the crest or the flank of a worn scene has lost, um, by the measure that a picture gives of it.

    Crests worn everywhere are measured against the full form (a crest an eighth of a pitch wide), not against the crest
    that was cut.
    """
    wear, thread = screw.wear, screw.thread
    assert wear is not None
    assert thread is not None
    if wear.crest_mm and wear.to_mm == inf:
        return 1e3 * (wear.crest_mm + (thread.crest_width_mm - thread.pitch_mm / 8) / _run(thread))
    return 1e3 * (wear.crest_mm or wear.flank_mm)
