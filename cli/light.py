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
    from math import radians

    from vision.model.grazing import ASSUMED_CONE_DEG, grazing_effects

    silent = grazing_effects(THREAD_MM, radians(FLANK_DEG), 0.0, round_gauges=True)
    wider = f"{1000 * silent.pitch_diameter:.1f} µm"
    return (
        "Give the cone when you calibrate, and the loss is put right.",
        f"Where it is not given, U95 has to allow for a half cone of {ASSUMED_CONE_DEG:g}° and is wider by {wider}.",
        "A smaller patch of light, or one farther behind the part, takes less: it goes with the square of the cone.",
    )


def light_table(cone: Cone, *, round_gauges: bool) -> Table:
    """This cone, half and twice of it: what each takes and what remains, by pins or by flat gauges."""
    from cli.tables import plain_table

    head = f"taken from a polished pitch diameter of {THREAD_MM:g} mm, {2 * FLANK_DEG:g}°", "U95 when put right"
    table = plain_table("half cone", "", *head, right=head)
    for effect in _effects(cone, round_gauges=round_gauges):
        which = "this light" if effect.cone_deg == cone.deg else ""
        taken, left = f"{1000 * effect.taken:.2f} µm", f"± {1000 * effect.u95:.2f} µm"
        table.add_row(f"{effect.cone_deg:.2f}°", which, taken, left)
    return table


def cone_words(cone: Cone) -> str:
    """The cone with its U95 where it has one."""
    from threads.shared.formatting import format_quantity
    from threads.shared.quantity import Quantity

    return format_quantity(Quantity(cone.deg, cone.u_deg, "deg")) if cone.u_deg else f"{cone.deg:g}°"


def _effects(cone: Cone, *, round_gauges: bool) -> list[SetupEffect]:
    from vision.model.grazing import setup_effect

    return [
        setup_effect(share * cone.deg, THREAD_MM, FLANK_DEG, cone_u_deg=share * cone.u_deg, round_gauges=round_gauges)
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
            for e in _effects(cone, round_gauges=True)
        ],
    }
