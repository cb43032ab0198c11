"""A part held against a class or another part, and two parts compared."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from flankwise.amounts import Amount, in_mm
from flankwise.part import Part
from flankwise.reasons import sentence
from flankwise.reference import Reference, reference_of
from threads.judge.wire_defaults import MICROMETER_U95, WIRE_U95
from threads.shared.plain_json import plain
from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from threads.judge.check import Check
    from threads.judge.compare import Common, Comparison
    from threads.judge.micrometer import Joined
    from threads.standards.limits import Limits


@dataclass(frozen=True, eq=False, repr=False)
class Checked:
    """The outcome of a check: ``found.verdict``, ``found.judgements``. ``micrometer``: what a reading brought in."""

    part: Part | Reference
    found: Check
    micrometer: Joined | None = None

    @property
    def verdict(self) -> str:
        """``conforms``, ``does_not_conform`` or ``cannot_tell``."""
        return self.found.verdict

    @property
    def advised(self) -> tuple[Reason, ...]:
        """What to do at the die, as codes with values."""
        from threads.judge.die_advice import advice

        return advice(self.found)

    def advice(self, *, inches: bool = False) -> tuple[str, ...]:
        """What to do at the die."""
        return tuple(sentence(one, inches=inches) for one in self.advised)

    def to_dict(self, *, inches: bool = False) -> dict[str, Any]:
        """The object of ``flankwise check --json``; ``inches`` is for the words of the advice only."""
        more = {} if self.micrometer is None else {"micrometer": self.micrometer.to_dict()}
        measurement = self.part.to_dict() if isinstance(self.part, Part) else {}
        return dict(plain({**self.found.to_dict(measurement, self.advised), **more}, partial(sentence, inches=inches)))

    def __str__(self) -> str:
        from threads.shared.formatting import format_quantity

        lines = (
            f"  {one.quantity}: {format_quantity(one.measured, inches=False)}, {one.verdict}"
            for one in self.found.judgements
        )
        return "\n".join((f"against {self.found.against}: {self.verdict}", *lines, *self.advice()))

    __repr__ = __str__


@dataclass(frozen=True, eq=False, repr=False)
class Compared:
    """The differences of two parts, replacement less original: ``found.differences``, ``found.significant``."""

    original: Part | Reference
    replacement: Part | Reference
    found: Comparison

    @property
    def advised(self) -> tuple[Reason, ...]:
        """What would come closer to the original, as codes with values."""
        from threads.workshop.closer_die import advice

        return advice(self.found)

    def advice(self, *, inches: bool = False) -> tuple[str, ...]:
        """What would come closer to the original."""
        return tuple(sentence(one, inches=inches) for one in self.advised)

    def to_dict(self, *, inches: bool = False) -> dict[str, Any]:
        """The object of ``flankwise compare --json``; ``inches`` is for the words of the advice only."""
        both = {"original": self.original, "replacement": self.replacement}
        measured = {name: part.to_dict() for name, part in both.items() if isinstance(part, Part)}
        return dict(plain({**self.found.to_dict(self.advised), **measured}, partial(sentence, inches=inches)))

    def __str__(self) -> str:
        from threads.shared.formatting import format_quantity

        rows = (
            f"  {name}: {format_quantity(difference, inches=False)}{' *' if name in self.found.significant else ''}"
            for name, difference in self.found.differences.items()
        )
        return "\n".join(("replacement less original (* significant):", *rows, *self.advice()))

    __repr__ = __str__


def check(
    part: Part | Reference,
    against: str | Limits | Part | Reference,
    *,
    engagement: Amount | None = None,
    over_wires: Amount | None = None,
    over_wires_u95: Amount = MICROMETER_U95,
    wire: Amount | None = None,
    wire_u95: Amount = WIRE_U95,
) -> Checked:
    """Hold a part against the limits of a class, or against another part.

    Args:
        part: as measured.
        against: a designation such as ``"4-40 UNC-2A"``, its limits; or the part that it shall be like.
        engagement: over which errors of pitch count; a diameter if not said.
        over_wires: a micrometer's reading over three wires, joined with the picture.
        over_wires_u95: its U95.
        wire: the diameter of the wires.
        wire_u95: its U95.

    Raises ValueError for what cannot be held together: an unknown designation, a hole against a screw, a reading that
    is not one of this screw.
    """
    from threads.judge.check import check as checked
    from threads.judge.check_part import check_against_part
    from threads.judge.micrometer import join_over_wires
    from threads.shared.quantity import COVERAGE_FACTOR, Quantity

    held = reference_of(part)
    if (over_wires is None) != (wire is None):
        raise ValueError("over_wires and wire go together: the reading, and the diameter of the wires")
    micrometer = None
    if over_wires is not None and wire is not None:
        reading, of_wire = (
            Quantity(in_mm(value, name), in_mm(u95, f"{name}_u95") / COVERAGE_FACTOR, "mm")
            for value, u95, name in ((over_wires, over_wires_u95, "over_wires"), (wire, wire_u95, "wire"))
        )
        micrometer = join_over_wires(held.thread, reading, of_wire)
    thread = held.thread if micrometer is None else micrometer.thread
    length = None if engagement is None else in_mm(engagement, "engagement")
    if isinstance(against, Part | Reference):
        other = reference_of(against)
        found = check_against_part(
            thread,
            other.thread,
            name=other.name,
            like=other.like,
            common=common_of(other, held),
            ends_known=held.end_seen and other.end_seen,
            engagement_mm=length,
        )
    else:
        limits = limits_named(against, internal=thread.internal or None) if isinstance(against, str) else against
        found = checked(thread, limits, engagement_mm=length)
    return Checked(part, found, micrometer)


def compare(original: Part | Reference, replacement: Part | Reference) -> Compared:
    """Say by how much a replacement differs from the original, and whether it does.

    What pictures of one bench have in common falls out of the differences. Raises ValueError for a screw and a hole.
    """
    from threads.judge.compare import compare as compared

    one, two = reference_of(original), reference_of(replacement)
    found = compared(one.thread, two.thread, common=common_of(one, two), ends_known=one.end_seen and two.end_seen)
    return Compared(original, replacement, found)


def limits_named(designation: str, *, internal: bool | None = None) -> Limits:
    """The limits of size of a designation. Raises UnknownDesignationError, a ValueError."""
    from threads.standards.designation import parse
    from threads.standards.limits import limits_of

    return limits_of(parse(designation, internal=internal))


def common_of(one: Reference, two: Reference) -> Common | None:
    """What the pictures of two parts share, where both are at hand and from one bench."""
    if one.measurement is None or two.measurement is None:
        return None
    from vision.several.together import common_part

    return common_part(one.measurement, two.measurement)
