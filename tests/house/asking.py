"""Asking the server in process, and reading its pages as a person's browser does."""

from __future__ import annotations

import html
import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from html.parser import HTMLParser
from typing import Any

from starlette.testclient import TestClient

from calc.answer.feature import Feature
from server.catalogue import FEATURES, PAGES

Asked = Feature[Any, Any]
PAGED = tuple(PAGES.values())
VIEWS: Mapping[str, Mapping[str, str]] = {
    "mm": {},
    "inch": {"units": "inch"},
    "radius, into the part": {"x": "radius", "zplus": "in"},
    "inch, radius, into the part": {"units": "inch", "x": "radius", "zplus": "in"},
}
ROWS = "rows-head"
"""Where a sentence about the text of a contour leads: the text has no field, its rows have a heading."""

BROKEN = re.compile(r"\bNone\b|\bnan\b|\bNaN\b|\binf\b|[{}]|Traceback|<built-in|object at 0x|\bundefined\b")


class _Reader(HTMLParser):
    """Collects the words that are shown, the fields with their notes, and what can be copied."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.words: list[str] = []
        self.notes: dict[str, str] = {}
        self.copied: list[str] = []
        self.links: dict[str, str] = {}
        self._open: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if "data-copy" in given:
            self.copied.append(given["data-copy"])
        if tag == "a" and "data-switch" in given:
            self.links[given["id"]] = given["href"]
        if tag not in ("input", "meta", "link", "img", "br"):
            self._open.append((tag, given.get("id", "")))

    def handle_endtag(self, tag: str) -> None:
        if self._open and self._open[-1][0] == tag:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        if any(tag in ("script", "style", "mi", "mo", "mn", "mtext") for tag, _ in self._open):
            return
        self.words.append(data)
        for _, name in self._open:
            if name.endswith("-note"):
                self.notes[name[:-5]] = self.notes.get(name[:-5], "") + data


@dataclass(frozen=True)
class Shown:
    """A page as it came."""

    status: int
    body: str

    @cached_property
    def _read(self) -> _Reader:
        reader = _Reader()
        reader.feed(self.body)
        return reader

    @property
    def words(self) -> str:
        """The words that are shown; those of formulas left out, in which letters stand for values."""
        return " ".join(" ".join(self._read.words).split())

    @property
    def notes(self) -> Mapping[str, str]:
        """What stands beside each field."""
        return self._read.notes

    @property
    def switches(self) -> Mapping[str, str]:
        """The addresses of the switches of conventions, by their ids."""
        return self._read.links

    @property
    def copied(self) -> list[str]:
        """What the buttons for copying hold."""
        return self._read.copied

    @cached_property
    def title(self) -> str:
        """The title of the window."""
        found = re.search(r"<title>(.*?)</title>", self.body, re.DOTALL)
        assert found
        return html.unescape(found[1].strip())

    @cached_property
    def errors(self) -> list[tuple[str, str]]:
        """The summary of what is wrong: the field that a sentence leads to, and the sentence."""
        summary = re.search(r'<div id="errors".*?</ul>', self.body, re.DOTALL)
        found = re.findall(r'<li><a href="#([^"]*)">(.*?)</a>', summary[0], re.DOTALL) if summary else []
        told = [(html.unescape(place), html.unescape(sentence)) for place, sentence in found]
        return [("contour" if place == ROWS else place, sentence) for place, sentence in told]

    def leads_somewhere(self) -> bool:
        """Whether every link of the summary has its place on the page."""
        return all(f'id="{ROWS if field == "contour" else field}"' in self.body for field, _ in self.errors)


def page_of(client: TestClient, feature: Asked, question: Mapping[str, str]) -> Shown:
    """The page of a question."""
    answer = client.get(feature.page, params=dict(question))
    return Shown(answer.status_code, answer.text)


def api_of(client: TestClient, feature: Asked, question: Mapping[str, str]) -> tuple[int, Any]:
    """The JSON answer to a question; marks of a page are no part of it."""
    answer = client.get(f"/api/{feature.path}", params=dict(question))
    return answer.status_code, answer.json()


def numbers_in(body: Any) -> Iterator[float]:
    """Every number of a JSON answer."""
    if isinstance(body, Mapping):
        for value in body.values():
            yield from numbers_in(value)
    elif isinstance(body, list):
        for value in body:
            yield from numbers_in(value)
    elif isinstance(body, (int, float)) and not isinstance(body, bool):
        yield float(body)


def in_view(feature: Asked, view: Mapping[str, str]) -> dict[str, str]:
    """The example of a feature as texts that mean the same in a view: what an inch page is given in mm says so."""
    return {**feature.example, **view}


def all_finite(body: Any) -> bool:
    """Whether every number of an answer is one."""
    return all(math.isfinite(number) for number in numbers_in(body))


__all__ = ["BROKEN", "FEATURES", "PAGED", "VIEWS", "Asked", "Shown", "all_finite", "api_of", "numbers_in", "page_of"]
