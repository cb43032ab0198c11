"""What is true of a scene, as plain numbers: the values a measurement of its picture is compared with."""

from __future__ import annotations

from math import atan, cos, degrees, inf, pi, radians
from typing import Any

from sample_images.geometry import axis_reach, diameters_at
from sample_images.scene import Cone, Cylinder, Scene, SecondThread


def truth_of(scene: Scene) -> dict[str, Any]:
    """The truth of a scene, ready for JSON.

    Keys of every scene: ``kind`` ("thread" or "pin"), ``um_per_px`` (in the plane of the axis), ``width_px``,
    ``height_px``, ``bits``, ``working_distance_mm`` (None: telecentric), ``blur_sigma_px``, ``noise``,
    ``edge_offset_px``, ``background``, ``uneven_light`` (brightest less darkest over the picture, relative to the
    centre), ``rotation_deg`` (where the free end points, from x toward y), ``tilt_deg`` (free end toward the camera),
    ``dust``, ``hairs``, ``seed``; and, where the scene has them, ``wear`` and ``blemishes`` (the fields of
    ``condition``; the thread's values below are those it was cut with), ``defocus_px_per_mm`` and ``focus_at_mm``,
    ``light_cone_deg`` and ``reflectivity``.

    A plain part adds ``diameter_mm``. A thread adds the values of its axial section: ``major_mm``,
    ``pitch_diameter_mm`` (simple: the ridge is half a pitch wide), ``minor_mm``, ``pitch_mm``, ``lead_mm``, ``starts``,
    ``hand``, ``lead_angle_deg`` (at the pitch diameter), ``half_angle_left_deg`` (flank away from the free end),
    ``half_angle_right_deg`` (flank toward it), ``included_angle_deg``, ``crest_width_mm`` and ``root_width_mm``
    (between the flanks produced; None for a rounded one), ``crest_radius_mm`` and ``root_radius_mm`` (None for a flat),
    ``crest_corner_radius_mm`` and ``root_corner_radius_mm``, ``taper_um_per_mm`` (positive: thicker away from the free
    end), ``diameters_at_mm`` (distance from the free end where the diameters hold), ``threads_in_view`` (full ridges,
    chamfer and runout not counted), ``free_end_in_view``, ``body_mm`` ([diameter, length] of undercut, shank, shoulder,
    head, second thread; a cone has [front diameter, back diameter, length]), ``slot_mm`` ([width, depth], if any).
    """
    camera, light = scene.camera, scene.light
    truth: dict[str, Any] = {
        "kind": "thread" if scene.thread else "pin",
        "um_per_px": camera.um_per_px,
        "width_px": camera.width,
        "height_px": camera.height,
        "bits": camera.bits,
        "working_distance_mm": camera.working_distance_mm,
        "blur_sigma_px": camera.blur_sigma_px,
        "noise": camera.noise,
        "edge_offset_px": scene.edge_offset_px,
        "background": light.background,
        "uneven_light": round(uneven_light(scene), 6),
        "rotation_deg": scene.rotation_deg % 360,
        "tilt_deg": scene.tilt_deg,
        "dust": scene.dust,
        "hairs": scene.hairs,
        "seed": scene.seed,
    }
    truth |= _condition(scene)
    thread = scene.thread
    if thread is None:
        truth["diameter_mm"] = scene.body[0].diameter_mm
        return truth
    rounded_crest, rounded_root = thread.crest == "radius", thread.root == "radius"
    truth |= {
        "major_mm": thread.major_mm,
        "pitch_diameter_mm": thread.pitch_diameter_mm,
        "minor_mm": thread.minor_mm,
        "pitch_mm": thread.pitch_mm,
        "lead_mm": thread.lead_mm,
        "starts": thread.starts,
        "hand": thread.hand,
        "lead_angle_deg": degrees(atan(thread.lead_mm / (pi * thread.pitch_diameter_mm))),
        "half_angle_left_deg": thread.half_angle_left_deg,
        "half_angle_right_deg": thread.half_angle_right_deg,
        "included_angle_deg": thread.half_angle_left_deg + thread.half_angle_right_deg,
        "crest_width_mm": None if rounded_crest else thread.crest_width_mm,
        "root_width_mm": None if rounded_root else thread.root_width_mm,
        "crest_radius_mm": thread.crest_arc_mm if rounded_crest else None,
        "root_radius_mm": thread.root_arc_mm if rounded_root else None,
        "crest_corner_radius_mm": 0.0 if rounded_crest else thread.crest_corner_radius_mm,
        "root_corner_radius_mm": 0.0 if rounded_root else thread.root_corner_radius_mm,
        "taper_um_per_mm": thread.taper_um_per_mm,
        "diameters_at_mm": diameters_at(scene),
        "threads_in_view": threads_in_view(scene),
        "free_end_in_view": abs(scene.view_mm) < axis_reach(scene),
        "body_mm": [_sizes(step) for step in scene.body],
    }
    if scene.slot is not None:
        truth["slot_mm"] = [scene.slot.width_mm, scene.slot.depth_mm]
    return truth


