"""The commands measure each sample once."""

from tests.measured_once import measured_once

__all__ = ["measured_once"]
