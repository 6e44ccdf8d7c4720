"""Every test of the store runs on both databases."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from server.app import create_app
from server.settings import Settings
from server.sheets import gathering, showing
from server.sheets.limits import Limits
from server.sheets.opening import open_store
from server.sheets.store import Store
from tests.sheets import cluster

KINDS = ("sqlite", "postgresql")


@pytest.fixture(scope="session")
def postgres() -> Iterator[cluster.Cluster]:
    """The PostgreSQL of this run; only started when a test asks for it."""
    with cluster.running() as running:
        yield running


@pytest.fixture(params=KINDS)
def settings(request: pytest.FixtureRequest, tmp_path: Path) -> Settings:
    """Settings with an empty database of each kind."""
    database = request.getfixturevalue("postgres").emptied() if request.param == "postgresql" else ""
    return Settings(data=tmp_path / "data", database=database)


@pytest.fixture
def store(settings: Settings) -> Iterator[Store]:
    """A store on an empty database."""
    opened = open_store(settings)
    yield opened
    opened.engine.dispose()


@contextmanager
def client_for(settings: Settings) -> Iterator[TestClient]:
    """A client of an app of its own."""
    with TestClient(create_app(settings), base_url="http://shop.example", follow_redirects=False) as client:
        yield client


@pytest.fixture
def client(settings: Settings) -> Iterator[TestClient]:
    """A client of an app on an empty database."""
    with client_for(settings) as client:
        yield client


@pytest.fixture
def owner(client: TestClient) -> dict[str, str]:
    """The header of the owner of the shop's lists, which were just begun."""
    return {"Authorization": f"Bearer {client.post('/api/shop').json()['secret']}"}


@pytest.fixture
def limited(settings: Settings) -> Callable[..., Any]:
    """Makes clients of an app with narrower limits, each for a `with` block."""
    return lambda **limits: client_for(replace(settings, limits=Limits(**limits)))


SEAT: dict[str, Any] = {
    "format": "chuckside sheet",
    "version": 1,
    "heading": {
        "title": "Seat, first side",
        "part": "Seat",
        "part_revision": "B",
        "material": "C45",
        "machine": "Lathe 2",
        "units": "mm",
    },
    "steps": [
        {
            "key": "dsh222",
            "title": "The dish",
            "address": "/dish?radius=75&depth=4.5&nose_radius=6&tool_point=3",
            "note": "Nose 6, point 3.",
            "practice": True,
            "seed": 17,
        },
        {
            "key": "tpr222",
            "title": "",
            "address": "/taper?large_diameter=22&length=22&taper_ratio=0.1",
            "note": "",
            "practice": False,
            "seed": None,
        },
    ],
    "setup": {
        "work_zero": "Finished face, on the axis",
        "touches": [{"key": "tch222", "tool": "RCMT 1204M0", "tool_point": 3, "where": "face", "reads": "Z 0"}],
        "clearances": "Z 2 before X",
        "spindle_direction": "m4",
        "coolant": "on",
        "soft_jaw_diameter": "60",
        "second_side": "Soft jaws on the outside",
        "after_insert_change": "Z on the face",
    },
    "checks": [{"key": "chk222", "what": "Depth of the dish", "nominal": "4.5", "tolerance": "+0.05/0"}],
}


@pytest.fixture
def seat() -> dict[str, Any]:
    """The document of the seat's sheet, complete, free to be changed."""
    return copy.deepcopy(SEAT)


@pytest.fixture(autouse=True)
def patience(monkeypatch: pytest.MonkeyPatch) -> None:
    """All tests at once make a machine slow: a step is waited for."""
    for module in (gathering, showing):
        monkeypatch.setattr(module, "SHEET_SECONDS", (60.0, 60.0))
