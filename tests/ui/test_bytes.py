"""What a first visit costs, over every page: HTML and styles as they are sent, and everything with the scripts."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from server.app import create_app
from server.catalogue import PAGES
from server.links import address
from server.settings import Settings

FIRST, ANSWERED, WHOLE = 14_600, 24_000, 45_000
DISH = "/dish?radius=75&depth=4.5"
LONGEST = {"/part": (27_500, 48_000)}
"""A whole part: the fields of all its rows and operations stand in its page."""


@pytest.fixture(scope="module")
def sent(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[str], tuple[str, int]]]:
    with TestClient(create_app(Settings(data=Path(tmp_path_factory.mktemp("data"))))) as client:

        @cache
        def get(path: str) -> tuple[str, int]:
            answer = client.get(path, headers={"Accept-Encoding": "gzip"})
            assert answer.status_code == 200, path
            return answer.text, int(answer.headers["Content-Length"])

        yield get


def weights(sent: Callable[[str], tuple[str, int]], path: str) -> tuple[int, int]:
    """Bytes of a page with its styles, and of these with its scripts and its picture."""
    text, weight = sent(path)
    linked = set(re.findall(r'(?:src|<link[^>]* href)="(/static/[^"]+)"', text))
    styles = sum(sent(each)[1] for each in linked if ".css?" in each)
    return weight + styles, weight + sum(sent(each)[1] for each in linked)


@pytest.mark.parametrize("path", ["/", "/ask", "/terms", DISH, *PAGES])
def test_a_first_visit_fits_the_first_round_trips(sent: Callable[[str], tuple[str, int]], path: str) -> None:
    seen, whole = weights(sent, path)
    assert seen <= FIRST
    assert whole <= WHOLE


@pytest.mark.parametrize("path", [path for path, feature in PAGES.items() if feature.example])
def test_an_answered_link_is_light(sent: Callable[[str], tuple[str, int]], path: str) -> None:
    seen, whole = weights(sent, address(path, PAGES[path].example))
    most_seen, most = LONGEST.get(path, (ANSWERED, WHOLE))
    assert seen <= most_seen
    assert whole <= most
