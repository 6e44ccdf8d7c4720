"""What a first visit costs, over every page: HTML and styles as they are sent, all with the scripts, the requests.

That a page asks for nothing else by itself is held in a browser, see `test_words_explained`. By HTTPS what keeps pages
for when there is no network comes after all that.
"""

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

FIRST, ANSWERED, WHOLE, REQUESTS = 14_600, 24_000, 45_000, 6
DISH = "/dish?radius=75&depth=4.5"
LONG = ("de", "es")
"""The languages of the longest words, whose scripts bring words; English pages are lighter by 300 bytes and more."""
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


def weights(sent: Callable[..., tuple[str, int]], path: str, language: str) -> tuple[int, int, int]:
    """Bytes of a page with its styles, of these with its scripts, its picture and what it is on paper; its requests."""
    text, weight = sent(path, language)
    all_of, first = (set(re.findall(LINKED, each)) for each in (text, ONCE_IT_STANDS.sub("", text)))
    styles = sum(sent(each)[1] for each in first if ".css?" in each)
    return weight + styles, weight + sum(sent(each)[1] for each in all_of), 1 + len(all_of)


@pytest.mark.parametrize("language", LONG)
@pytest.mark.parametrize("path", ["/", "/ask", "/terms", DISH, *PAGES])
def test_a_first_visit_fits_the_first_round_trips(
    sent: Callable[..., tuple[str, int]], path: str, language: str
) -> None:
    seen, whole, requests = weights(sent, path, language)
    assert seen <= FIRST
    assert whole <= WHOLE
    assert requests <= REQUESTS


@pytest.mark.parametrize("language", LONG)
@pytest.mark.parametrize("path", [path for path, feature in PAGES.items() if feature.example])
def test_an_answered_link_is_light(sent: Callable[..., tuple[str, int]], path: str, language: str) -> None:
    seen, whole, requests = weights(sent, address(path, PAGES[path].example), language)
    assert seen <= ANSWERED
    assert whole <= WHOLE
    assert requests <= REQUESTS


@pytest.mark.parametrize(("path", "most"), [(DISH, FIRST), (address("/part", PAGES["/part"].example), ANSWERED)])
def test_the_longest_english_pages_are_light(sent: Callable[..., tuple[str, int]], path: str, most: int) -> None:
    seen, whole, requests = weights(sent, path, "en")
    assert seen <= most
    assert whole <= WHOLE
    assert requests <= REQUESTS


def test_a_sheet_on_paper_asks_for_one_file_of_styles_and_its_code(sent: Callable[..., tuple[str, int]]) -> None:
    text, _ = sent(address("/part/operator", PAGES["/part"].example), "de")
    asked = re.findall(r'<(?:script|img|link rel="(?:icon|stylesheet)")[^>]*(?:src|href)="([^"]+)"', text)
    assert len([each for each in asked if ".css?" in each]) == 1
    assert 1 + len(set(asked)) <= REQUESTS
