"""What stands before the camera, as frozen dataclasses: thread, part, camera, light, dirt.

Conventions
    * Lengths in mm and angles in degrees; what belongs to the picture is in pixels, with ``_px`` in its name.
    * The part's axis is z and z = 0 is the free end; the part stretches to negative z. "Left" is the side of a ridge
      that faces away from the free end, "right" the side that faces it: what one sees with the free end to the right.
      With the free end elsewhere in the picture the names stay with the part, not with the picture.
    * Pixel centres are integers, x right, y down.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import cos, inf, isfinite, pi, radians, tan

from sample_images.condition import Blemishes, Wear
from sample_images.imperfections import Imperfections


@dataclass(frozen=True)
class Thread:
    """The axial section of an external thread; diameters hold where ``Scene.diameters_at_mm`` says.

    ``pitch_diameter_mm`` is the simple pitch diameter: there the ridge is half a pitch wide.
    ``root`` and ``crest`` are ``"flat"`` (with a corner radius, 0 is sharp) or ``"radius"``: one arc that touches both
    flanks and the minor (major) diameter, its radius following from the other numbers.
    ``taper_um_per_mm`` is the growth of the diameter, in micrometres, for each mm away from the free end.
    """

    major_mm: float
    pitch_diameter_mm: float
    minor_mm: float
    pitch_mm: float
    half_angle_left_deg: float = 30.0
    half_angle_right_deg: float = 30.0
    root: str = "flat"
    root_corner_radius_mm: float = 0.0
    crest: str = "flat"
    crest_corner_radius_mm: float = 0.0
    hand: str = "right"
    starts: int = 1
    taper_um_per_mm: float = 0.0

    @property
    def lead_mm(self) -> float:
        return self.pitch_mm * self.starts

    @property
    def _flank_run(self) -> float:
        """Axial run of both flanks together for each mm of radius (tan left + tan right)."""
        return tan(radians(self.half_angle_left_deg)) + tan(radians(self.half_angle_right_deg))

    @property
    def crest_width_mm(self) -> float:
        """Width of the crest flat in the axial section, between the flanks produced to the major diameter."""
        return self.pitch_mm / 2 - (self.major_mm - self.pitch_diameter_mm) / 2 * self._flank_run

    @property
    def root_width_mm(self) -> float:
        """Width of the root flat in the axial section, between the flanks produced to the minor diameter."""
        return self.pitch_mm / 2 - (self.pitch_diameter_mm - self.minor_mm) / 2 * self._flank_run

    @property
    def _round_per_width(self) -> float:
        """Radius of the circle that touches a line and both flanks, for each mm of width of the line between them."""
        return 1 / sum(
            tan((pi / 2 - radians(angle)) / 2) for angle in (self.half_angle_left_deg, self.half_angle_right_deg)
        )

    @property
    def crest_arc_mm(self) -> float:
        """Radius of the crest's corners, or of the whole crest when it is rounded."""
        return self.crest_width_mm * self._round_per_width if self.crest == "radius" else self.crest_corner_radius_mm

    @property
    def root_arc_mm(self) -> float:
        """Radius of the root's corners, or of the whole root when it is rounded."""
        return self.root_width_mm * self._round_per_width if self.root == "radius" else self.root_corner_radius_mm

    def faults(self) -> list[str]:
        """What keeps this thread from being cut in metal; empty when nothing does."""
        found = []
        if not 0 < self.minor_mm < self.pitch_diameter_mm < self.major_mm:
            found.append("the diameters must be minor < pitch < major, all above 0")
        if not (self.pitch_mm > 0 and isfinite(self.pitch_mm)):
            found.append("the pitch must be above 0")
        if not (0 < self.half_angle_left_deg < 75 and 0 < self.half_angle_right_deg < 75):
            found.append("half-angles must lie between 0 and 75 degrees")
        if self.hand not in ("right", "left"):
            found.append('hand is "right" or "left"')
        if self.root not in ("flat", "radius") or self.crest not in ("flat", "radius"):
            found.append('root and crest are "flat" or "radius"')
        if self.starts < 1:
            found.append("there is at least one start")
        if self.root_corner_radius_mm < 0 or self.crest_corner_radius_mm < 0:
            found.append("corner radii are not negative")
        if found:
            return found
        if self.crest_width_mm < 0 or self.root_width_mm < 0:
            found.append("the flanks meet before they reach the major or the minor diameter")
            return found
        slack = 1e-9
        if self.crest_arc_mm > self.crest_width_mm * self._round_per_width + slack:
            found.append("the crest's corner radius is larger than its flat has room for")
        if self.root_arc_mm > self.root_width_mm * self._round_per_width + slack:
            found.append("the root's corner radius is larger than its flat has room for")
        addendum = (self.major_mm - self.pitch_diameter_mm) / 2
        dedendum = (self.pitch_diameter_mm - self.minor_mm) / 2
        for angle in (radians(self.half_angle_left_deg), radians(self.half_angle_right_deg)):
            # From a corner the arc takes this height of the flank, for each mm of its radius.
            height = tan((pi / 2 - angle) / 2) * cos(angle)
            if self.crest_arc_mm * height > addendum + slack or self.root_arc_mm * height > dedendum + slack:
                found.append("a crest or root radius reaches the pitch line")
                break
        return found


