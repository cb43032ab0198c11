"""Draw the figures of the guide: ``python docs/figures/draw.py FOLDER``."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs in a checkout that is not installed
sys.path.insert(0, str(Path(__file__).resolve().parent))

from excess import SIZES, basic, edge, pitch_diameter_excess_um

from records.figures.style import BLACK, BLUE, GREEN, GREY, ORANGE, PALE, SKY, VERMILION, new_figure, plain_axes, styled
from vision.model.blurred import contour
from vision.model.grazing import setup_effect
from vision.model.shadow import INDEX

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def _line(axes: Axes, name: str, x: Any, y: Any, **look: Any) -> None:
    axes.plot(x, y, gid=f"line-{name}", **look)


def _section(x: Any, u: Any) -> Any:
    """Height of the axial section at ``u``: straight flanks between the flats of crest and root."""
    pitch = x[INDEX["pitch"]]
    off = np.abs((u + pitch / 2) % pitch - pitch / 2)
    flank = x[INDEX["pitch_radius"]] + (pitch / 4 - off) / math.tan(math.radians(30))
    return np.clip(flank, x[INDEX["root"]], x[INDEX["crest"]])


def shadow(axes: Axes) -> None:
    """One ridge of a 4-40 thread: the section and its shadow, what the shadow adds drawn five times larger."""
    x = basic(*SIZES[0][1:4])
    u, seen = edge(x, 1.0, 20001)
    level = np.linspace(x[INDEX["root"]] + 1e-4, x[INDEX["crest"]] - 1e-4, 201)
    half = [
        np.array([(heights > h).mean() for h in level]) * x[INDEX["pitch"]] / 2 for heights in (_section(x, u), seen)
    ]
    shown = half[0] + 5 * (half[1] - half[0])
    for side, name in ((-1, "left"), (1, "right")):
        labels = ("axial section", "edge of the shadow (5 times as far)", "what the flanks hide") if side > 0 else ()
        section, edge_of_shadow, hidden = labels or (None, None, None)
        axes.fill_betweenx(level, side * half[0], side * shown, color=ORANGE, label=hidden)
        _line(axes, f"section-{name}", side * half[0], level, color=BLUE, linestyle="--", label=section)
        _line(axes, f"shadow-{name}", side * shown, level, color=BLACK, label=edge_of_shadow)
    axes.set(xlabel="along the axis, mm", ylabel="from the axis, mm", title="4-40: the shadow is fuller")
    axes.set_aspect("equal")
    axes.legend(loc="upper left", bbox_to_anchor=(1.0, 1.0))


def tilted(axes: Axes) -> None:
    """What tilt does to the excess of the two edges."""
    name, major, pitch, form, _ = SIZES[0]
    tilt = np.linspace(-6.0, 6.0, 49)
    one = [pitch_diameter_excess_um(basic(major, pitch, form, t)) / 2 for t in tilt]
    _line(axes, "upper", tilt, one, color=BLUE, label="upper edge")
    _line(axes, "lower", tilt, one[::-1], color=VERMILION, linestyle="--", label="lower edge")
    _line(axes, "sum", tilt, np.add(one, one[::-1]), color=BLACK, linestyle=":", label="both: pitch diameter")
    axes.set(
        xlabel="tilt toward the camera, degrees", ylabel="too far out, µm", title=f"{name}: tilt helps one edge only"
    )
    axes.legend()


def mirrored(axes: Axes) -> None:
    """What mirrored light takes from a pitch diameter of 2.5 mm, and what remains uncertain."""
    cone = np.linspace(0.0, 8.0, 81)
    effects = [setup_effect(float(c), 2.5) for c in cone]
    _line(axes, "taken", cone, [1e3 * e.taken for e in effects], color=VERMILION, label="taken from the pitch diameter")
    _line(axes, "left", cone, [1e3 * e.u95 for e in effects], color=BLUE, linestyle="--", label="U95 when put right")
    axes.set(
        xlabel="half cone of the light, degrees",
        ylabel="µm",
        title="Polished, 2.5 mm, 60°: mask the pad to a small patch",
    )
    axes.legend()


def perspective(axes: Axes) -> None:
    """A part that does not lie in the plane of the gauge, by the distance of the lens."""
    off = np.linspace(-0.5, 0.5, 51)
    for distance, colour, dashes in ((60.0, VERMILION, "-"), (120.0, BLUE, "--"), (300.0, GREEN, ":")):
        error = 2.5e3 * (distance / (distance - off) - 1)
        _line(
            axes, f"at-{distance:.0f}", off, error, color=colour, linestyle=dashes, label=f"lens at {distance:.0f} mm"
        )
    axes.set(
        xlabel="nearer to the lens than the gauge, mm",
        ylabel="error of 2.5 mm, µm",
        title="Same plane, or the scale is off",
    )
    axes.legend()


def blurred(axes: Axes) -> None:
    """What blur does to the crest of a 4-40 thread."""
    name, major, pitch, form, _ = SIZES[0]
    u, sharp = edge(basic(major, pitch, form), 0.4, 401)
    _line(axes, "sharp", u, sharp, color=GREY, label="sharp")
    for blur, colour, dashes in ((0.006, BLUE, "--"), (0.02, VERMILION, ":")):
        seen = contour(basic(major, pitch, form, blur=blur), u, np.ones(u.size), (0.0, 0.0), gradient=False)[0]
        label = f"edges {2.56e3 * blur:.0f} µm wide"
        _line(axes, f"blur-{1e3 * blur:.0f}", u, seen, color=colour, linestyle=dashes, label=label)
    axes.set(xlabel="along the axis, mm", ylabel="from the axis, mm", title=f"{name}: blur rounds the crest")
    axes.set_aspect("equal")
    axes.legend(loc="upper left", bbox_to_anchor=(1.0, 1.0))


def two_pins(axes: Axes) -> None:
    """Two pins tell scale and edge offset apart: the sample bench, its offset drawn forty times too large."""
    nominal = np.array([0.0, 1.0, 2.5])
    _line(axes, "offset", nominal, nominal / 0.004 - 20, color=BLUE, label="edges found 10 px too far in")
    _line(axes, "true", nominal, nominal / 0.004, color=GREY, linestyle="--", label="no offset")
    _line(
        axes, "pins", nominal[1:], nominal[1:] / 0.004 - 20, color=BLACK, marker="o", linestyle="", label="the two pins"
    )
    axes.set(xlabel="diameter, mm", ylabel="seen, px", title="Slope: scale. Where it starts: twice the edge offset")
    axes.legend()


def layout(axes: Axes) -> None:
    """The bench from the side; not to scale."""
    axes.set(xlim=(-1, 33), ylim=(-6, 6), title="The bench from the side (not to scale)")
    axes.axis("off")
    for left, low, wide, high, colour, name in (
        (0, -4, 1.2, 8, SKY, "light pad"),
        (1.6, 0.8, 0.5, 3.4, BLACK, "mask"),
        (1.6, -4.2, 0.5, 3.4, BLACK, ""),
        (19.2, -2.4, 2.0, 1.6, GREY, "V-block"),
        (28, -1.2, 4, 2.4, PALE, "lens, camera"),
    ):
        axes.add_patch(_box(left, low, wide, high, colour))
        above = low - 0.9 if name == "V-block" else low + high + 0.3
        place = (left + 0.9, 3.6) if name == "mask" else (left + wide / 2, above)
        axes.text(*place, name, ha="left" if name == "mask" else "center")
    _line(axes, "axis", [2.2, 28], [0, 0], color=GREY, linestyle="--")
    _line(axes, "cone-upper", [2.1, 20.2], [0.8, 0], color=ORANGE)
    _line(axes, "cone-lower", [2.1, 20.2], [-0.8, 0], color=ORANGE)
    axes.plot([20.2], [0], marker="o", markersize=10, color=BLACK)
    axes.text(20.2, 0.9, "part or pin,\nseen end-on", ha="center")
    axes.annotate("", (2.1, -5), (20.2, -5), arrowprops={"arrowstyle": "<->"})
    axes.text(11, -4.7, "150 mm or so", ha="center")


def _box(left: float, low: float, wide: float, high: float, colour: str) -> Any:
    from matplotlib.patches import Rectangle

    return Rectangle((left, low), wide, high, facecolor=colour, edgecolor=BLACK, linewidth=0.7)


FIGURES: dict[str, tuple[Callable[[Axes], None], tuple[float, float]]] = {
    "layout": (layout, (6.5, 2.6)),
    "shadow": (shadow, (6.5, 3.0)),
    "tilted": (tilted, (5.0, 3.0)),
    "mirrored": (mirrored, (5.0, 3.0)),
    "perspective": (perspective, (5.0, 3.0)),
    "blurred": (blurred, (6.5, 3.0)),
    "two_pins": (two_pins, (5.0, 3.0)),
}


def draw(folder: Path) -> None:
    """Write every figure into ``folder``."""
    with styled():
        for name, (plot, size) in FIGURES.items():
            figure = new_figure(size)
            axes = figure.add_subplot()
            plot(axes)
            plain_axes(axes)
            figure.savefig(folder / f"{name}.svg", bbox_inches="tight", metadata={"Date": None})


if __name__ == "__main__":
    draw(Path(sys.argv[1]))
