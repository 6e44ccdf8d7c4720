"""The catalogues against the program: the same texts and places for values; the server reads what is kept."""

from __future__ import annotations

import io

import pytest
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from calc.language.translating import FOLDER, lookup
from tests.texts.gathered import gathered, in_templates
from tests.texts.keeping import OTHERS, places, translations


@pytest.mark.parametrize("language", OTHERS)
def test_every_text_is_translated(language: str) -> None:
    """A new text fails here: `python -m tests.texts.keeping` puts it into the catalogue, to be filled in."""
    found = translations(language)
    assert [text for text in gathered() if text not in found] == []


@pytest.mark.parametrize("language", OTHERS)
def test_every_place_for_a_value_stands_in_the_translation(language: str) -> None:
    found = translations(language)
    assert {text: said for text, said in found.items() if places(text) != places(said)} == {}


@pytest.mark.parametrize("language", OTHERS)
def test_no_translation_has_a_comma_for_a_thousand_or_markup(language: str) -> None:
    found = translations(language)
    from_templates = {text for text, _ in in_templates()}
    assert {text for text in from_templates if set(found.get(text, "")) & set('<>"')} == set()


@pytest.mark.parametrize("language", OTHERS)
def test_the_server_reads_what_is_kept(language: str) -> None:
    """`python -m tests.texts.keeping` brings both up to date."""
    with (FOLDER / f"{language}.po").open("rb") as opened:
        kept = read_po(opened, locale=language)
    written = io.BytesIO()
    write_mo(written, kept)
    said = lookup.__wrapped__(language)
    assert {text: said(text) for text in translations(language)} == translations(language)
