"""Settings for all tests."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile

from hypothesis import HealthCheck, settings

# Nothing that a test notes, in this process or in one that it starts, may reach the data of whoever runs it; and what
# they keep there must not reach the tests. Some look at the series while they are collected, hence not in a fixture.
_DATA = tempfile.mkdtemp(prefix="flankwise-test-data-")
atexit.register(shutil.rmtree, _DATA, ignore_errors=True)
os.environ["FLANKWISE_DATA"] = _DATA

# the suite runs in as many processes as there are cores: one thread each
for _library in ("OMP", "OPENBLAS"):
    os.environ.setdefault(f"{_library}_NUM_THREADS", "1")

# the machines that run these tests are shared: how long an example, or making it, takes says nothing about the code.
# The examples are the same in every run, so that a change is judged by itself; with FLANKWISE_SEARCH they are new ones
settings.register_profile(
    "flankwise",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=not os.environ.get("FLANKWISE_SEARCH"),
)
settings.load_profile("flankwise")