@dataclass(frozen=True)
class Cylinder:
    """A plain length of the part: shank, shoulder, head or gauge pin."""

    diameter_mm: float
    length_mm: float


@dataclass(frozen=True)
class Cone:
    """A tapering length of the part: countersunk head, point, cone between two diameters.

    ``front_mm`` is the diameter at the end that faces the free end, ``back_mm`` that of the other.
    """

    front_mm: float
    back_mm: float
    length_mm: float

    @property
    def diameter_mm(self) -> float:
        return max(self.front_mm, self.back_mm)


@dataclass(frozen=True)
class SecondThread:
    """A thread at the far end of a rod. Its ridges are counted from its own end, ``phase`` as in ``Scene``.

    ``runout_mm`` is at the end that faces the first thread; ``chamfer_end_mm`` is the diameter of its own end face.
    """

    thread: Thread
    length_mm: float
    phase: float = 0.0
    runout_mm: float = 0.0
    chamfer_end_mm: float | None = None
    chamfer_angle_deg: float = 45.0

    @property
    def diameter_mm(self) -> float:
        return self.thread.major_mm


@dataclass(frozen=True)
class Slot:
    """A slot across the head, seen end-on: a notch in the part's far end, its floor parallel to the end face."""

    width_mm: float
    depth_mm: float


@dataclass(frozen=True)
class Camera:
    """The camera. ``working_distance_mm`` None is a telecentric lens, else a pinhole that far from the axis' plane.

    ``um_per_px`` holds in the plane of the axis (at ``Scene.view_mm``). ``blur_sigma_px`` is the Gaussian of the lens
    alone: each pixel integrates over its square on top of it. ``noise`` is the standard deviation as a fraction of
    full scale. ``bits`` is 8 or 16. ``opening`` is the sine of the half angle of the cone that the lens takes in at the
    part: each place is seen from all of it, sharp in the plane of the axis only; 0 sees it from one direction, the
    slopes ``aside`` (along the axis, across it) beside the middle of the lens.
    """

    width: int = 1600
    height: int = 1200
    um_per_px: float = 4.0
    working_distance_mm: float | None = None
    blur_sigma_px: float = 1.0
    noise: float = 0.005
    bits: int = 8
    opening: float = 0.0
    aside: tuple[float, float] = (0.0, 0.0)

    @property
    def distance_mm(self) -> float:
        return inf if self.working_distance_mm is None else self.working_distance_mm


