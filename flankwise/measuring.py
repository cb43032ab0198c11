"""From pictures to measured parts: the one place where picture, bench, measurement and remarks come together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from flankwise.amounts import Amount, in_degrees, in_mm
from flankwise.bench import KNOWN, Bench, Path, with_own_gauges
from flankwise.developed import in_their_tone, like_the_gauges
from flankwise.part import Part, Parts
from threads.shared.file_name import plain_name
from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from threads.shared.quantity import Quantity
    from vision.locate.detection import DetectedPart
    from vision.pictures.picture import Picture

PIN_U95 = "1um"
"""Of a gauge pin of a usual set: a figure of the workshop."""
KNOWN_U95 = "4um"
"""Of a workshop micrometer on a clean part: a figure of the workshop."""


def measure(
    picture: Path | Picture | DetectedPart,
    bench: Bench | None = None,
    *,
    pin_beside: Amount | None = None,
    pin_u95: Amount = PIN_U95,
    focus_locked: bool = False,
    known: Mapping[str, Amount] | None = None,
    known_u95: Amount = KNOWN_U95,
    surface: str | None = None,
    hand: str | None = None,
    starts: int | None = None,
    lit_picture: Path | None = None,
    part: int | None = None,
    thread: int | None = None,
    ends: tuple[tuple[float, float], tuple[float, float]] | None = None,
    masks: tuple[tuple[float, float, float, float], ...] = (),
) -> Part:
    """Measure the thread in a picture.

    Args:
        picture: its path; or what was read of it or seen in it before.
        bench: on which it was taken; None where a gauge in the picture gives the scale.
        pin_beside: diameter of a gauge pin that lies beside the part.
        pin_u95: its U95.
        focus_locked: the focus was not touched since the gauges of ``bench``, whatever its calibration says.
        known: sizes measured by hand, ``{"major": "2.83mm"}`` or ``{"shank": "2.50mm"}``.
        known_u95: their U95.
        surface: ``"bright"``, ``"dull"`` or ``"black"``; where nobody says, U95 allows for all of them.
        hand: ``"right"`` or ``"left"`` where somebody detected.
        starts: how many it has where somebody counted.
        lit_picture: a picture of the part lit from the front: its hand is read there.
        part: which of several in view, from the left, from 1.
        thread: which of a part that has several, from the left, from 1; else the one that shows most clearly.
        ends: two points in the picture, px; the thread is taken between them along the axis only.
        masks: rectangles (left, top, right, bottom), px, in which the outline is left out.

    Raises Refused for what cannot be measured, ValueError for an argument that makes no sense.
    """
    from vision.locate.detection import ByHand, DetectedPart, detect
    from vision.pictures.picture import Picture, read_picture
    from vision.result.measure import measure_detected

    if hand not in {None, "right", "left"}:
        raise ValueError(f"hand {hand!r} is not one of right, left")
    check_surface(surface)
    sizes = {what: in_mm(size, f"known {what}") for what, size in (known or {}).items()}
    if unknown := [what for what in sizes if what not in KNOWN]:
        raise ValueError(f"known {unknown[0]!r} is not one of {', '.join(KNOWN)}")
    pin = None if pin_beside is None else (in_mm(pin_beside, "pin_beside"), in_mm(pin_u95, "pin_u95"))
    if bench is None and pin is None and not sizes:
        raise ValueError("how large is a pixel? Give a bench, or a gauge in the picture")
    told = hand_told(hand, starts, lit_picture)
    if isinstance(picture, DetectedPart):
        detected, read = picture, picture.picture
    else:
        detected, read = None, picture if isinstance(picture, Picture) else read_picture(picture)
    bench = bench.with_focus_locked() if bench is not None and focus_locked else bench
    remarks = () if bench is None else bench.remarks(read)
    if bench is not None:
        first = detected or detect(read, part=part if part is not None or pin is None else 1)
        first, bench, developed = like_the_gauges(first, bench, part)
        read, detected, remarks = first.picture, None if pin is not None else first, (*remarks, *developed)
    if pin is not None or sizes:
        used, part = with_own_gauges(bench, read, part, pin, sizes, in_mm(known_u95, "known_u95"))
        remarks = used.doubts if bench is None else (*remarks, *used.doubts[len(bench.doubts) :])
    else:
        assert bench is not None
        used = bench
    found = measure_detected(
        detected or detect(read, part=part),
        used.plane,
        hand=told[0],
        starts=starts,
        number=thread,
        by_hand=ByHand(ends, masks),
        surface=surface,
    )
    return Part(found.with_warnings((*remarks, *told[1])))


def check_surface(surface: str | None) -> None:
    """Raise ValueError for what is no surface."""
    from vision.model.grazing import SURFACES

    if surface not in SURFACES:
        raise ValueError(f"surface {surface!r} is not one of {', '.join(name for name in SURFACES if name)}")


def hand_told(hand: str | None, starts: int | None, lit_picture: Path | None) -> tuple[str | None, tuple[Reason, ...]]:
    """The hand as stated, or as read from the lit picture where nobody stated it; and what did not go together.

    A statement stands against the picture; the warning ``hand_disagrees`` says so. Raises Refused for a picture that
    cannot be read.
    """
    if lit_picture is None:
        return hand, ()
    from vision.locate.hand import NOT_DETERMINED, read_hand
    from vision.pictures.picture import read_picture

    reading, name = read_hand(read_picture(lit_picture), starts=starts or 1), plain_name(lit_picture)
    if reading.hand == NOT_DETERMINED:
        return hand, (Reason("hand_not_read", name=name, why=reading.why),)
    if hand not in {None, reading.hand}:
        return hand, (Reason("hand_disagrees.lit", given=hand, name=name, hand=reading.hand),)
    return reading.hand, ()


def measure_all(picture: Path, bench: Bench) -> Parts:
    """Measure every part in a picture, numbered from left to right, row by row.

    What is refused stands among the parts with its reasons. Raises Refused where every one is.
    """
    from vision.pictures.picture import read_picture
    from vision.result.measurement import Measurement
    from vision.several.all_parts import measure_parts

    read = read_picture(picture)
    remarks = bench.remarks(read)
    read, bench, developed = in_their_tone(read, bench)
    remarks = (*remarks, *developed)
    seen = measure_parts(read, bench.plane)
    return Parts(
        read,
        tuple(
            replace(one, found=one.found.with_warnings(remarks)) if isinstance(one.found, Measurement) else one
            for one in seen
        ),
    )


def join(
    pictures: Sequence[Path | Part], bench: Bench | None = None, *, turned: Sequence[Amount] | None = None
) -> Part:
    """Join pictures of one part, turned or lit differently: what differs from picture to picture averages out.

    ``pictures``: their paths, measured on ``bench`` each; or what was measured already. ``turned``: how far the part
    was turned in each, clockwise as seen from its head. Raises Refused where they are not of one part.
    """
    from vision.several.joined import join as joined

    each = [one if isinstance(one, Part) else measure(one, bench) for one in pictures]
    if len(each) < 2 or (turned is not None and len(turned) != len(each)):
        raise ValueError("join takes two pictures or more, and as many turns as pictures")
    turns = None if turned is None else [in_degrees(angle, "turned") for angle in turned]
    return Part(joined([one.measurement for one in each], turns))


def stitch(pictures: Sequence[Path], bench: Bench, *, moved: Amount | Sequence[Amount] | None = None) -> Part:
    """Join overlapping pictures of one part that is longer than the field.

    ``moved``: how far it was moved to the left for each next picture, once for all or for each after the first; the
    pictures are then in that order. Raises Refused where they do not belong together.
    """
    from vision.pictures.picture import read_picture
    from vision.several.stitch import MOST_PICTURES
    from vision.several.stitch import stitch as stitched

    steps = len(pictures) - 1
    if not 1 <= steps < MOST_PICTURES:
        raise ValueError(f"stitch joins two to {MOST_PICTURES} pictures, {len(pictures)} given")
    given = [moved] * steps if isinstance(moved, str | float | int) else moved
    if given is not None and len(given) != steps:
        raise ValueError(f"{len(given)} moves for {len(pictures)} pictures: give one for all, or one for each step")
    read = [read_picture(path) for path in pictures]
    remarks = dict.fromkeys(remark for one in read for remark in bench.remarks(one))
    each = [in_their_tone(one, bench) for one in read]
    remarks |= dict.fromkeys(reason for _, _, reasons in each for reason in reasons)
    found = stitched(
        [one for one, _, _ in each],
        [other.plane for _, other, _ in each],
        moved_mm=None if given is None else [in_mm(step, "moved") for step in given],
    )
    found = replace(found, measurement=found.measurement.with_warnings(tuple(remarks)))
    return Part(found.measurement, found)


def as_hole(part: Part, shrinkage: Quantity | None = None) -> Part:
    """The hole of which ``part`` is a cast; ``shrinkage`` of the cast, %."""
    from vision.several.impression import as_hole as hole_of

    return Part(hole_of(part.measurement, shrinkage))
