"""One library of linear algebra instead of two: OpenCV is given SciPy's, which leaves 40 MB out of the program.

The wheels of OpenCV, NumPy and SciPy for Linux carry an OpenBLAS each. OpenCV takes some twenty functions from its own.
SciPy's has them all, for the same integers of 32 bits, under names that begin with ``scipy_``. So a library of jumps
takes the place, the name and the file of OpenCV's. On other systems OpenCV brings none.
"""

from __future__ import annotations

import os
import platform
import shutil
import subprocess
import sys
from pathlib import Path

PREFIX = "scipy_"


def one_openblas(inside: Path) -> bool:
    """Put the library of jumps in place in the folder ``inside`` of the frozen program; False where it cannot be made.

    Raises subprocess.CalledProcessError.
    """
    ours = next(inside.glob("opencv_python*.libs/libopenblas*"), None)
    theirs = next(inside.glob("scipy.libs/libscipy_openblas-*"), None)
    opencv = next(inside.glob("cv2/cv2*.so"), None)
    known = sys.platform.startswith("linux") and platform.machine() == "x86_64"
    if not (known and ours and theirs and opencv and shutil.which("gcc") and shutil.which("nm")):
        return False
    names = sorted(_symbols(opencv, "--undefined-only") & _symbols(ours, "--defined-only"))
    if {PREFIX + name for name in names} - _symbols(theirs, "--defined-only"):
        return False
    jumps = ".text\n" + "".join(f".globl {n}\n.type {n}, @function\n{n}: jmp {PREFIX}{n}@PLT\n" for n in names)
    jumps += '.section .note.GNU-stack,"",@progbits\n'
    place = os.path.relpath(theirs.parent, ours.parent)
    subprocess.run(
        ["gcc", "-shared", "-nostdlib", "-x", "assembler", "-", "-x", "none", f"-Wl,-soname,{ours.name}", str(theirs),
         f"-Wl,-rpath,$ORIGIN/{place}", "-Wl,--allow-shlib-undefined", "-o", str(ours)],
        input=jumps, text=True, check=True,
    )  # fmt: skip
    needed_no_more = [*ours.parent.glob("libgfortran*"), *ours.parent.glob("libquadmath*")]
    links = [path for path in inside.iterdir() if path.is_symlink() and path.resolve() in needed_no_more]
    for path in (*links, *needed_no_more):
        path.unlink()
    return True


def _symbols(library: Path, which: str) -> set[str]:
    told = subprocess.run(["nm", "-D", which, str(library)], text=True, capture_output=True, check=True).stdout
    return {line.split()[-1].split("@")[0] for line in told.splitlines() if line.strip()}
