"""The glossary: every term explained once, and each page led to the terms that stand on it."""

from __future__ import annotations

import re

from fastapi.testclient import TestClient
from shapely.geometry import LineString, MultiLineString, box

from server.catalogue import PAGES
from server.terms import HIGH, WIDE, glossary, terms_of
from tests.sketch.ink import runs
from tests.sketch.svg import parsed, texts


def test_each_term_is_explained_once_in_sentences_and_used_by_some_page() -> None:
    keys, words = [term.key for term in glossary()], [term.term for term in glossary()]
    assert len(set(keys)) == len(keys) == len(set(words)) >= 30
    assert all(term.means.endswith((".", ".)")) and len(term.means) > 40 for term in glossary())
    used = {address for feature in PAGES.values() for _, address in terms_of(feature)}
    assert {term.term for term in glossary() if term.address not in used} == set()


def test_a_page_leads_to_its_terms_and_the_glossary_has_them_all(client: TestClient) -> None:
    page = client.get("/finish?feed=0.2&nose_radius=0.8").text
    led = set(re.findall(r'href="/terms#([a-z-]+)"', page))
    assert {"nose-radius", "feed", "ra"} <= led
    explained = client.get("/terms").text
    assert set(re.findall(r'<div id="([a-z-]+)"', explained)) == {term.key for term in glossary()}
    assert "leaves a smoother surface" in explained


def test_the_rows_of_a_contour_lead_to_their_terms(client: TestClient) -> None:
    page = client.get("/contour").text
    assert {"undercut", "thread-relief", "half-angle"} <= set(re.findall(r'href="/terms#([a-z-]+)"', page))


def test_terms_where_a_picture_says_it_have_one_that_stays_in_its_frame(client: TestClient) -> None:
    pictured = [term for term in glossary() if term.picture]
    assert len(pictured) >= 15
    assert {"nose-radius", "entering-angle", "tool-point", "scallop", "undercut", "spring-pass", "crest"} <= {
        term.key for term in pictured
    }
    assert client.get("/terms").text.count('<svg class="sketch"') == len(pictured)
    frame = box(0.0, 0.0, WIDE, HIGH)
    for term in pictured:
        drawn = [LineString(run) for line in term.picture for run in runs(line.split(" ", 1)[1])]
        assert frame.contains(MultiLineString(drawn)), term.key
        assert all(frame.covers(box(*words.box)) for words in texts(parsed(str(term.sketch)))), term.key


def test_a_line_that_names_a_term_is_answered_with_what_it_means(client: TestClient) -> None:
    page = client.get("/ask?q=what+is+a+spring+pass").text
    assert 'href="/terms#spring-pass"' in page
    assert "It takes what the bending of bar or work left standing." in page
