"""Templates: how they are set up, and how one becomes a page in the reader's language."""

from __future__ import annotations

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
from server.assets import VENDORED, Addresses, bare, digest_of
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
    found.globals["spoken"] = partial(script_address, static)
    kept = (spec.name for feature in PAGES.values() for spec in specs(feature.inputs) if spec.kept)
    found.globals["kept_fields"] = list(dict.fromkeys(kept))
    return found


SPOKEN = "/static/{script}-{language}.js"
"""Where a script is that says its words in a language other than English."""
SPEAKS_FOR = {"stay.js": ("stay.js", "worker.js")}
"""A script that brings the words of another too: the worker has no page, and reads them there."""


@cache
def script_address(static: Path, name: str, language: Language) -> str:
    """Where a script is, in the language if it says anything, with a version made of its content.

    >>> static = Path(__file__).parent.parent / "static"
    >>> script_address(static, "app.js", "de").startswith("/static/app-de.js?v=")
    True
    >>> script_address(static, "tools/terms.js", "de").startswith("/static/tools/terms.js?v=")
    True
    """
    if language == "en" or not script_texts(static, name):
        return Addresses(static).asset(name)
    address = SPOKEN.format(script=name.removesuffix(".js"), language=language)
    return f"{address}?v={digest_of(spoken_script(static, name, language).encode())}"


@cache
def spoken_script(static: Path, name: str, language: Language) -> str:
    """A script behind what it says in the language, as JSON: English is in it."""
    said = json.dumps({text: translated(text, language) for text in script_texts(static, name)}, ensure_ascii=False)
    return f"window.said = {{ ...window.said, ...{said} }};\n{bare((static / name).read_text('utf-8'))}"


def script_names(static: Path) -> tuple[str, ...]:
    """Our own scripts, by their paths below the folder.

    >>> script_names(Path(__file__).parent.parent / "static")[0]
    'app.js'
    """
    paths = (path.relative_to(static) for path in sorted(static.glob("**/*.js")))
    return tuple(path.as_posix() for path in paths if VENDORED not in path.parts)


@cache
def script_texts(static: Path, name: str) -> tuple[str, ...]:
    """The texts that a script says by `words("...")`.

    >>> "Forgotten." in script_texts(Path(__file__).parent.parent / "static", "tools/keeping.js")
    True
    """
    spoken = ((static / each).read_text("utf-8") for each in SPEAKS_FOR.get(name, (name,)))
    return tuple(dict.fromkeys(text for script in spoken for text in _SAID.findall(script)))


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
