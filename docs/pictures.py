"""Make the two pictures of README.md anew, small: ``python docs/pictures.py``.

``pictures/window.png`` is the window with the tour's screw, ``pictures/one_thread.png`` the one-thread view of the
page that ``flankwise identify --figure`` draws.
"""

from __future__ import annotations

import io
import os
import sys
import tempfile
from pathlib import Path

from PIL import Image

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))  # runs in a checkout that is not installed

from gui.app import create_application, create_window  # noqa: E402
from gui.samples import SAMPLES, SCREW, sample_bench  # noqa: E402
from gui.screenshots import SIZES, data_in, settle, views  # noqa: E402
from gui.settings import Settings  # noqa: E402
from records.figures.file import figure_bytes  # noqa: E402
from records.figures.pages import identification_page  # noqa: E402
from threads.identify.identification import identify  # noqa: E402
from vision.pictures.picture import read_picture  # noqa: E402
from vision.result.measure import measure_picture  # noqa: E402

ONE_THREAD = (0.03, 0.33, 0.99, 0.672)  # of the page's width and height: left, top, right, bottom
WIDTH = 960  # px, about what a page of the web shows
COLOURS = 256  # a palette takes a third of the bytes of full colour


def save(picture: Image.Image, name: str) -> None:
    """Write ``picture`` no wider than ``WIDTH``, with a palette."""
    height = round(picture.height * WIDTH / picture.width)
    small = picture.convert("RGB").resize((WIDTH, height), Image.Resampling.LANCZOS)
    (HERE / "pictures").mkdir(exist_ok=True)
    small.quantize(COLOURS, dither=Image.Dither.NONE).save(HERE / "pictures" / name, optimize=True)


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


def window() -> None:
    """The place Part with the tour's screw."""
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
            if name == "part":
                break
        grabbed = Path(own) / "window.png"
        shown.grab().save(str(grabbed))
        shown.close()
        with Image.open(grabbed) as picture:
            save(picture, "window.png")


if __name__ == "__main__":
    one_thread()
    window()
