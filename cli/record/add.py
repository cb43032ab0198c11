"""``flankwise record add``: measure a screw, say what it is, and file it with its picture, in one go."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.bench import measured, scale_of
from cli.errors import CommandLineError
from cli.measure import Impression, Picture
from cli.output import show, write_json
from cli.own_gauge import Known, KnownU95, PinBeside, PinU95, own_gauges
from cli.register import RegisterFile, Who, opened, part_number
from cli.shrinkage import Shrinkage, ShrinkageU95, read_shrinkage
from cli.stated import By, Source, Stated, Weight, statement
from cli.years import Made, Origin, parse_made
from flankwise.measuring import KNOWN_U95, PIN_U95
from flankwise.reasons import message, sentence

if TYPE_CHECKING:
    from flankwise.judging_instrument import InstrumentAnswer
    from flankwise.part import Part
    from records.documenting import Documented, Place
    from threads.identify.identification import Identification
    from threads.identify.stated import Stated as Statement
    from threads.standards.limits import Limits
    from vision.result.measurement import Measurement


def add(
    picture: Picture,
    calibration: options.CalibrationFile = None,
    focus_locked: options.FocusLocked = False,
    scale: options.Scale = None,
    pin_beside: PinBeside = None,
    pin_u95: PinU95 = PIN_U95,
    known: Known = None,
    known_u95: KnownU95 = KNOWN_U95,
    instrument: Annotated[
        str | None,
        typer.Option("--instrument", metavar="NAME", help="The instrument it is of; a new one is made."),
    ] = None,
    position: Annotated[
        str | None, typer.Option("--position", metavar="NAME", help="Where on the instrument; a new one is made.")
    ] = None,
    job: Annotated[str | None, typer.Option("--job", metavar="NAME", help="The job; a new one is made.")] = None,
    name: Annotated[str | None, typer.Option("--name", metavar="WORDS", help="What it is: 'index arm screw'.")] = None,
    part_id: Annotated[
        str | None, typer.Option("--part-id", metavar="PART", help="One more picture of this part on file.")
    ] = None,
    another: Annotated[bool, typer.Option("--another", help="One more part at a position that has one.")] = False,
    create: Annotated[
        bool, typer.Option("--create", help="Make new names even if they are nearly those of others.")
    ] = False,
    unmeasured: Annotated[bool, typer.Option("--unmeasured", help="File the picture without measuring.")] = False,
    shows: Annotated[
        str | None, typer.Option("--shows", metavar="WORDS", help="With --unmeasured, what it shows: 'head'.")
    ] = None,
    origin: Origin = None,
    made: Made = None,
    maker: Annotated[str | None, typer.Option("--maker", metavar="NAME", help="Its maker.")] = None,
    model: Annotated[str | None, typer.Option("--model", metavar="NAME", help="Its model.")] = None,
    serial: Annotated[str | None, typer.Option("--serial", metavar="NUMBER", help="Its serial number.")] = None,
    owner_note: Annotated[
        str | None, typer.Option("--owner-note", metavar="TEXT", help="What its owner said about it.")
    ] = None,
    against: Annotated[
        str | None, typer.Option("--against", metavar="DESIGNATION", help="Check it against this as well.")
    ] = None,
    note: Annotated[str | None, typer.Option("--note", metavar="TEXT", help="A note on the part.")] = None,
    stated: Stated = None,
    by: By = "word",
    weight: Weight = None,
    source: Source = None,
    by_itself: Annotated[
        bool, typer.Option("--by-itself", help="Let the other screws of its instrument say nothing of this one.")
    ] = False,
    impression: Impression = False,
    shrinkage: Shrinkage = None,
    shrinkage_u95: ShrinkageU95 = None,
    surface: options.Surface = None,
    part: options.Part = None,
    register: RegisterFile = None,
    who: Who = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Measure a part, identify it, and file it in the parts register."""
    inches = options.reads_inches(unit)
    own = own_gauges(pin_beside, pin_u95, known, known_u95)
    years = None if made is None else parse_made(made)
    country = _country(origin, years)
    number = None if part_id is None else part_number(part_id)
    if number is not None and any((instrument, position, job, another, maker, model, serial, owner_note)):
        raise CommandLineError("--part-id says where it belongs already: give no --instrument, --position or --job")
    if not instrument and not job and any((origin, made, maker, model, serial, owner_note)) and number is None:
        raise CommandLineError("of which instrument is that? Give --instrument NAME, or the --job of one")
    if shows is not None and not unmeasured:
        raise CommandLineError("--shows goes with --unmeasured")
    said = statement(stated, by, weight, source)
    if said is not None:  # its source stays beside the part
        from records.statements import statement_note

        note = "; ".join(text for text in (note, statement_note(said, source)) if text)
    from cli.refusals import refusals_reported
    from records.documenting import Place

    place = Place(
        instrument=_named(instrument, "--instrument"),
        position=_named(position, "--position"),
        job=_named(job, "--job"),
        maker=maker,
        model=model,
        serial=serial,
        made=years,
        country=country,
        owner_note=owner_note,
        part=number,
        name=name,
        another=another,
        create=create,
    )
    if unmeasured:
        if calibration or scale or own.given or against or impression:
            raise CommandLineError("--unmeasured goes without --calibration, --scale and all that measuring needs")
        with refusals_reported(as_json=as_json):
            from records.documenting import document_picture
            from vision.pictures.picture import read_picture

            read = read_picture(picture)
            filed = document_picture(opened(register, create=True), read, place, shows=shows, note=note, who=who)
        _report(filed, None, None, {}, inches=inches, as_json=as_json)
        return
    um_per_px = scale_of(calibration, scale, own)
    shrunk = read_shrinkage(shrinkage, shrinkage_u95, cast=impression, goes_with="--impression")
    limits = None
    if against is not None:
        from cli.check import limits_against

        limits = limits_against(against)
    with refusals_reported(as_json=as_json):
        evidence = _evidence(register, place)
        told = {"surface": options.read_surface(surface), "focus_locked": focus_locked}
        screw = measured(picture, calibration, um_per_px, own, part=part, **told)
        from flankwise.measuring import as_hole
        from records.documenting import document_measured, identification_document

        if impression:
            screw = as_hole(screw, shrunk)
        measurement = screw.measurement
        kin = None if by_itself or impression else _others(register, place, screw)
        found = None if impression else _identified(screw, evidence, register, said, kin)
        identification = None if found is None else identification_document(found, *evidence)
        checked = None if limits is None else _checked(screw, limits)
        filed = document_measured(
            opened(register, create=True),
            measurement,
            place,
            identification=identification,
            check=checked,
            note=note,
            who=who,
        )
    more = {key: value for key, value in (("identification", identification), ("check", checked)) if value}
    _report(filed, measurement, found, more, inches=inches, as_json=as_json)


