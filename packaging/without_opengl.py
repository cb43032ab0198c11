"""Run by the frozen program before all else: pyqtgraph may draw by OpenGL, here it never does.

While it is imported it loads Qt's two modules for that by name and derives a class from one of theirs; together they
are 10 MB. So it finds two modules here whose every class is an empty one.
"""

from __future__ import annotations

import sys
from types import ModuleType


class _Unused(ModuleType):
    def __getattr__(self, name: str) -> type:
        if name.startswith("__"):
            raise AttributeError(name)
        return type(name, (), {})


for _name in ("QtOpenGL", "QtOpenGLWidgets"):
    sys.modules[f"PySide6.{_name}"] = _Unused(f"PySide6.{_name}")
