"""What picture files say of the camera."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from vision.pictures.averaged import linear_png
from vision.pictures.camera_note import NO_NOTE, CameraNote, as_noted, camera_note, note_from_dict
from vision.pictures.picture import read_picture

NOTE = CameraNote("Bench camera", "Macro 60", 60.0, 1.0)


def write(path: Path, focal: float | None = 60.0, lens: str | None = "Macro 60") -> Path:
    exif = Image.Exif()
    exif[0x0110] = "Bench camera"
    inner = exif.get_ifd(0x8769)
    inner[0xA404] = 1.0
    if focal is not None:
        inner[0x920A] = focal
    if lens is not None:
        inner[0xA434] = lens
    exif[0x8769] = dict(inner)  # TIFF files get what is set, the others what was got
    Image.new("L", (20, 20), 128).save(path, exif=exif)
    return path


@pytest.mark.parametrize("name", ["a.jpg", "a.png", "a.tif"])
def test_what_is_written_is_read(tmp_path: Path, name: str) -> None:
    assert camera_note(write(tmp_path / name)) == NOTE


def test_files_that_say_nothing(tmp_path: Path) -> None:
    Image.new("L", (20, 20), 128).save(tmp_path / "plain.png")
    (tmp_path / "junk.jpg").write_bytes(b"\xff\xd8\xff\xe1\x00\x10Exif\x00\x00II*\x00")
    for name in ("plain.png", "junk.jpg", "missing.png", "."):
        assert camera_note(tmp_path / name) == NO_NOTE
    assert not NO_NOTE


@pytest.mark.parametrize(
    ("other", "says"),
    [
        (NOTE, None),
        (NO_NOTE, None),
        (CameraNote(focal_length_mm=60.1), None),
        (CameraNote(focal_length_mm=50.0), ("focal length", "60 mm", "50 mm")),
        (CameraNote(lens="Macro 100"), ("lens", "'Macro 60'", "'Macro 100'")),
        (CameraNote(camera="Other"), ("camera", "'Bench camera'", "'Other'")),
        (CameraNote(digital_zoom=2.0), ("digital zoom", "1", "2")),
    ],
)
def test_differences(other: CameraNote, says: tuple[str, str, str] | None) -> None:
    assert NOTE.difference(other) == says
    assert (other.difference(NOTE) is None) == (says is None)


@pytest.mark.slow
@given(st.dictionaries(st.sampled_from(["camera", "lens", "focal_length_mm", "digital_zoom"]), st.text() | st.floats()))
def test_any_plain_form_gives_a_note(data: dict[str, str | float]) -> None:
    note = note_from_dict(data)
    assert note_from_dict(note.to_dict()) == note


@given(st.binary(max_size=300))
def test_any_bytes_give_a_note(tmp_path_factory: pytest.TempPathFactory, tail: bytes) -> None:
    path = tmp_path_factory.mktemp("bytes") / "a.jpg"
    path.write_bytes(b"\xff\xd8\xff\xe1\x01\x00Exif\x00\x00MM\x00*" + tail)
    assert isinstance(camera_note(path), CameraNote)


@pytest.mark.parametrize("name", ["bench microscope", "Mikroskop für den Tisch", ""])
def test_a_picture_that_the_program_takes_notes_its_camera_and_reads_as_before(tmp_path: Path, name: str) -> None:
    light = np.linspace(0, 1, 300 * 240, dtype=np.float32).reshape(240, 300)
    (tmp_path / "noted.png").write_bytes(linear_png(light, name))
    (tmp_path / "plain.png").write_bytes(linear_png(light))
    assert camera_note(tmp_path / "noted.png").camera == as_noted(name)
    noted, plain = (read_picture(tmp_path / f"{which}.png") for which in ("noted", "plain"))
    assert np.array_equal(noted.light, plain.light)
    assert noted.notes == plain.notes