def _identified(
    screw: Part,
    evidence: tuple[str | None, tuple[int, int] | None],
    register: str | None,
    said: Statement | None,
    kin: InstrumentAnswer | None,
) -> Identification:
    """Which thread it is, with country and years, what is on file, what was stated, the others of its instrument."""
    from flankwise.identifying import identify
    from records.series_on_file import series_on_file

    origin, made = evidence
    on_file = series_on_file(register)
    return identify(screw, origin=origin, made=made, on_file=on_file, stated=said, instrument=kin).found


def _others(register: str | None, place: Place, screw: Part) -> InstrumentAnswer | None:
    """The other screws of its instrument judged together, where there are enough of them to say something."""
    from records.documenting import instrument_of
    from records.instrument import others_on_file
    from records.register_path import register_path
    from threads.identify.instrument import LEAST_SCREWS

    if not register_path(register).exists():
        return None
    with opened(register).reading() as connection:
        key = instrument_of(connection, place)
    others = None if key is None else others_on_file(register, key, sha256=screw.measurement.picture.sha256)
    return others if others is not None and len(others.sheet.screws) >= LEAST_SCREWS else None


def _country(origin: str | None, years: tuple[int, int] | None) -> str | None:
    """The country as its code. Raises CommandLineError for one that is not known."""
    if origin is None and years is None:
        return None
    from cli.identify import check_evidence
    from threads.identify.provenance import country_code

    check_evidence(origin, years, None)
    return None if origin is None else country_code(origin)


def _named(text: str | None, option: str) -> str | None:
    if text is not None and not text.strip():
        raise CommandLineError(f"{option} has no name")
    return text


def _evidence(register: str | None, place: Place) -> tuple[str | None, tuple[int, int] | None]:
    """Country and year for the identification: as given, else those of the instrument on file."""
    from records.documenting import instrument_of
    from records.reading import read_instrument
    from records.register_path import register_path

    if not register_path(register).exists():  # it is made when something is filed, not before
        return place.country, place.made
    with opened(register).reading() as connection:
        key = instrument_of(connection, place)
        on_file = None if key is None else read_instrument(connection, key)
    country = place.country or (on_file.country if on_file else None)
    return country, place.made or (on_file.made if on_file else None)


def _checked(part: Part, limits: Limits) -> dict[str, Any]:
    from flankwise.judging import check
    from threads.judge.check import CheckError

    try:
        checked = check(part, limits)
    except CheckError as error:
        raise CommandLineError(f"--against: {message(error)}") from error
    return checked.found.to_dict({}, checked.advised)


def _report(
    filed: Documented,
    measurement: Measurement | None,
    found: Identification | None,
    more: dict[str, Any],
    *,
    inches: bool,
    as_json: bool,
) -> None:
    if as_json:
        ids = {"part": filed.part, "picture": filed.picture, "measurement_id": filed.measurement}
        document = None if measurement is None else measurement.to_dict()
        status = {"schema": "flankwise/filed/1", "status": "filed", "new_part": filed.new_part}
        write_json({**status, **ids, "made": list(filed.made), "measurement": document, **more})
        return
    lines = [f"new: {name}" for name in filed.made]
    lines.append(f"filed as part {filed.part}" if filed.new_part else f"filed with part {filed.part}")
    if measurement is None:
        show(*lines)
        return
    from cli.findings import SHORT, heading, measured_table, quality_lines
    from records.from_memory import FOOTNOTE, MARK, checked_from_memory, identified_from_memory, marked
    from threads.identify.identity_words import status_words

    check, said = more.get("check"), []
    if found is not None:
        from_memory = identified_from_memory(more["identification"])
        said.append(marked(f"Identity: {sentence(status_words(found))}", from_memory=from_memory))
        said += [] if found.as_part_of is None else [sentence(found.as_part_of.said())]
    if check is not None:
        against = marked(check["against"], from_memory=checked_from_memory(check))
        said.append(f"Against {against}: {check['verdict'].replace('_', ' ')}")
    said += [FOOTNOTE] if any(MARK in line for line in said) else []
    show(
        *heading(measurement),
        "",
        measured_table(measurement, inches=inches, only=SHORT),
        "",
        *quality_lines(measurement),
        "",
        *said,
        *lines,
    )
