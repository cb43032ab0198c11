"""A picture from the clipboard, kept as a file so that it can be measured and put on file."""

from __future__ import annotations

import numpy as np
from PySide6.QtGui import QImage

from gui.camera.pictures_folder import keep_picture
from vision.pictures.live_frame import frame_light


def keep_pasted(image: QImage) -> str:
    """Write ``image`` (coded as sRGB, as clipboards are) as linear light and return its path. Raises OSError."""
    plain = image.convertToFormat(QImage.Format.Format_BGR888)
    rows = np.frombuffer(plain.constBits(), np.uint8).reshape(plain.height(), plain.bytesPerLine())
    pixels = rows[:, : 3 * plain.width()].reshape(plain.height(), plain.width(), 3)
    return keep_picture(frame_light(np.ascontiguousarray(pixels)), "pasted")
