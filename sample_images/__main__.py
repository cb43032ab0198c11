"""Draw pictures of screws and gauge pins whose true dimensions are known.

The shadow is projected from the true helical surface of the thread, so it shows what a camera sees, not the
axial section; a file with the truth is written beside each picture (PICTURE.png -> PICTURE.truth.json).

Examples:
  python -m sample_images -o screw.png --major-mm 2.82 --pitch-mm 0.635 --rotation-deg 20 --tilt-deg 1
  python -m sample_images -o screw.tif --bits 16 --root radius --shank 2.8 3 --thread-length-mm 4 --runout-mm 0.6
  python -m sample_images -o pin.png --pin-mm 2.5 --um-per-px 4
  python -m sample_images -o any.png --random 7
  python -m sample_images -o old.jpg --spoiled 0.1 --gradient 0.15 0 --noise 0.02 --jpeg-quality 85 --flank-wear-mm 0.02
  python -m sample_images --rebuild                 (the sample set of this folder, the same every time)
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sample_images.condition import Wear
    from sample_images.scene import Scene


def parser() -> argparse.ArgumentParser:
    """The options of the command. Lengths are in the unit that the option's name ends in."""
    options = argparse.ArgumentParser(
        prog="python -m sample_images",
        usage="python -m sample_images (-o PICTURE [options] | --rebuild [FOLDER])",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    what = options.add_argument_group("what to draw")
    what.add_argument("-o", "--output", type=Path, metavar="PICTURE", help="file to write: .png, .tif or .jpg (sRGB)")
    what.add_argument("--rebuild", nargs="?", const="", metavar="FOLDER", help="draw the sample set, here or in FOLDER")
    what.add_argument("--random", type=int, metavar="SEED", help="a random screw; camera options are ignored")
    what.add_argument("--pin-mm", type=float, metavar="D", help="a gauge pin of this diameter instead of a screw")

    thread = options.add_argument_group("the thread (axial section)")
    thread.add_argument("--major-mm", type=float, default=2.82, help="major diameter (%(default)s)")
    thread.add_argument("--pitch-mm", type=float, default=0.635, help="pitch (%(default)s)")
    thread.add_argument("--pitch-diameter-mm", type=float, help="pitch diameter (major - 0.649519 pitch)")
    thread.add_argument(
        "--minor-mm", type=float, help="minor diameter (major - 1.299038 pitch; rounded: - 1.22687 pitch)"
    )
    thread.add_argument("--half-angle-left-deg", type=float, default=30.0, help="flank away from the free end (30)")
    thread.add_argument("--half-angle-right-deg", type=float, default=30.0, help="flank toward the free end (30)")
    thread.add_argument("--root", choices=("flat", "radius"), default="flat", help="form of the root (flat)")
    thread.add_argument("--crest", choices=("flat", "radius"), default="flat", help="form of the crest (flat)")
    thread.add_argument("--root-corner-mm", type=float, default=0.0, help="corner radius of a flat root (0)")
    thread.add_argument("--crest-corner-mm", type=float, default=0.0, help="corner radius of a flat crest (0)")
    thread.add_argument("--hand", choices=("right", "left"), default="right", help="hand (right)")
    thread.add_argument("--starts", type=int, default=1, help="number of starts (1)")
    thread.add_argument("--taper-um-per-mm", type=float, default=0.0, help="growth of diameter away from the end (0)")
    thread.add_argument("--phase", type=float, default=0.0, help="where a ridge stands, fraction of a pitch (0)")

    part = options.add_argument_group("the part")
    part.add_argument("--thread-length-mm", type=float, default=50.0, help="from the free end, runout included (50)")
    part.add_argument("--chamfer-end-mm", type=float, help="diameter of the end face of a chamfer (none)")
    part.add_argument("--chamfer-angle-deg", type=float, default=45.0, help="angle of the chamfer from the axis (45)")
    part.add_argument("--runout-mm", type=float, default=0.0, help="length over which the groove runs out (0)")
    for name in ("shank", "shoulder", "head"):
        text = f"{name} behind the thread: diameter and length in mm"
        part.add_argument(f"--{name}", type=float, nargs=2, metavar=("D", "L"), help=text)

    pose = options.add_argument_group("how it lies")
    pose.add_argument("--rotation-deg", type=float, default=0.0, help="where the free end points, clockwise from right")
    pose.add_argument("--tilt-deg", type=float, default=0.0, help="free end toward the camera (0)")
    pose.add_argument("--view-mm", type=float, help="from the free end to the picture's centre (the end at 40 %%)")
    pose.add_argument("--offset-px", type=float, default=0.0, help="axis from the picture's centre (0)")

    _add_camera(options.add_argument_group("camera, light and dirt"))
    _add_condition(options.add_argument_group("wear, damage and oil"))
    return options


def _add_camera(camera: argparse._ArgumentGroup) -> None:
    camera.add_argument(
        "--size", type=int, nargs=2, metavar=("W", "H"), default=(1600, 1200), help="pixels (1600 1200)"
    )
    camera.add_argument("--um-per-px", type=float, default=4.0, help="scale in the plane of the axis (4)")
    camera.add_argument("--working-distance-mm", type=float, help="pinhole at this distance (telecentric)")
    camera.add_argument("--blur-px", type=float, default=1.0, help="sigma of the lens' Gaussian (1)")
    camera.add_argument("--noise", type=float, default=0.005, help="standard deviation / full scale (0.005)")
    camera.add_argument("--bits", type=int, choices=(8, 16), default=8, help="of a PNG or TIFF (8)")
    camera.add_argument("--background", choices=("bright", "dark"), default="bright", help="(bright)")
    camera.add_argument("--exposure", type=float, default=0.75, help="brightness of the bright side, 0 to 1 (0.75)")
    camera.add_argument("--gradient", type=float, nargs=2, metavar=("X", "Y"), default=(0.0, 0.0), help="(0 0)")
    camera.add_argument("--vignette", type=float, default=0.0, help="darkening of the corners (0)")
    camera.add_argument("--flare", type=float, default=0.02, help="stray light in the dark side (0.02)")
    camera.add_argument("--edge-offset-px", type=float, default=0.0, help="edges outside the true part (0)")
    camera.add_argument("--dust", type=int, default=0, help="specks on the outline (0)")
    camera.add_argument("--hairs", type=int, default=0, help="hairs on the outline (0)")
    camera.add_argument("--seed", type=int, default=0, help="of noise and dirt (0)")
    camera.add_argument("--jpeg-quality", type=int, default=95, help="of a .jpg, 1 to 95 (95)")
    camera.add_argument("--defocus-px-per-mm", type=float, default=0.0, help="growth of the blur along the axis (0)")
    camera.add_argument("--focus-at-mm", type=float, help="where it is sharp, from the free end (picture's centre)")


def _add_condition(group: argparse._ArgumentGroup) -> None:
    group.add_argument("--crest-wear-mm", type=float, default=0.0, help="height that the crests have lost (0)")
    group.add_argument("--crest-dome-mm", type=float, default=0.0, help="by which their corners are lower still (0)")
    group.add_argument("--flank-wear-mm", type=float, default=0.0, help="what a flank has lost at the crest (0)")
    group.add_argument("--worn-flank", choices=("left", "right", "both"), default="right", help="which one (right)")
    group.add_argument(
        "--flank-wear-form", choices=("wedge", "step"), default="wedge", help="growing to the crest, or even (wedge)"
    )
    group.add_argument("--flank-wear-to", type=float, default=0.4, help="where it ends: 0 root to 1 crest (0.4)")
    group.add_argument(
        "--wear-between-mm", type=float, nargs=2, metavar=("A", "B"), help="worn length, from the free end (all)"
    )
    group.add_argument("--spoiled", type=float, default=0.0, help="part of the edge under specks and nicks (0)")
    for name, what in (
        ("nicks", "dents in the edge"),
        ("burrs", "lips of metal on the crests"),
        ("flakes", "lifted flakes of plating"),
        ("oil-roots", "roots with oil in them"),
        ("oil-films", "stretches with a film of oil"),
        ("glare-flanks", "flanks that shine inside their edge"),
    ):
        group.add_argument(f"--{name}", type=int, default=0, metavar="N", help=f"{what} (0)")
    group.add_argument("--glare", type=float, default=0.3, help="light of their shine, of that of the pad (0.3)")


def scene_of(given: argparse.Namespace) -> Scene:
    """The scene that the options describe; it may be impossible (``Scene.check`` tells)."""
    import numpy as np  # noqa: PLC0415  (--help must be quick)

    from sample_images.condition import Blemishes  # noqa: PLC0415
    from sample_images.random_scene import random_scene  # noqa: PLC0415
    from sample_images.scene import Camera, Cylinder, Light, Scene, Thread, pin_scene  # noqa: PLC0415

    bits = 16 if given.output.suffix.lower() in (".jpg", ".jpeg") else given.bits
    if given.random is not None:
        scene = random_scene(np.random.default_rng(given.random))
        return replace(scene, camera=replace(scene.camera, bits=bits))
    width, height = given.size
    camera = Camera(width, height, given.um_per_px, given.working_distance_mm, given.blur_px, given.noise, bits)
    across, down = given.gradient
    light = Light(given.background, given.exposure, across, down, given.vignette, given.flare)
    if given.pin_mm is not None:
        return pin_scene(
            given.pin_mm,
            rotation_deg=given.rotation_deg,
            offset_px=given.offset_px,
            tilt_deg=given.tilt_deg,
            edge_offset_px=given.edge_offset_px,
            seed=given.seed,
            camera=camera,
            light=light,
        )
    pitch_diameter = given.pitch_diameter_mm or given.major_mm - 0.649519 * given.pitch_mm
    depth = 1.22687 if given.root == "radius" else 1.299038
    thread = Thread(
        given.major_mm,
        pitch_diameter,
        given.minor_mm or given.major_mm - depth * given.pitch_mm,
        given.pitch_mm,
        given.half_angle_left_deg,
        given.half_angle_right_deg,
        given.root,
        given.root_corner_mm,
        given.crest,
        given.crest_corner_mm,
        given.hand,
        given.starts,
        given.taper_um_per_mm,
    )
    body = tuple(Cylinder(*step) for step in (given.shank, given.shoulder, given.head) if step)
    blemishes = Blemishes(
        given.spoiled,
        given.nicks,
        given.burrs,
        given.flakes,
        given.oil_roots,
        given.oil_films,
        given.glare_flanks,
        given.glare,
    )
    return Scene(
        thread,
        given.thread_length_mm,
        given.chamfer_end_mm,
        given.chamfer_angle_deg,
        given.runout_mm,
        given.phase,
        body,
        given.tilt_deg,
        given.rotation_deg,
        given.view_mm if given.view_mm is not None else 0.4 * min(width, height) * given.um_per_px * 1e-3,
        given.offset_px,
        edge_offset_px=given.edge_offset_px,
        dust=given.dust,
        hairs=given.hairs,
        seed=given.seed,
        camera=camera,
        light=light,
        wear=_wear_of(given),
        blemishes=blemishes,
        defocus_px_per_mm=given.defocus_px_per_mm,
        focus_at_mm=given.focus_at_mm,
    )


def _wear_of(given: argparse.Namespace) -> Wear | None:
    from sample_images.condition import Wear  # noqa: PLC0415  (--help must be quick)

    if not (given.crest_wear_mm or given.crest_dome_mm or given.flank_wear_mm):
        return None
    wear = Wear(
        given.crest_wear_mm,
        given.crest_dome_mm,
        given.worn_flank,
        given.flank_wear_mm,
        given.flank_wear_to,
        given.flank_wear_form,
    )
    if given.wear_between_mm is None:
        return wear
    first, last = given.wear_between_mm
    return replace(wear, from_mm=first, to_mm=last)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command. Returns 0 done, 1 a file could not be written, 2 wrong options or an impossible scene."""
    options = parser()
    given = options.parse_args(arguments)
    if (given.rebuild is None) == (given.output is None):
        options.error("give either -o PICTURE or --rebuild")
    try:
        if given.rebuild is not None:
            from sample_images.sample_set import FOLDER, rebuild  # noqa: PLC0415

            for path in rebuild(Path(given.rebuild) if given.rebuild else FOLDER):
                print(f"{path}  {path.stat().st_size / 1e3:.0f} kB")
            return 0
        from sample_images.files import SUFFIXES, write_picture, write_truth  # noqa: PLC0415
        from sample_images.render import render  # noqa: PLC0415

        if not 1 <= given.jpeg_quality <= 95:
            options.error("the quality of a JPEG lies between 1 and 95")
        if given.output.suffix.lower() not in SUFFIXES:
            options.error(f"the picture's name must end in one of {', '.join(SUFFIXES)}")
        picture, truth = render(scene_of(given))
        write_picture(given.output, picture, given.jpeg_quality)
        beside = given.output.with_suffix(".truth.json")
        bits = {"bits": 8} if given.output.suffix.lower() in (".jpg", ".jpeg") else {}
        write_truth(beside, {"file": given.output.name} | truth | bits)
        print(f"{given.output}  {beside}")
    except ValueError as impossible:
        options.error(str(impossible))
    except OSError as fault:
        print(f"cannot write: {fault}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
