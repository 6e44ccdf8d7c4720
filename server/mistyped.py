"""The pages that a mistyped address may have meant."""

from __future__ import annotations

from difflib import get_close_matches

from calc.language.messages import say_text
from calc.language.quantities import METRIC, View
from server.catalogue import PAGES

MOST = 3
SHORTEST = 3
"""Letters: a shorter word stands in too many names to say anything."""


def likely_pages(path: str, view: View = METRIC) -> tuple[tuple[str, str], ...]:
    """Titles and addresses of pages whose names hold what was typed, or are nearly it; none where nothing is near.

    >>> likely_pages("/boring"), likely_pages("/thred"), likely_pages("/xyz")
    ((('Boring cut', '/boring-cut'),), (('Thread', '/thread'),), ())
    """
    typed = path.strip("/").partition("/")[0].lower()
    names = [page.strip("/") for page in PAGES]
    holding = [name for name in names if len(typed) >= SHORTEST and typed in name]
    near = dict.fromkeys([*holding, *get_close_matches(typed, names, MOST, 0.75)])
    return tuple((say_text(PAGES[f"/{name}"].title, view), f"/{name}") for name in list(near)[:MOST])
