"""How wide the backlight is, from its patch and distance, and what that does to a polished thread."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from cli.errors import CommandLineError
from cli.lengths import parse_angle, parse_length

if TYPE_CHECKING:
    from cli.tables import Table
    from vision.model.grazing import SetupEffect

THREAD_MM = 2.5
FLANK_DEG = 30.0
"""Pitch diameter and half angle of the thread whose loss is shown."""


@dataclass(frozen=True)
class Cone:
    """Half cone of the light and its standard uncertainty, degrees."""

    deg: float
    u_deg: float


def read_cone(light_cone: str | None, patch: str | None, distance: str | None) -> Cone | None:
    """The cone that was given, None where nobody said.

    Raises CommandLineError where it was said twice or by half, or is no cone.
    """
    if light_cone is not None:
        if patch is not None or distance is not None:
            raise CommandLineError("--light-cone and --light-patch say the same thing twice: give one of them")
        return Cone(parse_angle(light_cone, "--light-cone"), 0.0)
    if patch is None and distance is None:
        return None
    if patch is None or distance is None:
        raise CommandLineError("--light-patch DIAMETER and --light-distance LENGTH go together")
    from flankwise.bench import light_of

    deg, u_deg = light_of(None, parse_length(patch, "--light-patch"), parse_length(distance, "--light-distance"))
    assert deg is not None
    return Cone(deg, u_deg)


def show_light(cone: Cone, *, as_json: bool) -> None:
    """Print what this light takes from a polished thread, for a bench that is being set up."""
    from cli.output import show, write_json

    if as_json:
        write_json(_document(cone))
        return
    head = f"light cone   {cone_words(cone)}"
    if cone.deg == 0:
        show(head, "", "Light without a cone is not mirrored into the camera: nothing is taken from the thread.")
        return
    show(head, "", light_table(cone, round_gauges=True), "", *_advice())


def _advice() -> tuple[str, ...]:
    from vision.model.grazing import ASSUMED_CONE_DEG, setup_effect

    silent = setup_effect(None, THREAD_MM, FLANK_DEG)
    return (
        "Give the cone when you calibrate, and --surface when you measure: the loss is put right.",
        f"Where the cone is not given, it may be up to {ASSUMED_CONE_DEG:g}°, and U95 is ± {1000 * silent.u95:.1f} µm.",
        "A smaller patch of light, or one farther behind the part, takes less: it goes with the square of the cone.",
    )


def light_table(cone: Cone, *, round_gauges: bool) -> Table:
    """This cone, half and twice of it: what each takes and what remains, by pins or by flat gauges."""
    from cli.tables import plain_table

    taken_from = f"taken from a polished pitch diameter of {THREAD_MM:g} mm, {2 * FLANK_DEG:g}°"
    head = taken_from, "U95, surface bright", "surface not stated"
    table = plain_table("half cone", "", *head, right=head)
    both = (_effects(cone, round_gauges=round_gauges, surface=surface) for surface in ("bright", None))
    for bright, unknown in zip(*both, strict=True):
        which = "this light" if bright.cone_deg == cone.deg else ""
        left = (f"± {1000 * effect.u95:.2f} µm" for effect in (bright, unknown))
        table.add_row(f"{bright.cone_deg:.2f}°", which, f"{1000 * bright.taken:.2f} µm", *left)
    return table


def cone_words(cone: Cone) -> str:
    """The cone with its U95 where it has one."""
    from threads.shared.formatting import format_quantity
    from threads.shared.quantity import Quantity

    return format_quantity(Quantity(cone.deg, cone.u_deg, "deg")) if cone.u_deg else f"{cone.deg:g}°"


def _effects(cone: Cone, *, round_gauges: bool, surface: str | None) -> list[SetupEffect]:
    from vision.model.grazing import setup_effect

    return [
        setup_effect(
            share * cone.deg,
            THREAD_MM,
            FLANK_DEG,
            cone_u_deg=share * cone.u_deg,
            round_gauges=round_gauges,
            surface=surface,
        )
        for share in (0.5, 1.0, 2.0)
    ]


def _document(cone: Cone) -> dict[str, Any]:
    from threads.shared.quantity import Quantity

    return {
        "schema": "flankwise/light/1",
        "light_cone": Quantity(cone.deg, cone.u_deg, "deg").to_dict(),
        "thread": {"pitch_diameter_mm": THREAD_MM, "included_angle_deg": 2 * FLANK_DEG},
        "effects": [
            {"light_cone_deg": e.cone_deg, "taken_mm": e.taken, "u95_mm": e.u95}
            for e in _effects(cone, round_gauges=True, surface="bright")
        ],
    }