def _sizes(step: Cylinder | Cone | SecondThread) -> list[float]:
    if isinstance(step, Cone):
        return [step.front_mm, step.back_mm, step.length_mm]
    return [step.diameter_mm, step.length_mm]


def _condition(scene: Scene) -> dict[str, Any]:
    """Wear, blemishes, mirrored light and uneven focus, only where there are any, so that sound scenes stay short."""
    found: dict[str, Any] = {}
    if scene.wear:
        found["wear"] = {key: value for key, value in vars(scene.wear).items() if value not in (-inf, inf)}
    if scene.blemishes.any:
        found["blemishes"] = dict(vars(scene.blemishes))
    if scene.light.cone_deg:
        found |= {"light_cone_deg": scene.light.cone_deg, "reflectivity": scene.light.reflectivity}
    if scene.defocus_px_per_mm:
        sharp = scene.view_mm if scene.focus_at_mm is None else scene.focus_at_mm
        found |= {"defocus_px_per_mm": scene.defocus_px_per_mm, "focus_at_mm": sharp}
    return found


def uneven_light(scene: Scene) -> float:
    """Brightest less darkest of the light over the picture's corners, sides and centre, relative to its centre."""
    light = scene.light
    factors = [
        light.gradient_x * x + light.gradient_y * y - light.vignette * (x * x + y * y) / 2
        for x in (-1, 0, 1)
        for y in (-1, 0, 1)
    ]
    return max(factors) - min(factors)


def full_form(scene: Scene) -> tuple[float, float]:
    """From where to where the thread has its full section, behind chamfer, before runout: mm from the free end."""
    thread = scene.thread
    if thread is None:
        return 0.0, 0.0
    chamfer = 0.0
    if scene.chamfer_end_mm is not None:
        rise = max(thread.major_mm - scene.chamfer_end_mm, 0.0) / 2
        chamfer = rise * cos(radians(scene.chamfer_angle_deg)) / max(abs(_sin_deg(scene.chamfer_angle_deg)), 1e-9)
    return chamfer, scene.length_mm - scene.runout_mm


def threads_in_view(scene: Scene) -> int:
    """How many whole pitches of full thread the picture shows, taken along the axis where both edges are in it."""
    if scene.thread is None:
        return 0
    near, far = seen_between(scene, scene.thread.major_mm)
    start, stop = full_form(scene)
    return max(0, int((min(far, stop) - max(near, start)) / scene.thread.pitch_mm))


def seen_between(scene: Scene, diameter_mm: float) -> tuple[float, float]:
    """The stretch of the axis, as distances from the free end, over which both edges of a cylinder are in the picture.

    The tilt and the lens are left out of it. When no stretch qualifies, the first number is not below the second.
    """
    camera = scene.camera
    mm = camera.um_per_px * 1e-3
    half = (camera.width * mm / 2, camera.height * mm / 2)
    c, s = cos(radians(scene.rotation_deg)), _sin_deg(scene.rotation_deg)
    low, high = -1e9, 1e9
    for v in (scene.offset_px * mm + diameter_mm / 2, scene.offset_px * mm - diameter_mm / 2):
        for direction, start, limit in ((c, -v * s, half[0]), (s, v * c, half[1])):
            if abs(direction) < 1e-9:
                if abs(start) > limit:
                    return 0.0, 0.0
                continue
            ends = sorted(((-limit - start) / direction, (limit - start) / direction))
            low, high = max(low, ends[0]), min(high, ends[1])
    return scene.view_mm - high, scene.view_mm - low


def _sin_deg(angle: float) -> float:
    return cos(radians(angle - 90))
