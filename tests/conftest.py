"""Settings for all tests."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

# the machines that run these tests are shared: how long one example takes says nothing about the code
settings.register_profile("flankwise", deadline=None)
settings.load_profile("flankwise")


@pytest.fixture(autouse=True, scope="session")
def own_data_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Nothing that a test notes, in this process or in one that it starts, may reach the data of whoever runs it."""
    before = os.environ.get("FLANKWISE_DATA")
    os.environ["FLANKWISE_DATA"] = str(tmp_path_factory.mktemp("data"))
    yield
    if before is None:
        del os.environ["FLANKWISE_DATA"]
    else:
        os.environ["FLANKWISE_DATA"] = before
