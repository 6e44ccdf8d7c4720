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
WORST = "de"
"""The language of the longest words; Spanish pages are lighter."""
LONGEST = {("/part", WORST): (24_100, 46_200)}
"""A whole part has the fields of all its rows and operations in its page, in German with words a tenth longer."""
LINKED = r'(?:src|<link[^>]* href)="(/static/[^"]+)"'
ONCE_IT_STANDS = re.compile(r"<noscript>.*?</noscript>", re.DOTALL)
"""What a script asks for when the page is there: what it is on paper."""


@pytest.fixture(scope="module")
def sent(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[..., tuple[str, int]]]:
    with TestClient(create_app(Settings(data=Path(tmp_path_factory.mktemp("data"))))) as client:

        @cache
        def get(path: str, language: str = "en") -> tuple[str, int]:
            answer = client.get(path, headers={"Accept-Encoding": "gzip", "Accept-Language": language})
            assert answer.status_code == 200, path
            return answer.text, int(answer.headers["Content-Length"])

        yield get


def weights(sent: Callable[..., tuple[str, int]], path: str, language: str) -> tuple[int, int]:
    """Bytes of a page with its styles, and of these with its scripts, its picture and what it is on paper."""
    text, weight = sent(path, language)
    all_of, first = (set(re.findall(LINKED, each)) for each in (text, ONCE_IT_STANDS.sub("", text)))
    styles = sum(sent(each)[1] for each in first if ".css?" in each)
    return weight + styles, weight + sum(sent(each)[1] for each in all_of)


@pytest.mark.parametrize("language", ["en", WORST])
@pytest.mark.parametrize("path", ["/", "/ask", "/terms", DISH, *PAGES])
def test_a_first_visit_fits_the_first_round_trips(
    sent: Callable[..., tuple[str, int]], path: str, language: str
) -> None:
    seen, whole = weights(sent, path, language)
    assert seen <= FIRST
    assert whole <= WHOLE


@pytest.mark.parametrize("language", ["en", WORST])
@pytest.mark.parametrize("path", [path for path, feature in PAGES.items() if feature.example])
def test_an_answered_link_is_light(sent: Callable[..., tuple[str, int]], path: str, language: str) -> None:
    seen, whole = weights(sent, address(path, PAGES[path].example), language)
    most_seen, most = LONGEST.get((path, language), (ANSWERED, WHOLE))
    assert seen <= most_seen
    assert whole <= most
