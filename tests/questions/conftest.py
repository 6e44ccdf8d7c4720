"""One app for the sweeps, with a data folder of its own."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from server.app import create_app
from server.settings import Settings


@pytest.fixture(scope="session")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A client of the whole app."""
    app = create_app(Settings(data=tmp_path_factory.mktemp("data")))
    with TestClient(app, base_url="http://shop.example") as client:
        yield client
