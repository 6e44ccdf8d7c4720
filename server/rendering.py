"""Templates: how they are set up, and how one becomes a page in the reader's language."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from calc.language.fields import specs
from calc.language.translating import LANGUAGES, Language, translated
from server.assets import Addresses
from server.catalogue import PAGES


def environment(templates: Path, static: Path) -> Environment:
    """The templates: escaping everywhere, and an error for a name that is not there."""
    found = Environment(
        loader=FileSystemLoader(templates),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=False,
        auto_reload=False,
    )
    found.globals["asset"] = Addresses(static).asset
    found.globals["languages"] = LANGUAGES
    kept = (spec.name for feature in PAGES.values() for spec in specs(feature.inputs) if spec.kept)
    found.globals["kept_fields"] = list(dict.fromkeys(kept))
    return found


def rendered(templates: Environment, name: str, language: Language, **context: Any) -> str:
    """A template as a page in the language; its own words go through `_`, what the context brings is said already."""
    return templates.get_template(name).render(_=speaking(language), language=language, **context)


@cache
def speaking(language: Language) -> Callable[..., Markup]:
    """What a template says its own words by, with values for their places.

    >>> speaking("en")("{count} steps", count=3)
    Markup('3 steps')
    """

    def say(text: str, **values: object) -> Markup:
        words = Markup(translated(text, language))  # our own: only what stands in its places is foreign
        return words.format_map(values) if values else words

    return say
