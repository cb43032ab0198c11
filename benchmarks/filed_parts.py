"""Parts for a register: the sizes of the tables, drawn within their zones, as a good picture would give them.

One sample screw is really measured; its document, covariance and all, is the mould in which the others are cast.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from calib.bench import calibrate_bench
from flankwise.reasons import sentence
from records import filing
from records.documenting import identification_document
from records.register import Register
from threads.identify.identification import identify
from threads.measured.measured_document import thread_from_dict
from threads.shared.plain_json import plain
from threads.standards.limits import Limits, candidates
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture

SAMPLES = Path(__file__).resolve().parents[1] / "sample_images"
SAMPLE = SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"
PINS = (("pin_1000_bench_a.png", 1.0), ("pin_2500_bench_a.png", 2.5))
PIN_U95_MM = 0.001
LIGHT_CONE_DEG = 3.0
PARTS_OF_AN_INSTRUMENT = 40
AT_ONCE = 500
WORDS = ("index arm screw", "pivot screw", "mirror screw", "clamp screw", "leg screw", "level screw", "cover screw")


def sample_document() -> dict[str, Any]:
    """The object of ``measure --json`` of the sample screw."""
    pins = [(read_picture(str(SAMPLES / name)), diameter) for name, diameter in PINS]
    bench = calibrate_bench(pins=pins, pin_u95_mm=PIN_U95_MM, focus_locked=True, light_cone_deg=LIGHT_CONE_DEG)
    return dict(plain(measure_picture(read_picture(SAMPLE), bench).to_dict(), sentence))


def sample_identification(document: dict[str, Any]) -> dict[str, Any]:
    """What is kept of the identification of a measured thread."""
    return identification_document(identify(thread_from_dict(document)))


def documents(mould: dict[str, Any], seed: int) -> Iterator[tuple[Limits, dict[str, Any]]]:
    """Measured threads without end: the size drawn, and its document."""
    draw = np.random.default_rng(seed)
    sizes = [limits for limits in candidates() if limits.basic_major < 8]
    order, matrix = mould["covariance"]["order"], np.array(mould["covariance"]["matrix"])
    while True:
        limits = sizes[int(draw.integers(len(sizes)))]
        top = limits.pitch_diameter.high or limits.basic_pitch_diameter
        pitch_diameter = top - abs(draw.normal(0, 0.012))
        grown = {
            "pitch": limits.pitch,
            "major_diameter": limits.basic_major - abs(draw.normal(0, 0.03)),
            "pitch_diameter": pitch_diameter,
            "minor_diameter": limits.basic_minor - abs(draw.normal(0, 0.03)),
            "flank_angle_left": draw.normal(mould["thread"]["flank_angle_left"]["value"], 0.15),
            "flank_angle_right": draw.normal(mould["thread"]["flank_angle_right"]["value"], 0.15),
        }
        noise = dict(zip(order, draw.multivariate_normal(np.zeros(len(order)), matrix), strict=True))
        document = copy.copy(mould)
        document["thread"] = dict(mould["thread"])
        for name, value in grown.items():
            document["thread"][name] = {**mould["thread"][name], "value": float(value + noise[name])}
        yield limits, document


def fill(register: Register, parts: int, *, seed: int = 1) -> None:
    """File ``parts`` parts, forty on each instrument, a measurement and an identification each."""
    source = documents(sample_document(), seed)
    for start in range(0, parts, AT_ONCE):
        with register.writing() as writing:
            for number in range(start, min(start + AT_ONCE, parts)):
                if number % PARTS_OF_AN_INSTRUMENT == 0:
                    instrument, job = _instrument(writing, number // PARTS_OF_AN_INSTRUMENT)
                position = filing.add_position(writing, instrument, f"position {number % PARTS_OF_AN_INSTRUMENT + 1}")
                limits, document = next(source)
                words = f"{WORDS[number % len(WORDS)]} {number}"
                part = filing.add_part(writing, name=words, instrument=instrument, position=position, job=job)
                measurement = filing.add_measurement(writing, part, document)
                named = {
                    "designation": limits.designation,
                    "series": limits.series,
                    "size": limits.size,
                    "class": limits.thread_class,
                    "probability": 0.9,
                    "probability_measurement_only": 0.9,
                }
                identified = {"schema": "flankwise/identification/1", "status": "identified", "candidates": [named]}
                filing.add_identification(writing, measurement, {**identified, "groups": []})


def _instrument(writing: Any, number: int) -> tuple[int, int]:
    kind, year = (("marine sextant", 1938), ("field theodolite", 1952))[number % 2]
    made = (year - number % 30, year - number % 30)
    instrument = filing.add_instrument(
        writing, f"{kind} no. {number + 1}", maker="Quayside Workshop", serial=str(4000 + number), made=made,
        country="US",
    )  # fmt: skip
    return instrument, filing.add_job(writing, f"overhaul no. {number + 1}", instrument=instrument)
