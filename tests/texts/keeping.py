"""Keeps the catalogues of the other languages: `python -m tests.texts.keeping`.

Without a word it brings `calc/language/catalogue/*.po` up to date with the texts of the program and compiles them: new
texts stand there without a translation, those that are gone are left out, what is translated stays. `fill de FILE` puts
the translations of a JSON file (text: translation) in first.
"""

from __future__ import annotations

import datetime
import json
import re
import sys
from collections.abc import Mapping
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from calc.language.translating import FOLDER, LANGUAGES
from tests.texts.gathered import gathered

OTHERS = tuple(language for language in LANGUAGES if language != "en")
WIDTH = 120
UNDATED = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)
"""The date of every catalogue: what is kept changes with its texts alone."""


def main(arguments: list[str]) -> int:
    """Carry out what the command line asks."""
    given: dict[str, Mapping[str, str]] = {}
    if arguments[:1] == ["fill"]:
        given[arguments[1]] = json.loads(Path(arguments[2]).read_text("utf-8"))
    for language in OTHERS:
        made = brought_up(language, given.get(language, {}))
        save(made, language)
        missing = sum(not message.string for message in made if message.id)
        print(f"{language}: {len(made)} texts, {missing} not translated")
    return 0


def brought_up(language: str, more: Mapping[str, str]) -> Catalog:
    """The catalogue of the texts as they are now, with what was translated already and `more`."""
    kept = translations(language) | {text: said for text, said in more.items() if said}
    made = Catalog(locale=language, charset="utf-8", creation_date=UNDATED, revision_date=UNDATED)
    for text, where in gathered().items():
        said = kept.get(text, "")
        made.add(text, said if places(said) == places(text) else "", locations=[(where, None)])  # type: ignore[list-item]
    return made


def translations(language: str) -> dict[str, str]:
    """What the catalogue of a language holds, by text."""
    file = FOLDER / f"{language}.po"
    if not file.exists():
        return {}
    with file.open("rb") as opened:
        return {str(each.id): str(each.string) for each in read_po(opened) if each.id and each.string}


def places(text: str) -> list[str]:
    """The places for values in a text, in the order of the alphabet.

    >>> places("{low} to {high}")
    ['{high}', '{low}']
    """
    return sorted(set(re.findall(r"\{\w+\}", text)))


def save(made: Catalog, language: str) -> None:
    """Write the catalogue, and what the server reads of it."""
    FOLDER.mkdir(exist_ok=True)
    with (FOLDER / f"{language}.po").open("wb") as opened:
        write_po(opened, made, width=WIDTH, omit_header=True)
    with (FOLDER / f"{language}.mo").open("wb") as opened:
        write_mo(opened, made)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
