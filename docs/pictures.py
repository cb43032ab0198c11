"""Make the pictures of README.md and of the guide anew, small: ``python docs/pictures.py``.

``pictures/window.png``, ``set_up.png``, ``fit.png`` and ``register.png`` are views of the window,
``pictures/one_thread.png`` the one-thread view of the page that ``flankwise identify --figure`` draws,
``pictures/labels.png`` the upper part of a sheet of labels, ``pictures/drawing.png`` the drawing of a screw with a
shoulder.
"""

from __future__ import annotations

import io
import os
import sys
import tempfile
from pathlib import Path

import pypdfium2
from PIL import Image

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))  # runs in a checkout that is not installed

from calib.bench import calibrate_bench  # noqa: E402
from gui.app import create_application, create_window  # noqa: E402
from gui.samples import SAMPLES, SCREW, sample_bench  # noqa: E402
from gui.screenshots import SIZES, data_in, settle, views  # noqa: E402
from gui.settings import Settings  # noqa: E402
from records.documenting import Place, document_measured, identification_document  # noqa: E402
from records.figures.file import figure_bytes  # noqa: E402
from records.figures.pages import identification_page  # noqa: E402
from records.labels import labels_of  # noqa: E402
from records.letterhead import keep_letterhead  # noqa: E402
from records.register import open_register  # noqa: E402
from records.report.label_page import SHEETS, label_sheets_pdf  # noqa: E402
from records.report.spoken import Spoken  # noqa: E402
from records.workshop_drawing.filed import print_drawing  # noqa: E402
from threads.identify.identification import identify  # noqa: E402
from vision.pictures.picture import read_picture  # noqa: E402
from vision.result.measure import measure_picture  # noqa: E402

ONE_THREAD = (0.03, 0.33, 0.99, 0.672)  # of the page's width and height: left, top, right, bottom
FILED = (
    ("a", "sextant_index_arm_screw_4-40_bench_a.png", "index arm, upper end", "index arm screw"),
    ("a", "sextant_horizon_mirror_screw_2-64_bench_a.png", "horizon mirror, lower", "mirror screw"),
    ("a", "sextant_shade_frame_screw_0-80_bench_a.png", "shade frame 1", "shade screw"),
    ("b", "sextant_handle_screw_8-32_bench_b.png", "handle", "handle screw"),
    ("b", "sextant_telescope_collar_screw_5-40_bench_b.png", "telescope collar", "collar screw"),
    ("b", "sextant_shade_pivot_screw_4-40_bench_b.png", "shade pivot", "pivot screw"),
)
WIDTH = 960  # px, about what a page of the web shows
SHOWN = {"part": "window.png", "bench_pins": "set_up.png", "fit_compare": "fit.png", "register_filed": "register.png"}
"""Views of ``gui.screenshots`` that stand in README.md and the guide, and as what."""
FEW, NARROW = 160, 720  # colours of a window, whose ground is plain, and the width of pictures in the guide, px
COLOURS = 256  # a palette takes a third of the bytes of full colour


def save(picture: Image.Image, name: str, *, width: int = WIDTH, colours: int = COLOURS) -> None:
    """Write ``picture`` no wider than ``width``, px, with a palette."""
    height = round(picture.height * width / picture.width)
    small = picture.convert("RGB").resize((width, height), Image.Resampling.LANCZOS)
    (HERE / "pictures").mkdir(exist_ok=True)
    small.quantize(colours, dither=Image.Dither.NONE).save(HERE / "pictures" / name, optimize=True)


def one_thread() -> None:
    """The ridges of the tour's screw folded onto one, among the zones of the classes."""
    measurement = measure_picture(read_picture(str(SAMPLES / SCREW)), sample_bench())
    found = identify(measurement.thread, origin="US", made=(1938, 1938))
    with Image.open(io.BytesIO(figure_bytes(lambda: identification_page(measurement, found), ".png"))) as page:
        left, top, right, bottom = ONE_THREAD
        save(
            page.crop(
                (int(left * page.width), int(top * page.height), int(right * page.width), int(bottom * page.height))
            ),
            "one_thread.png",
        )


def papers() -> None:
    """A sheet of labels and a drawing, of sample screws filed for it."""
    with tempfile.TemporaryDirectory() as own:
        register = open_register(Path(own) / "parts.sqlite", create=True)
        keep_letterhead(register, "Quayside Workshop")
        for bench, sample, position, name in FILED:
            pins = [(read_picture(str(SAMPLES / f"pin_{n}_bench_{bench}.png")), n / 1000) for n in (1000, 2500)]
            calibrated = calibrate_bench(pins=pins, pin_u95_mm=0.001, focus_locked=True)
            measured = measure_picture(read_picture(str(SAMPLES / sample)), calibrated)
            found = identification_document(
                identify(measured.thread, origin="US", made=(1938, 1938)), "US", (1938, 1938)
            )
            place = Place(instrument="marine sextant 1938", position=position, name=name, create=True)
            document_measured(register, measured, place, identification=found)
        spoken, last = Spoken(), len(FILED)
        sheet = next(one for one in SHEETS["a4"] if (one.columns, one.rows) == (3, 7))
        labels = labels_of(register, range(1, last + 1), spoken)
        content = label_sheets_pdf(labels, sheet, "a4", cut_lines=True)
        save(page_of(content, (0.0, 0.03, 1.0, 0.35)), "labels.png", width=720, colours=16)
        save(
            page_of(print_drawing(register, last, "pdf", spoken).content, (0.0, 0.0, 1.0, 1.0)),
            "drawing.png",
            width=800,
            colours=16,
        )


def page_of(content: bytes, shares: tuple[float, float, float, float]) -> Image.Image:
    """The first page of a PDF, cut to these shares of its width and height: left, top, right, bottom."""
    document = pypdfium2.PdfDocument(content)
    page: Image.Image = document[0].render(scale=2.5).to_pil()
    document.close()
    left, top, right, bottom = shares
    return page.crop(
        (int(left * page.width), int(top * page.height), int(right * page.width), int(bottom * page.height))
    )


def window() -> None:
    """The views of ``SHOWN`` with the tour's screws."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    create_application()
    with tempfile.TemporaryDirectory() as own, data_in(own):
        shown = create_window(Settings(Path(own) / "window.ini"))
        shown.desk.register_file = str(Path(own) / "parts.sqlite")
        shown.resize(*SIZES[0])
        shown.choose_theme("light")
        shown.show()
        for name, reach in views(shown):
            reach()
            for _ in range(3):  # measuring, identifying and drawing start one another
                settle(shown)
            if name in SHOWN:
                grabbed = Path(own) / "window.png"
                shown.grab().save(str(grabbed))
                with Image.open(grabbed) as picture:
                    save(picture, SHOWN[name], width=WIDTH if name == "part" else NARROW, colours=FEW)
        shown.leave()


if __name__ == "__main__":
    one_thread()
    papers()
    window()
