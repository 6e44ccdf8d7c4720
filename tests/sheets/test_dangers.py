"""The check of pages for what must not be there finds it where it is."""

from __future__ import annotations

import pytest

from tests.sheets.forms import dangers_in


@pytest.mark.parametrize(
    "html",
    [
        "<script>alert(1)</script>",
        "<script src=//elsewhere.example/x.js></script>",
        "<img src=x onerror=alert(1)>",
        "<a href='javascript:alert(1)'>x</a>",
        "<p style='color:red'>x</p>",
        "<iframe></iframe>",
        "<a href=https://elsewhere.example>x</a>",
    ],
)
def test_each_danger_is_found(html: str) -> None:
    assert dangers_in(f"<main>{html}</main>") != []


def test_a_page_without_any_passes() -> None:
    assert dangers_in('<script src="/static/app.js"></script><a href="/x">&lt;script&gt;</a>') == []
