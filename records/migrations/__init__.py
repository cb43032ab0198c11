"""How a register became what it is: one module a version, each with ``upgrade(connection)``; none is ever changed."""

from records.migrations import v0001_first, v0002_holes, v0003_dies, v0004_hashes, v0005_paper

STEPS = (v0001_first.upgrade, v0002_holes.upgrade, v0003_dies.upgrade, v0004_hashes.upgrade, v0005_paper.upgrade)
"""In order; a register of version N has taken the first N."""
