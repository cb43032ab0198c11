"""Run by the frozen program before all else, on Linux: what a desktop brings and a bare system lacks is lent.

OpenCV and Qt are linked with the libraries that hand drawing over to a graphics driver. They belong to the system and
its driver, so the system's own come first; where there are none, ours take their place: without a driver they draw
nothing, but everything starts. A library that is loaded already is not looked for again under its name.
"""

from __future__ import annotations

import ctypes
import os
import sys
from contextlib import suppress

LENT = (
    "libmd.so.0", "libbsd.so.0", "libXau.so.6", "libXdmcp.so.6", "libxcb.so.1", "libX11.so.6",
    "libGLdispatch.so.0", "libGLX.so.0", "libGL.so.1", "libEGL.so.1",
)  # fmt: skip
"""In the order in which each needs those before it. ``flankwise.spec`` puts them into the folder ``lent``."""

_FOLDER = os.path.join(getattr(sys, "_MEIPASS", ""), "lent")  # noqa: PTH118 - pathlib costs time at every start

for _name in LENT:
    try:
        ctypes.CDLL(_name, ctypes.RTLD_GLOBAL)
    except OSError:
        with suppress(OSError):
            ctypes.CDLL(f"{_FOLDER}/{_name}", ctypes.RTLD_GLOBAL)
