"""Random scenes for the benchmark and the tests: any size, any lie, good and middling pictures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import radians, tan

import numpy as np

from sample_images.scene import Camera, Cylinder, Light, Scene, Thread
from sample_images.truth import full_form, seen_between, threads_in_view

# (major diameter, pitch) in mm: machine screw number sizes 0 to 12 and ISO metric coarse and fine, 0.3 <= p <= 1 mm.
# Number sizes are 0.060 in + 0.013 in for each number.
_NUMBER = [(0, 80), (1, 64), (1, 72), (2, 56), (2, 64), (3, 48), (3, 56), (4, 36), (4, 40), (4, 48), (5, 40), (5, 44)]
_NUMBER += [(6, 32), (6, 40), (8, 32), (8, 36), (10, 32), (12, 28)]
_METRIC = [(1.6, 0.35), (1.8, 0.35), (2, 0.4), (2.2, 0.45), (2.5, 0.45), (3, 0.5), (3.5, 0.6), (4, 0.7), (5, 0.8)]
_METRIC += [(6, 1.0), (2.5, 0.35), (3, 0.35), (4, 0.5), (5, 0.5), (6, 0.75)]
SIZES = [((0.060 + 0.013 * number) * 25.4, 25.4 / tpi) for number, tpi in _NUMBER] + [(float(d), p) for d, p in _METRIC]


def random_thread(rng: np.random.Generator) -> Thread:
    """A thread near a standard size.

    Pitch diameter up to 6 % of a pitch below basic, flanks 30 +- 0.7 deg each, root flat (0.10 to 0.26 pitches wide)
    or rounded, crest flat (0.10 to 0.20 pitches) with a small corner radius, one in ten left-handed.
    """
    while True:
        major, pitch = SIZES[rng.integers(len(SIZES))]
        left, right = 30 + rng.uniform(-0.7, 0.7, 2)
        run = tan(radians(left)) + tan(radians(right))
        pitch_diameter = major - 0.649519 * pitch - rng.uniform(0, 0.06) * pitch
        rounded = rng.random() < 0.5
        root_width = rng.uniform(0.14, 0.20) * pitch if rounded else rng.uniform(0.10, 0.26) * pitch
        crest_width = rng.uniform(0.10, 0.20) * pitch
        thread = Thread(
            major_mm=pitch_diameter + 2 * (pitch / 2 - crest_width) / run,
            pitch_diameter_mm=pitch_diameter,
            minor_mm=pitch_diameter - 2 * (pitch / 2 - root_width) / run,
            pitch_mm=pitch,
            half_angle_left_deg=float(left),
            half_angle_right_deg=float(right),
            root="radius" if rounded else "flat",
            root_corner_radius_mm=0.0 if rounded else rng.uniform(0, 0.03) * pitch,
            crest_corner_radius_mm=rng.uniform(0.005, 0.03) * pitch,
            hand="left" if rng.random() < 0.1 else "right",
        )
        if not thread.faults():
            return thread


def random_scene(
    rng: np.random.Generator,
    *,
    um_per_px: tuple[float, float] = (2.0, 8.0),
    width: int = 1600,
    height: int = 1200,
    threads: tuple[int, int] = (6, 30),
    blur_sigma_px: tuple[float, float] = (0.6, 2.0),
    noise: tuple[float, float] = (0.002, 0.02),
    tilt_deg: float = 2.0,
    uneven_light: float = 0.15,
    edge_offset_px: tuple[float, float] = (-0.3, 0.3),
    dark_share: float = 0.1,
    pinhole_share: float = 0.0,
    least_pitch_px: float = 40.0,
) -> Scene:
    """A random screw in front of a random camera, physically possible and well in view.

    Any rotation; the free end (chamfered) is in view in half of the scenes, the shank in about a quarter; else the
    thread crosses both borders of the picture. Both edges of at least ``threads[0]`` full threads are in view.

    Args:
        rng: where the numbers come from; the same state gives the same scene.
        um_per_px: range of the scale, narrowed where the part would not fit or its pitch be under ``least_pitch_px``.
        width: of the picture, in pixels.
        height: of the picture, in pixels.
        threads: fewest and most full threads in view.
        blur_sigma_px: range of the lens' Gaussian.
        noise: range of the noise, fraction of full scale.
        tilt_deg: largest tilt, either way.
        uneven_light: largest difference of the light over the picture, relative to its centre.
        edge_offset_px: range of the edge offset.
        dark_share: share of scenes with a lit part in front of a dark background.
        pinhole_share: share of scenes seen through a pinhole 60 to 150 mm away instead of a telecentric lens.
        least_pitch_px: fewest pixels to a pitch.

    Raises:
        ValueError: no thread fits the given limits.
    """
    for _ in range(2000):
        thread = random_thread(rng)
        low = max(um_per_px[0], thread.major_mm * 1e3 / (0.75 * min(width, height)))
        high = min(um_per_px[1], thread.pitch_mm * 1e3 / least_pitch_px)
        if low > high:
            continue
        camera = Camera(
            width=width,
            height=height,
            um_per_px=float(np.exp(rng.uniform(np.log(low), np.log(high)))),
            working_distance_mm=float(rng.uniform(60, 150)) if rng.random() < pinhole_share else None,
            blur_sigma_px=float(rng.uniform(*blur_sigma_px)),
            noise=float(rng.uniform(*noise)),
        )
        scene = Scene(
            thread=thread,
            length_mm=200.0,
            view_mm=100.0,
            phase=float(rng.random()),
            tilt_deg=float(rng.uniform(-tilt_deg, tilt_deg)),
            rotation_deg=float(rng.uniform(0, 360)),
            offset_px=float(rng.uniform(-0.08, 0.08) * min(width, height)),
            edge_offset_px=float(rng.uniform(*edge_offset_px)),
            seed=int(rng.integers(2**31)),
            camera=camera,
            light=_random_light(rng, uneven_light, dark_share),
        )
        scene = _with_ends(scene, rng.random, threads[0])
        if threads[0] <= threads_in_view(scene) <= threads[1]:
            return scene
    raise ValueError("no thread fits these limits: widen um_per_px, the picture or the number of threads")


def short_scene(rng: np.random.Generator, turns: tuple[float, float] = (2.0, 3.0), *, width: int, height: int) -> Scene:
    """A random screw with so few whole turns between the chamfer of its free end and the runout before its shank."""
    scene = random_scene(rng, um_per_px=(3.0, 8.0), width=width, height=height, dark_share=0.0)
    thread = scene.thread
    assert thread is not None
    end, angle = thread.minor_mm * float(rng.uniform(0.8, 0.95)), float(rng.uniform(30, 55))
    chamfer = (thread.major_mm - end) / 2 / tan(radians(angle))
    runout, whole = thread.pitch_mm * float(rng.uniform(0.5, 1.0)), thread.pitch_mm * float(rng.uniform(*turns))
    return replace(
        scene,
        length_mm=chamfer + whole + runout,
        chamfer_end_mm=end,
        chamfer_angle_deg=angle,
        runout_mm=runout,
        view_mm=chamfer + whole / 2,
        body=(Cylinder(thread.major_mm * float(rng.uniform(0.98, 1.01)), 50.0),),
    )


def _random_light(rng: np.random.Generator, uneven: float, dark_share: float) -> Light:
    """Light whose differences over the picture stay within ``uneven``: half of it a slope, half of it a vignette."""
    turn = rng.uniform(0, 2 * np.pi)
    slope = rng.uniform(0, uneven / 2) / 2 / (abs(np.cos(turn)) + abs(np.sin(turn)))
    return Light(
        background="dark" if rng.random() < dark_share else "bright",
        exposure=float(rng.uniform(0.6, 0.8)),
        gradient_x=float(slope * np.cos(turn)),
        gradient_y=float(slope * np.sin(turn)),
        vignette=float(rng.uniform(0, uneven / 2)),
        flare=float(rng.uniform(0, 0.05)),
    )


def _with_ends(scene: Scene, uniform: Callable[[], float], fewest: int) -> Scene:
    """Put the free end, the shank, both or neither into the picture, where enough threads remain."""
    thread = scene.thread
    assert thread is not None
    near, far = seen_between(scene, thread.major_mm)
    half = (far - near) / 2
    with_end, with_shank = uniform() < 0.5, uniform() < 0.25
    if with_end:
        # The free end stands 0.5 to 0.9 of the way from the middle to where the part would leave the picture.
        from_centre = half * (0.5 + 0.4 * uniform()) - (near + half - scene.view_mm)
        end = thread.minor_mm * (0.8 + 0.15 * uniform())
        scene = replace(scene, view_mm=from_centre, chamfer_end_mm=end, chamfer_angle_deg=30 + 25 * uniform())
    if with_shank:
        near, far = seen_between(scene, thread.major_mm)
        first = max(near, full_form(scene)[0])
        room = (far - first) / thread.pitch_mm - fewest - 0.5
        if room > 0:
            runout = thread.pitch_mm * (0.5 + uniform())
            stop = first + (fewest + 0.5 + room * uniform()) * thread.pitch_mm
            shank = Cylinder(thread.major_mm * (0.98 + 0.03 * uniform()), 50.0)
            scene = replace(scene, length_mm=stop + runout, runout_mm=runout, body=(shank,))
    return scene
