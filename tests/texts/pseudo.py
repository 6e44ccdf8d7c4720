"""A language of the tests' own: every text that the catalogues hold stands in brackets, what is outside is not said."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator

import pytest

from calc.language import quantities, translating, worded
from server import rendering
from tests.texts.gathered import gathered

PSEUDO: translating.Language = "de"
"""It stands in the place of a language with a decimal comma."""

_SILENT = re.compile(
    r"<(script|style|math|pre|textarea)\b.*?</\1>|<template id=\"words\">.*?</template>|<!--.*?-->", re.S
)
_SAYING = re.compile(r"\b(?:aria-label|alt|placeholder|content)=\"([^\"]*)\"")
_TAG = re.compile(r"<[^>]*>")
_SAID = re.compile(r"⟦[^⟦⟧]*⟧")
_CUT = re.compile(r"⟦[^⟦⟧¦,]*")


@pytest.fixture
def pseudo(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Texts in brackets for whoever asks in that language."""
    texts = gathered()
    monkeypatch.setattr(translating, "lookup", lambda _: lambda text: f"⟦{text}⟧" if text in texts else text)
    forget()
    yield
    forget()


def forget() -> None:
    """Forget what was said in that language."""
    said = (quantities._unit_for, worded._worded, rendering.speaking, rendering.spoken_script, rendering.script_address)
    for each in said:
        each.cache_clear()


def unsaid(page: str) -> str:
    """What a page shows outside of all brackets, texts and attributes that are read aloud."""
    spoken = _SILENT.sub(" ", page)
    spoken = " ¦ ".join([*_SAYING.findall(spoken), _TAG.sub(" ¦ ", spoken)])
    spoken = html.unescape(spoken)
    while _SAID.search(spoken):
        spoken = _SAID.sub(" ", spoken)
    return _CUT.sub(" ", spoken)
