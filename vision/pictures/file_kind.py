"""The kind of a picture file, told by its first bytes, never by its name."""

from __future__ import annotations

PNG = b"\x89PNG\r\n\x1a\n"
_STARTS = {
    "png": (PNG,),
    "jpeg": (b"\xff\xd8\xff",),
    "tiff": (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+"),  # with 32 and with 64 bits to an offset
    "bmp": (b"BM",),
}


def file_kind(data: bytes) -> str:
    """``png``, ``jpeg``, ``tiff`` or ``bmp``; empty for any other file."""
    return next((kind for kind, starts in _STARTS.items() if data.startswith(starts)), "")
