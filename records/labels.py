"""The labels of parts on file, with their pictures, drawn at true size."""

from __future__ import annotations

from collections.abc import Sequence

from records import reading
from records.label import label_lines
from records.label_code import label_code
from records.overview import thumbnails
from records.register import Register
from records.report.label_page import Label
from records.report.spoken import Spoken


def labels_of(register: Register, parts: Sequence[int], spoken: Spoken) -> list[Label]:
    """A label a part, in their order. Raises RefusalError (no_part_on_file)."""
    with register.reading() as connection:
        found = [reading.read_part(connection, part) for part in parts]
    small = thumbnails(register, list(parts))
    return [Label(tuple(label_lines(one, spoken)), label_code(one.id), small.get(one.id)) for one in found]
