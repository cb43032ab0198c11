"""A register with screws that were really measured, for reports and exchange; in the invented Quayside Workshop."""

from __future__ import annotations

import zipfile
from functools import cache
from pathlib import Path

from calib.bench import calibrate_bench
from calib.calibration import Calibration
from records.documenting import Place, document_measured, document_picture, identification_document
from records.register import Register, open_register
from threads.identify.identification import identify
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement

HERE = Path(__file__).resolve().parent
SAMPLES = HERE.parents[1] / "sample_images"
SCREW = SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"
JOB = "Overhaul, 1938 marine sextant <1>"
POSITIONS = ("Łódź & ≥3 shade", "upper shade", "верхний светофильтр", "日本のねじ")


@cache
def bench() -> Calibration:
    pins = [(read_picture(SAMPLES / f"pin_{n}_bench_a.png"), n / 1000) for n in (1000, 2500)]
    return calibrate_bench(pins=pins, pin_u95_mm=0.001, focus_locked=True)


@cache
def measured() -> Measurement:
    return measure_picture(read_picture(SCREW), bench())


def measured_workshop(folder: Path) -> Register:
    """Four positions filed out of their order; at the last of them is a part that was photographed only."""
    register = open_register(folder / "parts.sqlite", create=True)
    found = identify(measured().thread, origin="US", made=(1938, 1938))
    document = identification_document(found, origin="US", made=(1938, 1938))
    for number, position in enumerate(POSITIONS):
        place = Place(
            instrument="marine sextant", maker="Quayside Workshop", serial="4117", made=(1938, 1938), country="US",
            job=JOB, position=position, name="index arm screw", create=True,
        )  # fmt: skip
        if number < 3:
            note = "=HYPERLINK(1), slot worn" if number == 0 else None
            document_measured(register, measured(), place, identification=document, note=note, who="Ada")
        else:
            document_picture(register, read_picture(SCREW), place, shows="head", who="Ada")
    return register


def kept_workshop(folder: Path) -> Register:
    """The register of the first version that is kept for the tests of migration: everything is in it once."""
    with zipfile.ZipFile(HERE / "register_v1.zip") as packed:
        packed.extractall(folder)
    return open_register(folder / "register.sqlite")
