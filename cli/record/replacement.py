"""``flankwise record replacement``: what was made for a part, with which die, and how to set it for the next one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.bench import bench_of, scale_of
from cli.errors import CommandLineError, say
from cli.output import show, write_json
from cli.record.note import parse_day
from cli.register import PartNumber, RegisterFile, Who, opened, part_number

if TYPE_CHECKING:
    from flankwise.cutting import CutToFit
    from flankwise.part import Part
    from records.register import Register
    from threads.cutting.die_choice import MeasuredCut
    from threads.standards.limits import Limits
    from threads.workshop.drawn_thread import TriedHole


def replacement(
    part: PartNumber,
    picture: Annotated[
        str | None, typer.Argument(metavar="[PICTURE]", help="A picture of the new screw: it is measured and filed.")
    ] = None,
    die: Annotated[
        str | None, typer.Option("--die", metavar="NAME", help="The die it was cut with: 'record die' files one.")
    ] = None,
    setting: Annotated[
        str | None,
        typer.Option("--setting", metavar="TEXT", help="How the die was set: 'open 1/4 turn', from the same zero."),
    ] = None,
    stock: Annotated[str | None, typer.Option("--stock", metavar="WORDS", help="What it was made from.")] = None,
    made: Annotated[str | None, typer.Option("--made", metavar="DAY", help="When: 2026-11-25; else today.")] = None,
    made_part: Annotated[
        str | None, typer.Option("--made-part", metavar="PART", help="The new screw, where it is on file itself.")
    ] = None,
    remark: Annotated[str | None, typer.Option("--remark", metavar="TEXT", help="What else there is to say.")] = None,
    target: Annotated[
        str | None, typer.Option("--target", metavar="CLASS", help="Cut to this class, not to be as the original.")
    ] = None,
    hole_part: Annotated[
        str | None, typer.Option("--hole-part", metavar="PART", help="Cut to fit this hole on file.")
    ] = None,
    calibration: options.CalibrationFile = None,
    scale: options.Scale = None,
    focus_locked: options.FocusLocked = False,
    register: RegisterFile = None,
    who: Who = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Write down a replacement that was made for a part: with which die, at which setting, from which stock.

    With a PICTURE of it, or --made-part, and a die on file it is one more cut of that die, and you are told how to set
    the die for the next one. Without --calibration the picture is taken to be of the bench of the original.
    """
    inches = options.reads_inches(unit)
    number = part_number(part)
    new = None if made_part is None else part_number(made_part)
    if not any((die, setting, stock, remark, picture)) and new is None:
        raise CommandLineError("what was it made with? Give --die, --setting, --stock, --made-part or --remark")
    if new == number:
        raise CommandLineError("--made-part is the part itself: give the number of the new screw")
    if picture is not None and new is not None:
        raise CommandLineError("--made-part and a PICTURE say the same thing twice: give one of them")
    if picture is None and (calibration or scale):
        raise CommandLineError("--calibration and --scale go with a PICTURE of the new screw")
    if target is not None and hole_part is not None:
        raise CommandLineError("--target and --hole-part are two targets: give one of them")
    if die is None and (target is not None or hole_part is not None):
        raise CommandLineError("--target and --hole-part go with --die: which die is to be set?")
    tapped = None if hole_part is None else part_number(hole_part)
    um_per_px = scale_of(calibration, scale) if calibration or scale else None
    day = None if made is None else parse_day(made, "--made")
    aim: Limits | MeasuredCut | TriedHole | None = None
    if target is not None:
        from cli.check import limits_against

        aim = limits_against(target)
    from cli.refusals import refusals_reported
    from records.replacing import file_replacement

    with refusals_reported(as_json=as_json):
        file = opened(register)
        if tapped is not None:
            from records.dies import hole_to_fit

            aim = hole_to_fit(file, tapped)
        screw = (
            None
            if picture is None
            else _measured(file, number, picture, calibration, um_per_px, focus_locked=focus_locked)
        )
        filed = file_replacement(
            file, number, measurement=None if screw is None else screw.measurement, made_part=new, die=die,
            setting=setting, stock=stock, made=day, remark=remark, who=who,
        )  # fmt: skip
        fit = _fit(file, number, filed.die, aim) if filed.die is not None and filed.made_part is not None else None
    if die is not None and filed.die is None:
        say(
            f"flankwise: no die on file is called {die!r}: 'flankwise record die NAME' files one and keeps what it cuts"
        )
    if as_json:
        more: dict[str, Any] = {} if screw is None else {"measurement": screw.to_dict()}
        more |= {} if fit is None else {"fitting": fit.to_dict(inches=inches)}
        made_of = {"made_part": filed.made_part, "die_on_file": filed.die is not None}
        write_json({"schema": "flankwise/replacement/1", "status": "filed", "part": number,
                    "replacement": filed.replacement, **made_of, **more})  # fmt: skip
        return
    as_part = f", the new screw as part {filed.made_part}" if screw is not None else ""
    show(f"replacement {filed.replacement} for part {number} filed{as_part}", *_told(fit, inches=inches))


def _measured(
    file: Register, part: int, picture: str, calibration: str | None, um_per_px: float | None, *, focus_locked: bool
) -> Part:
    """The new screw. Raises RefusalError (no_bench_on_file) where no bench is known."""
    from flankwise.measuring import measure
    from records.lookup import known_part
    from records.replacing import bench_of_part

    with file.reading() as connection:
        known_part(connection, part)
    bench = bench_of(calibration, um_per_px) or bench_of_part(file, part)
    if bench is None:
        from threads.shared.refusal import RefusalError

        raise RefusalError("no_bench_on_file", part=part)
    return measure(picture, bench.with_focus_locked() if focus_locked else bench)


def _fit(file: Register, part: int, die: int, aim: Limits | MeasuredCut | TriedHole | None) -> CutToFit | None:
    """Where the attempts of this die at the part stand; None where the part is a hole, or was not measured."""
    from records.dies import fit_on_file

    with file.reading() as connection:
        return fit_on_file(connection, part, die, aim)


def _told(fit: CutToFit | None, *, inches: bool) -> list[str]:
    if fit is None or fit.found.die is None:
        return []
    from threads.shared.formatting import format_quantity

    cuts = fit.found.die.cuts
    attempts = ", ".join(format_quantity(one.observed.pitch_diameter, inches=inches) for one in cuts[-4:])
    many = "attempts" if len(cuts) > 1 else "attempt"
    return [f"{len(cuts)} {many} by this die, pitch diameter {attempts}", *fit.advice(inches=inches)]
