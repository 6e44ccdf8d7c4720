"""Templates: how they are set up, and how one becomes a page in the reader's language."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable
from functools import cache, partial
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from calc.language.fields import specs
from calc.language.translating import LANGUAGES, Language, translated
from server.assets import Addresses, bare
from server.catalogue import PAGES

_SAID = re.compile(r'\bwords\("([^"]+)"')


@cache
def environment(templates: Path, static: Path) -> Environment:
    """The templates: escaping everywhere, and an error for a name that is not there.

    There is one for a folder, since it keeps what it has compiled.
    """
    found = Environment(
        loader=FileSystemLoader(templates),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        auto_reload=False,
    )
    found.globals["asset"] = Addresses(static).asset
    found.globals["languages"] = LANGUAGES
    found.globals["script_address"] = cache(partial(script_address, static))
    kept = (spec.name for feature in PAGES.values() for spec in specs(feature.inputs) if spec.kept)
    found.globals["kept_fields"] = list(dict.fromkeys(kept))
    return found


SPOKEN = "/static/app-{language}.js"
"""Where the script of all pages is that says its words in a language other than English."""


def script_address(static: Path, language: Language) -> str:
    """Where the script of all pages is, with a version made of its content.

    >>> script_address(Path(__file__).parent.parent / "static", "de").startswith("/static/app-de.js?v=")
    True
    """
    if language == "en":
        return Addresses(static).asset("app.js")
    digest = hashlib.sha256(spoken_script(static, language).encode()).hexdigest()[:10]
    return f"{SPOKEN.format(language=language)}?v={digest}"


@cache
def spoken_script(static: Path, language: Language) -> str:
    """The script of all pages behind what scripts say in the language, as JSON: English is in them."""
    said = json.dumps({text: translated(text, language) for text in script_texts(static)}, ensure_ascii=False)
    return f"window.said = {said};\n{bare((static / 'app.js').read_text('utf-8'))}"


def script_texts(static: Path) -> tuple[str, ...]:
    """The texts that scripts say by `words("...")`.

    >>> "Forgotten." in script_texts(Path(__file__).parent.parent / "static")
    True
    """
    scripts = (path for path in sorted(static.glob("**/*.js")) if path.parent.name != "vendor")
    return tuple(dict.fromkeys(text for path in scripts for text in _SAID.findall(path.read_text("utf-8"))))


def rendered(templates: Environment, name: str, language: Language, **context: Any) -> str:
    """A template as a page in the language; its own words go through `_`, what the context brings is said already."""
    return templates.get_template(name).render(_=speaking(language), language=language, **context)


@cache
def speaking(language: Language) -> Callable[..., Markup]:
    """What a template says its own words by, with values for their places.

    >>> speaking("en")("{count} steps", count=3)
    Markup('3 steps')
    """

    @cache
    def plain(text: str) -> Markup:
        return Markup(translated(text, language))  # our own: only what stands in its places is foreign

    def say(text: str, **values: object) -> Markup:
        return plain(text).format_map(values) if values else plain(text)

    return say
