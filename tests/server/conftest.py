"""One app for all tests of the server, asked in process."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from starlette.testclient import TestClient

from server.app import create_app
from server.settings import Settings


@pytest.fixture(scope="session")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A client of the whole app, whose saved work goes to a folder of its own."""
    app = create_app(Settings(data=tmp_path_factory.mktemp("data")))
    with TestClient(app, base_url="http://shop.example") as client:
        yield client


@pytest.fixture(scope="session")
def ask(client: TestClient) -> Callable[..., Any]:
    """Ask an API call and take its JSON: `ask("geometry/dish", radius="90", depth="4.5")`."""

    def asked(path: str, status: int = 200, **query: str) -> Any:
        answer = client.get(f"/api/{path}", params=query)
        assert answer.status_code == status, answer.text
        return answer.json()

    return asked
