"""What the templates make of a page, read as a person's browser would read it."""

from __future__ import annotations

import gzip
import hashlib
import re
from collections.abc import Iterator
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from server.assets import joined
from server.context import while_typing
from tests.ui import pages
from tests.ui.serving import GONE, ROOT, START, render

ALL = {
    **{name: render("feature.html", page) for name, page in pages.STATES.items()},
    "start": render("start.html", START),
    "error": render("error.html", GONE),
}
FRAGMENTS = {name: render("feature.html", replace(page, partial=True)) for name, page in pages.STATES.items()}
VOID = {"meta", "link", "input", "img", "br"}


class Elements(HTMLParser):
    """All start tags with their attributes, and a complaint for a tag that is closed wrongly."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str]]] = []
        self.wrong: list[str] = []
        self._open: list[str] = []
        self.feed(html)
        self.wrong += self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        if not self._open or self._open.pop() != tag:
            self.wrong.append(tag)

    def named(self, name: str) -> dict[str, str]:
        """The attributes of the one field called `name`."""
        (found,) = (a for tag, a in self.found if tag == "input" and a.get("name") == name)
        return found


def text(html: str) -> str:
    """The words of a page."""
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def title(html: str) -> str:
    found = re.search(r"<title>(.*?)</title>", html)
    assert found
    return found[1]


def attributes(html: str) -> Iterator[tuple[str, str, str]]:
    for tag, found in Elements(html).found:
        for name, value in found.items():
            yield tag, name, value


@pytest.mark.parametrize("html", [*ALL.values(), *FRAGMENTS.values()], ids=[*ALL, *(f"{n} part" for n in FRAGMENTS)])
class TestEveryPage:
    def test_closes_each_element_that_it_opens(self, html: str) -> None:
        assert Elements(html).wrong == []

    def test_has_no_inline_script_style_or_handler_and_no_expressions_for_htmx(self, html: str) -> None:
        for tag, name, value in attributes(html):
            assert name != "style"
            assert not name.startswith(("on", "hx-on"))
            assert not (name.startswith("hx-") and ("js:" in value or "[" in value))
            assert tag != "style"
        assert not re.search(r"<script(?![^>]*\bsrc=)", html)

    def test_fetches_nothing_from_another_host(self, html: str) -> None:
        fetched = [
            value for tag, name, value in attributes(html) if name == "src" or (tag == "link" and name == "href")
        ]
        assert all(value.startswith("/") and not value.startswith("//") for value in fetched)

    def test_uses_each_id_once_and_refers_only_to_ids_that_are_there(self, html: str) -> None:
        ids = [value for _, name, value in attributes(html) if name == "id"]
        assert len(ids) == len(set(ids))
        referring = ("aria-labelledby", "aria-describedby", "for")
        referred = {each for _, name, value in attributes(html) if name in referring for each in value.split()}
        assert referred <= set(ids)


def test_a_page_has_one_main_heading_and_one_status_line() -> None:
    for html in ALL.values():
        assert html.count("<h1") == 1
    assert ALL["seat"].count('role="status"') == 1


def test_the_fragment_holds_what_changes_and_nothing_of_the_frame() -> None:
    html = FRAGMENTS["seat"]
    assert title(html) == title(ALL["seat"])
    assert "Ø51.176" in html
    assert 'hx-target="#switches"' in html
    assert 'hx-target="#status"' in html
    assert not re.search(r"<(html|head|body|header|form|script)\b", html)


def test_the_form_works_without_scripts() -> None:
    elements = Elements(ALL["empty"])
    (form,) = (a for tag, a in elements.found if tag == "form" and a.get("id") == "ask")
    assert form["action"] == "/dish"
    assert "method" not in form
    assert any(tag == "button" and "type" not in a for tag, a in elements.found)
    assert elements.named("units") == {"type": "hidden", "name": "units", "value": "mm"}


def test_a_solved_field_stays_empty_and_shows_its_value_beside_it() -> None:
    assert Elements(ALL["seat"]).named("mouth_diameter")["value"] == ""
    assert '<output for="mouth_diameter">51.176</output>' in ALL["seat"]
    assert 'id="mouth_diameter-note"><span class="tag solved">solved</span>' in ALL["seat"]


def test_a_starting_value_is_marked_and_how_a_text_was_read_is_told() -> None:
    assert 'id="nose_radius-note"><span class="tag">starting value</span>' in ALL["seat"]
    assert 'id="break_size-note"><span class="over" tabindex="-1">= 0.794 mm</span>' in ALL["seat"]


def test_an_error_is_named_in_the_title_summarised_with_links_and_told_beside_its_field() -> None:
    html = ALL["wrong"]
    message = pages.WRONG.errors[0].message
    assert title(html).startswith("Error: ")
    assert f'<a href="#mouth_diameter">{message}</a>' in html
    assert f"Error: {message}" in html
    field = Elements(html).named("mouth_diameter")
    assert field["aria-invalid"] == "true"
    assert field["aria-describedby"] == "mouth_diameter-note"
    assert field["value"] == "60"


def test_an_error_shows_no_number_and_offers_a_way_out() -> None:
    assert 'class="headline"' not in ALL["wrong"]
    assert '<a class="offer" href="/dish?radius=75">Let the depth go</a>' in ALL["wrong"]


def test_the_summary_takes_focus_on_a_page_but_not_in_a_fragment() -> None:
    assert 'id="errors" tabindex="-1" autofocus' in ALL["wrong"]
    assert "autofocus" not in FRAGMENTS["wrong"]


def test_a_fold_with_a_wrong_field_is_open() -> None:
    assert '<details class="fold" id="fold-cut" open>' in ALL["wrong"]
    assert '<details class="fold" id="fold-insert">' in ALL["wrong"]


def test_a_closed_fold_tells_its_values() -> None:
    assert "Insert round, nose 6, tool point 2" in text(ALL["seat"])


def test_cautions_stand_before_the_number() -> None:
    html = ALL["seat"]
    assert html.index("<strong>Caution</strong>") < html.index('class="headline"')


def test_an_empty_page_says_what_to_give_and_offers_the_example() -> None:
    assert "Give any two of dish radius, depth and mouth diameter." in text(ALL["empty"])
    assert f'href="{pages.EMPTY.example_address.replace("&", "&amp;")}"' in ALL["empty"]


def test_an_example_is_marked_and_not_remembered_as_a_part() -> None:
    assert "<strong>Example</strong>" in ALL["example"]
    assert title(ALL["example"]).startswith("Example: ")
    assert "data-part" not in ALL["example"]
    assert 'data-part="Dish: R 75, depth 4.5, edge radius 0.8"' in ALL["seat"]


def test_what_was_typed_is_escaped() -> None:
    page = pages.with_fields(pages.EMPTY, radius={"text": '"><script>alert(1)</script>'})
    assert "<script>alert" not in render("feature.html", page)


def test_the_working_shows_formula_numbers_and_value_as_mathml() -> None:
    assert ALL["seat"].count("<math") == 3 * len(pages.SEAT.working[0].steps)


def test_every_result_can_be_copied_as_digits() -> None:
    copied = {a["data-copy"] for tag, a in Elements(ALL["seat"]).found if "data-copy" in a}
    assert {"51.176", "70.500", "19.951", "12.000", "35.014", "1.84"} <= copied


def test_while_a_field_is_typed_in_its_error_is_held_back_and_others_stay() -> None:
    held = while_typing(pages.WRONG, "feed")
    assert [error.field for error in held.errors] == ["mouth_diameter"]
    assert not next(group for group in held.groups if group.key == "cut").has_error
    waiting = while_typing(while_typing(pages.WRONG, "feed"), "mouth_diameter")
    assert waiting.state == "waiting"
    assert "Error" not in render("feature.html", waiting)


def test_a_page_without_errors_is_the_same_while_typing() -> None:
    assert while_typing(pages.SEAT, "radius") is pages.SEAT


@pytest.mark.parametrize("html", ["empty", "start"])
def test_a_first_visit_fits_the_first_round_trips(html: str) -> None:
    texts = [ALL[html].encode(), joined(ROOT / "static" / "page.css").encode()]
    assert sum(len(gzip.compress(each)) for each in texts) <= 14_600


def test_scripts_are_small_and_no_page_needs_more_than_six_requests() -> None:
    """What a page is on paper is asked for once it stands, and is none of them."""
    shown = {name: re.sub(r"<noscript>.*?</noscript>", "", html, flags=re.DOTALL) for name, html in ALL.items()}
    used = {name: set(re.findall(r'(?:src|href)="(/static/[^"?]+)[^"]*"', html)) for name, html in shown.items()}
    for found in used.values():
        assert 1 + len(found) <= 6
        scripts = [path for path in found if path.endswith(".js")]
        assert sum(len(gzip.compress((ROOT / path[1:]).read_bytes())) for path in scripts) <= 20_000


@pytest.mark.parametrize("folder", ["static/vendor", "tests/ui/vendor"])
def test_a_file_from_others_is_unchanged(folder: str) -> None:
    told = re.findall(r"\| `([^`]+\.js)` \|.*`([0-9a-f]{64})`", (ROOT / folder / "README.md").read_text("utf-8"))
    assert {name for name, _ in told} == {path.name for path in (ROOT / folder).glob("*.js")}
    for name, digest in told:
        assert hashlib.sha256((ROOT / folder / name).read_bytes()).hexdigest() == digest


def test_every_template_is_part_of_some_page() -> None:
    written = {str(path.relative_to(ROOT / "templates")) for path in Path(ROOT / "templates").rglob("*.html")}
    named = re.compile(r'"([a-z/]+\.html)"')
    read = "".join(path.read_text("utf-8") for path in [*(ROOT / "templates").rglob("*.html"), *_python("server")])
    assert written <= set(named.findall(read))


def _python(folder: str) -> list[Path]:
    return list((ROOT / folder).rglob("*.py"))