@dataclass(frozen=True)
class Light:
    """The light, linear in intensity, full scale = 1.

    ``exposure`` is the brightness of the bright side at the picture's centre; there it is multiplied by
    1 + gradient_x x + gradient_y y - vignette (x^2 + y^2) / 2, x and y running from -1 to 1 across the picture.
    ``flare`` is the stray light in the dark side as a fraction of the bright one. ``background`` "bright" is a part
    in front of a light pad, "dark" a lit part in front of black cloth.
    ``cone_deg`` is the half cone under which the part sees the bright pad, and mirrors it beside its outline with
    ``reflectivity``; 0 mirrors nothing. ``pad_mm`` is how far behind the middle of the view the pad stands; nearer ones
    are seen under another cone from every place. None is a pad far away. ``roughness`` is that of the microfacets of
    the part's surface, which spread what is mirrored; 0 is a perfect mirror.
    """

    background: str = "bright"
    exposure: float = 0.75
    gradient_x: float = 0.0
    gradient_y: float = 0.0
    vignette: float = 0.0
    flare: float = 0.02
    cone_deg: float = 0.0
    reflectivity: float = 0.7
    pad_mm: float | None = None
    roughness: float = 0.0


@dataclass(frozen=True)
class Scene:
    """One picture: the part, how it lies, the camera, the light, the dirt.

    Attributes:
        thread: the thread, or None for a plain part (a gauge pin is one Cylinder).
        length_mm: length of the threaded part from the free end, chamfer and runout included.
        chamfer_end_mm: diameter of the end face of a chamfered free end; None cuts the end square.
        chamfer_angle_deg: angle of the chamfer from the axis.
        runout_mm: length over which the groove runs out toward the body (the lead of the die), 0 for a sharp stop.
        phase: where a ridge stands on the edge that lies to the right of someone who looks toward the free end
            (the lower edge of a picture with the free end right), as a fraction of a pitch from the free end.
        body: what follows behind the thread: undercut, shank, shoulder, head, a second thread.
        slot: across the far end of the body, seen end-on.
        tilt_deg: the free end comes toward the camera by this angle.
        rotation_deg: direction in which the free end points in the picture, from x toward y (clockwise on screen).
        view_mm: distance from the free end of the axis point that lies nearest to the picture's centre. It lies in
            the plane of focus and the tilt turns about it.
        offset_px: how far the axis passes from the picture's centre, toward the edge that ``phase`` speaks of.
        taper_at_mm: distance from the free end where a tapered thread has the diameters of ``thread``; None is the
            middle of what the picture shows of it.
        edge_offset_px: every edge lies this far outside the true edge of the part (negative: inside).
        dust, hairs: how many specks and hairs lie on the outline.
        form_errors: what is wrong with the thread as a body, and how far it is turned about its axis.
        seed: of noise and dirt.
        wear: what the thread has lost in use; ``thread`` stays what it was cut as.
        blemishes: what lies on the outline or is broken out of it, besides dust and hairs.
        defocus_px_per_mm: how fast the blur grows along the axis on both sides of the place in focus, as a part that
            leans out of the plane of focus shows it. It adds to the blur of the lens in squares.
        focus_at_mm: that place, from the free end; None is ``view_mm``.
    """

    thread: Thread | None
    length_mm: float = 0.0
    chamfer_end_mm: float | None = None
    chamfer_angle_deg: float = 45.0
    runout_mm: float = 0.0
    phase: float = 0.0
    body: tuple[Cylinder | Cone | SecondThread, ...] = ()
    tilt_deg: float = 0.0
    rotation_deg: float = 0.0
    view_mm: float = 0.0
    offset_px: float = 0.0
    taper_at_mm: float | None = None
    edge_offset_px: float = 0.0
    dust: int = 0
    hairs: int = 0
    form_errors: Imperfections | None = None
    seed: int = 0
    camera: Camera = field(default_factory=Camera)
    light: Light = field(default_factory=Light)
    slot: Slot | None = None
    wear: Wear | None = None
    blemishes: Blemishes = field(default_factory=Blemishes)
    defocus_px_per_mm: float = 0.0
    focus_at_mm: float | None = None

    def _has_room_for_slot(self) -> bool:
        if self.slot is None:
            return True
        if not self.body:
            return False
        far = self.body[-1]
        return 0 < self.slot.width_mm < far.diameter_mm and 0 < self.slot.depth_mm < far.length_mm

    def check(self) -> None:
        """Raise ValueError, in one sentence, for a scene that cannot exist."""
        for part in (self, self.thread, self.camera, self.light, self.slot, *self.body):
            for name, value in vars(part).items() if part else ():
                if isinstance(value, float) and not isfinite(value):
                    raise ValueError(f"{name} must be a finite number")
        camera, light = self.camera, self.light
        steps = [size for step in self.body for size in (step.diameter_mm, step.length_mm)]
        steps += [min(step.front_mm, step.back_mm) for step in self.body if isinstance(step, Cone)]
        rules = (
            (self.thread is None or self.length_mm > 0, "a thread needs a length above 0"),
            (self.thread or self.body, "there is neither a thread nor a plain part in the scene"),
            (min(steps, default=1) > 0, "shank, shoulder and head need a diameter and a length above 0"),
            (self._has_room_for_slot(), "a slot is narrower and less deep than the head it is in"),
            (self.chamfer_end_mm is None or self.chamfer_end_mm > 0, "the chamfer's end face needs a diameter above 0"),
            (5 <= self.chamfer_angle_deg <= 85, "the chamfer's angle lies between 5 and 85 degrees"),
            (0 <= self.runout_mm <= max(self.length_mm, 0), "the runout is part of the thread's length"),
            (abs(self.tilt_deg) <= 20, "the renderer holds for tilts up to 20 degrees"),
            (min(camera.width, camera.height) >= 16, "the picture's sides are at least 16 pixels long"),
            (max(camera.width, camera.height) <= 10000, "the picture's sides are at most 10000 pixels long"),
            (camera.um_per_px > 0, "the scale must be above 0 um per pixel"),
            (camera.distance_mm > 10, "the working distance must be above 10 mm"),
            (0 <= camera.blur_sigma_px <= 100, "blur lies between 0 and 100 pixels"),
            (0 <= camera.noise <= 1, "noise lies between 0 and 1"),
            (0 <= camera.opening <= 0.3, "the lens opening lies between 0 and 0.3"),
            (camera.bits in (8, 16), "the picture has 8 or 16 bits"),
            (light.background in ("bright", "dark"), 'the background is "bright" or "dark"'),
            (0 <= light.cone_deg <= 20, "the light's half cone lies between 0 and 20 degrees"),
            (light.pad_mm is None or light.pad_mm >= 20, "the pad stands at least 20 mm behind the part"),
            (0 <= light.reflectivity <= 1, "the reflectivity lies between 0 and 1"),
            (0 <= light.roughness <= 0.5, "the roughness lies between 0 and 0.5"),
            (0 <= self.defocus_px_per_mm <= 100, "the blur grows by 0 to 100 pixels a mm"),
            (min(self.dust, self.hairs) >= 0, "there cannot be fewer than no specks or hairs"),
        )
        found = self.thread.faults() if self.thread else []
        found += [fault for step in self.body if isinstance(step, SecondThread) for fault in step.thread.faults()]
        found += self.form_errors.faults() if self.form_errors else []
        found += (self.wear.faults() if self.wear else []) + self.blemishes.faults()
        found += [message for holds, message in rules if not holds]
        if found:
            raise ValueError("; ".join(found))


def pin_scene(
    diameter_mm: float,
    *,
    rotation_deg: float = 0.0,
    offset_px: float = 0.0,
    tilt_deg: float = 0.0,
    edge_offset_px: float = 0.0,
    seed: int = 0,
    camera: Camera | None = None,
    light: Light | None = None,
) -> Scene:
    """A gauge pin right across the picture: a plain cylinder whose ends are out of view."""
    return Scene(
        thread=None,
        body=(Cylinder(diameter_mm, 400.0),),
        view_mm=200.0,
        rotation_deg=rotation_deg,
        offset_px=offset_px,
        tilt_deg=tilt_deg,
        edge_offset_px=edge_offset_px,
        seed=seed,
        camera=camera or Camera(),
        light=light or Light(),
    )
