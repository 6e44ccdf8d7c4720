"""What holds for all tests: saved work goes to a folder of its own, and how hard the properties are tried.

`HYPOTHESIS_PROFILE=thorough` takes its time, the usual run does not. A test that sets its own number keeps it.
"""

from __future__ import annotations

import os
import tempfile

import pytest
from hypothesis import settings

os.environ["CHUCKSIDE_SECONDS"] = "60"  # all tests at once make a machine slow; read when the server is imported

settings.register_profile("usual", deadline=None, max_examples=80)
settings.register_profile("thorough", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE") or "usual")


def pytest_configure(config: pytest.Config) -> None:
    """An app that a test makes without settings must not write into the checkout, nor into somebody's database."""
    folder = tempfile.TemporaryDirectory(prefix="chuckside-tests-")
    config.add_cleanup(folder.cleanup)
    os.environ["CHUCKSIDE_DATA"] = folder.name
    os.environ.pop("CHUCKSIDE_DATABASE", None)
