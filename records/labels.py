"""The labels of parts on file, with their pictures, drawn at true size."""

from __future__ import annotations

import io
from collections.abc import Sequence

from records import reading
from records.entries import Part
from records.label import label_lines
from records.label_code import label_code
from records.overview import thumbnails
from records.register import Register
from records.report.label_page import Label
from records.report.spoken import Spoken

_ROOM = 0.08
"""Of its width, around the part."""


def labels_of(register: Register, parts: Sequence[int], spoken: Spoken) -> list[Label]:
    """A label a part, in their order. Raises RefusalError (no_part_on_file)."""
    with register.reading() as connection:
        found = [reading.read_part(connection, part) for part in parts]
    small = thumbnails(register, list(parts))
    return [
        Label(tuple(label_lines(one, spoken)), label_code(one.id), _own_part(one, small.get(one.id))) for one in found
    ]


def _own_part(part: Part, thumbnail: bytes | None) -> bytes | None:
    """What the thumbnail shows of this part, where it was measured in a picture of more than it."""
    measurement, picture = part.measurement, part.picture
    if thumbnail is None or measurement is None or picture is None or picture.id != measurement.picture:
        return thumbnail
    from PIL import Image

    corners = measurement.document.get("part", {}).get("corners_px")
    try:
        with Image.open(io.BytesIO(thumbnail)) as image:
            scale = image.width / picture.width_px
            xs, ys = ([scale * float(one[i]) for one in corners] for i in (0, 1))
            room = _ROOM * (max(xs) - min(xs))
            box = [min(xs) - room, min(ys) - room, max(xs) + room, max(ys) + room]
            sides = (image.width, image.height)
            left, top, right, bottom = (round(min(max(one, 0), sides[i % 2])) for i, one in enumerate(box))
            content = io.BytesIO()
            image.crop((left, top, right, bottom)).save(content, "JPEG", quality=90)
    except (OSError, TypeError, ValueError, IndexError, SystemError):
        return thumbnail
    return content.getvalue()
