"""One part, unmoved, under two or more lights: measured as if no light were mirrored at all."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from flankwise.amounts import Amount, in_degrees
from flankwise.bench import Bench, Path
from flankwise.measuring import hand_told
from flankwise.part import Part

if TYPE_CHECKING:
    from threads.shared.refusal import Reason
    from vision.pictures.picture import Picture
    from vision.result.measurement import Measurement


def measure_under(
    lights: Sequence[tuple[Amount, Path | Picture]],
    bench: Bench | Sequence[Bench],
    *,
    hand: str | None = None,
    starts: int | None = None,
    lit_picture: Path | None = None,
    part: int | None = None,
    thread: int | None = None,
) -> Part:
    """Measure a thread from pictures of it under masks of two or more known half cones, whatever its surface is.

    Args:
        lights: the half cone of each light and the picture taken in it; only the ratio of the cones counts.
        bench: on which they were taken; or one for each light, calibrated with the gauges in that light: what it takes
            from round gauges is then extrapolated to none as well.
        hand: these and what follows as for ``measure``.
        starts: of the thread.
        lit_picture: where its hand is read.
        part: which of several in view.
        thread: which of the part.

    Raises Refused where the part moved between the pictures or the lights are too similar, and what ``measure``
    raises; ValueError for less than two lights.
    """
    from vision.locate.detection import detect
    from vision.pictures.picture import Picture, read_picture
    from vision.result.measure import measure_detected
    from vision.several.two_lights import Unlit, check_cones, without_light

    if len(lights) < 2:
        raise ValueError("one light tells nothing of what it takes: give two or more, each with its picture")
    cones = [in_degrees(cone, "a light's half cone") for cone, _ in lights]
    check_cones(cones)
    benches = [bench] * len(lights) if isinstance(bench, Bench) else list(bench)
    if len(benches) != len(lights):
        raise ValueError(f"{len(benches)} benches for {len(lights)} lights: give one for all, or one for each")
    told, doubts = hand_told(hand, starts, lit_picture)
    each: list[Measurement] = []
    remarks: dict[str, Reason] = {}
    for (_, picture), own in zip(lights, benches, strict=True):
        read = picture if isinstance(picture, Picture) else read_picture(picture)
        remarks |= {reason.code: reason for reason in own.remarks(read)}
        seen = detect(read, part=part)
        each.append(measure_detected(seen, Unlit(own.plane), hand=told, starts=starts, number=thread))
    plane = benches[cones.index(min(cones))].plane
    found = without_light(each, cones, plane, gauges_too=not isinstance(bench, Bench))
    return Part(found.with_warnings((*remarks.values(), *doubts)))
