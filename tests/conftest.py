"""What holds for all tests: saved work goes to a folder of its own, and how hard the properties are tried.

`HYPOTHESIS_PROFILE=thorough` takes its time; the usual run tries the same few each time (`tests/tries.py`).
"""

from __future__ import annotations

import gc
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, cast

import pytest
from hypothesis import settings

from tests.tries import PROFILE

if TYPE_CHECKING:
    from playwright.sync_api import Browser

os.environ["CHUCKSIDE_SECONDS"] = "60"  # all tests at once make a machine slow; read when the server is imported

settings.register_profile("usual", deadline=None, max_examples=25, derandomize=True)
settings.register_profile("thorough", deadline=None, max_examples=1000)
settings.load_profile(PROFILE)

gc.disable()  # until all tests are read: nothing that is made so long is rubbish, and looking cost a quarter of it

LONGEST_WAIT = 20_000
"""ms: so long something that is to be seen is waited for; it costs time only where it does not come."""


def pytest_configure(config: pytest.Config) -> None:
    """An app that a test makes without settings must not write into the checkout, nor into somebody's database."""
    folder = tempfile.TemporaryDirectory(prefix="chuckside-tests-")
    config.add_cleanup(folder.cleanup)
    os.environ["CHUCKSIDE_DATA"] = folder.name
    os.environ.pop("CHUCKSIDE_DATABASE", None)


@pytest.hookimpl(trylast=True)
def pytest_collection_finish() -> None:
    """What stands when all tests are read stays: looking through it for rubbish again and again took a tenth of all."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(200_000, 20, 50)
    gc.enable()


@contextmanager
def opened_browser() -> Iterator[Browser]:
    """A running headless browser, whose tabs tests use one after the other."""
    from playwright.sync_api import expect  # noqa: PLC0415 - most tests need no browser

    from tests.ui.browser import chromium  # noqa: PLC0415
    from tests.ui.tabs import Tabs  # noqa: PLC0415

    expect.set_options(timeout=LONGEST_WAIT)
    with chromium() as running:
        yield cast("Browser", Tabs(running))


@contextmanager
def opened_site(folders: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the real server, with saved work of its own."""
    from tests.ui.live import live  # noqa: PLC0415 - most tests need no server, and the import needs its settings

    with live(folders.mktemp("data")) as address:
        yield address


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser for the tests of a module."""
    with opened_browser() as running:
        yield running


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The real server for the tests of a module; one may have another."""
    with opened_site(tmp_path_factory) as address:
        yield address
