"""Asking in process, at the door or behind it, and reading pages as a person does."""

from __future__ import annotations

import html
import json
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from starlette.testclient import TestClient

from calc.answer.feature import Feature
from server.answering import Answering, PageAsked
from server.catalogue import PAGES

Asked = Feature[Any, Any]
PAGED = tuple(PAGES.values())
VIEWS: Mapping[str, Mapping[str, str]] = {
    "mm": {},
    "inch": {"units": "inch"},
    "radius, into the part": {"x": "radius", "zplus": "in"},
    "inch, radius, into the part": {"units": "inch", "x": "radius", "zplus": "in"},
}
HEAD = "-head"
"""What ends the place where a sentence about the text of a contour leads: the text has no field, but a heading."""

BROKEN = re.compile(r"\bNone\b|\bnan\b|\bNaN\b|\binf\b|[{}]|Traceback|<built-in|object at 0x|\bundefined\b")


_UNREAD = re.compile(r"<(script|style|mi|mo|mn|mtext)\b.*?</\1>|<(?:[^>\"]|\"[^\"]*\")*>", re.DOTALL)
_NOTE = re.compile(r'<span class="note" id="([^"]*)-note">((?:[^<]|<span[^>]*>[^<]*</span>)*)</span>')
_SWITCH = re.compile(r'<a id="([^"]*)" href="([^"]*)"[^>]* data-switch')


def read(markup: str) -> str:
    """What is read in a piece of a page: neither tags nor scripts, nor the letters of formulas."""
    return " ".join(html.unescape(_UNREAD.sub(" ", markup)).split())


@dataclass(frozen=True)
class Shown:
    """A page as it came."""

    status: int
    body: str

    @cached_property
    def words(self) -> str:
        """The words that are shown; those of formulas left out, in which letters stand for values."""
        return read(self.body)

    @cached_property
    def notes(self) -> Mapping[str, str]:
        """What stands beside each field."""
        return {html.unescape(name): read(told) for name, told in _NOTE.findall(self.body)}

    @property
    def switches(self) -> Mapping[str, str]:
        """The addresses of the switches of conventions, by their ids."""
        return {name: html.unescape(address) for name, address in _SWITCH.findall(self.body)}

    @property
    def copied(self) -> list[str]:
        """What the buttons for copying hold."""
        return [html.unescape(text) for text in re.findall(r' data-copy="([^"]*)"', self.body)]

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
        return [(place.removesuffix(HEAD), sentence) for place, sentence in told]

    def summarises(self, said: Sequence[tuple[str, str]]) -> bool:
        """Whether the summary tells just these sentences of these fields.

        One that begins with what was typed has its field's name before it, since no field stands beside it there.
        """
        if [field for field, _ in self.errors] != [field for field, _ in said]:
            return False
        both = [(tell, one) for (_, tell), (_, one) in zip(self.errors, said, strict=True)]
        return all(tell == one or (one.startswith("“") and tell.endswith(f": {one}")) for tell, one in both)

    def leads_somewhere(self) -> bool:
        """Whether every link of the summary has its place on the page."""
        return all(f'id="{field}"' in self.body or f'id="{field}{HEAD}"' in self.body for field, _ in self.errors)


def page_of(answering: Answering, feature: Asked, question: Mapping[str, str]) -> Shown:
    """The page of a question, as it is answered behind the door."""
    answer = answering.page(feature, PageAsked(tuple(question.items()), "http://shop.example"))
    return Shown(answer.status_code, bytes(answer.body).decode())


def api_of(answering: Answering, feature: Asked, question: Mapping[str, str]) -> tuple[int, Any]:
    """The JSON answer to a question; marks of a page are no part of it."""
    answer = answering.api(feature, tuple(question.items()))
    return answer.status_code, json.loads(bytes(answer.body))


def served_page(client: TestClient, feature: Asked, question: Mapping[str, str]) -> Shown:
    """The page of a question, asked for as a browser does."""
    answer = client.get(feature.page, params=dict(question))
    return Shown(answer.status_code, answer.text)


def served_api(client: TestClient, feature: Asked, question: Mapping[str, str]) -> tuple[int, Any]:
    """The JSON answer to a question, asked for as a script does."""
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


def all_finite(body: Any) -> bool:
    """Whether every number of an answer is one."""
    return all(math.isfinite(number) for number in numbers_in(body))
