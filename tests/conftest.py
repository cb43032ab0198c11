"""Settings for all tests."""

from __future__ import annotations

from hypothesis import settings

# the machines that run these tests are shared: how long one example takes says nothing about the code
settings.register_profile("flankwise", deadline=None)
settings.load_profile("flankwise")
