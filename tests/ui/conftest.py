"""One browser and one server for all modules here: each takes as long to start as several tests."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

from tests.conftest import opened_browser, opened_site

if TYPE_CHECKING:
    from playwright.sync_api import Browser


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """A running headless browser, whose tabs tests use one after the other."""
    with opened_browser() as running:
        yield running


@pytest.fixture(scope="package")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the real server; a module that needs saved work or an app of its own has another."""
    with opened_site(tmp_path_factory) as address:
        yield address
