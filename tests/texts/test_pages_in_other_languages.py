"""Pages in German and Spanish: nothing on them is left unsaid, numbers have a comma, links keep the point."""

from __future__ import annotations

import re
from itertools import product
from urllib.parse import parse_qsl

import pytest
from starlette.testclient import TestClient

from calc.language.fields import specs
from calc.language.quantities import KINDS, LENGTH, View
from calc.language.reading import Ambiguous, read
from calc.language.translating import Language
from server.answering import Answering, PageAsked
from server.app import create_app
from server.catalogue import PAGES
from server.links import LATER, OPERATOR, POINTS
from server.settings import STATIC, TEMPLATES
from tests.texts.pseudo import PSEUDO, pseudo, unsaid

__all__ = ["pseudo"]

WORD = re.compile(r"[A-Za-zÀ-ÿ]*[a-zà-ÿ]{3,}")
NAMES = re.compile(
    r"https?://\S+|\b[A-Z]{2,}[A-Za-z0-9-]*\b|\b\w*\d\w*\b|Chuckside|English|Deutsch|Español|Machinery's Handbook"
    r"|width=device-width,initial-scale=1,interactive-widget=resizes-content|light dark|Sleeve, plain"
)
"""What every language has alike: addresses, designations, names, settings of the browser, what was typed."""

SYMBOLS = frozenset(
    [
        "min",
        "max",
        "lim",
        "rev",
        "thou",
        "lbf",
        "klbf",
        "ksi",
        "rule",
        "need",
        "loss",
        "cost",
        "chip",
        "base",
        "most",
        "part",
        "mean",
        "grip",
        "left",
        "set",
        "best",
        "pip",
        "hyd",
    ]
)
"""Letters of units and of symbols, as in 1/min and F with an index."""


@pytest.fixture(scope="module")
def answering() -> Answering:
    return Answering(TEMPLATES, STATIC)


def words_outside(page: str) -> set[str]:
    """The words of a page that no catalogue said."""
    found = (word for text in unsaid(page).split("¦") for word in WORD.findall(NAMES.sub(" ", text)))
    return {word for word in found if word not in SYMBOLS and word not in TYPED}


TYPED = frozenset({"abc", "vergütet", "pre", "prehard", "grade", "hardened", "Morse"})
"""What stands in fields and lists of names."""


def cases(page: str) -> list[list[tuple[str, str]]]:
    """A page's questions: none, its example, this in inches (far too much of all), a word where a number belongs."""
    feature = PAGES[page]
    number = next((spec.name for spec in specs(feature.inputs) if spec.role == "quantity"), None)
    wrong = [[(number, "abc")]] if number else []
    inches = [item for item in feature.example.items() if item[0] != "units"]
    return [[], [*feature.example.items(), ("example", "1")], [*inches, ("units", "inch")], *wrong]


@pytest.mark.usefixtures("pseudo")
def test_nothing_on_any_page_is_left_unsaid(answering: Answering) -> None:
    found: dict[str, set[str]] = {}
    for page, feature in PAGES.items():
        for items in cases(page):
            shown = answering.page(feature, PageAsked(items, "http://x", language=PSEUDO)).body
            if words := words_outside(bytes(shown).decode()):
                found.setdefault(page, set()).update(words)
    assert found == {}


@pytest.mark.usefixtures("pseudo")
@pytest.mark.parametrize("layout", [OPERATOR, POINTS])
def test_nothing_on_what_hangs_at_the_machine_is_left_unsaid(answering: Answering, layout: str) -> None:
    feature = PAGES["/part"]
    shown = answering.page(
        feature, PageAsked([*feature.example.items()], "http://x", layout=layout, language=PSEUDO)
    ).body
    assert words_outside(bytes(shown).decode()) == set()


@pytest.mark.usefixtures("pseudo")
@pytest.mark.parametrize("address", ["/", "/terms", "/ask", "/ask?q=24 g6", "/nowhere", "/sheet", "/part/operator"])
def test_nothing_on_the_other_pages_is_left_unsaid(address: str) -> None:
    with TestClient(create_app(), base_url="http://localhost") as client:
        page = client.get(address, headers={"Accept-Language": PSEUDO}).text
    assert words_outside(page) == set()


@pytest.mark.parametrize("language", ["de", "es"])
def test_what_a_page_shows_can_be_typed_back(language: Language) -> None:
    """A number of any kind, shown, read and shown again, is the same; a comma is no thousands mark."""
    for units, shown in product(("mm", "inch"), (1500.0, 1.5, 0.125, 12.345)):
        view = View("mm" if units == "mm" else "inch", language=language)
        for kind in KINDS:
            value = kind.internal(shown if kind.dimension != "count" else round(shown) or 1.0, view)
            text = kind.text(value, view)
            read_back = read(text, kind, view)
            assert "." not in text
            assert read_back is not None
            assert kind.text(read_back, view) == text
            assert read(kind.say(value, view), kind, view) == pytest.approx(read_back)


@pytest.mark.usefixtures("pseudo")
@pytest.mark.parametrize(
    "address",
    [
        "/dish?radius=90&depth=4.5&mouth_diameter=60",
        "/dish?radius=90000&depth=0.0000001",
        "/dish?radius=90",
        "/contour?contour=s_x30_z0*t_z-10*l_x26_z-12*a_r9_ccw_z-14*f_x60_z-30",
        "/contour?contour=s_x30_z0*t*l_x26",
        "/ring-groove?where=outside&diameter=24.5",
        "/thread?designation=NPT+1/2&gauge_short=4",
        "/material?name=1.4404",
        "/material?name=C45+250+HB",
    ],
)
def test_nothing_is_left_unsaid_of_what_does_not_go_together(answering: Answering, address: str) -> None:
    """Sentences whose pieces depend on what is wrong, and a grade that another one lends its numbers."""
    page, _, asked = address.partition("?")
    shown = answering.page(PAGES[page], PageAsked(parse_qsl(asked), "http://x", language=PSEUDO)).body
    assert words_outside(bytes(shown).decode()) == set()


def test_a_contradiction_is_said_in_german(answering: Answering) -> None:
    items = parse_qsl("radius=90&depth=4.5&mouth_diameter=60")
    page = bytes(answering.page(PAGES["/dish"], PageAsked(items, "http://x", language="de")).body).decode()
    said = "R90 mm und Tiefe 4,5 mm ergeben eine Öffnung von Ø56,205 mm; Ø60 mm weicht davon um 3,795 mm ab."
    assert said in page


@pytest.mark.parametrize(
    "address",
    [
        "/dish?radius=75.5&depth=4.5",
        "/dish?radius=3.5&depth=0.18&units=inch",
        "/spindle?surface_speed=180.5&diameter=42.5",
        "/spindle?surface_speed=600.5&diameter=0.75&units=inch",
    ],
)
def test_the_working_has_the_comma_too_and_no_number_begins_with_it(answering: Answering, address: str) -> None:
    """ASME Y14.5 leaves out the 0 before the point of inches; where the mark is a comma nobody does."""
    page, _, asked = address.partition("?")
    question = PageAsked(parse_qsl(asked), "http://x", language="de", layout=LATER)
    shown = bytes(answering.page(PAGES[page], question).body).decode()
    numbers = re.findall(r"<mn>([^<]*)</mn>", shown)
    assert any("," in number for number in numbers)
    assert [number for number in numbers if "." in number or number.startswith(",")] == []
    assert re.findall(r">-?,\d+", shown) == []


def test_an_english_page_still_asks_what_a_comma_means() -> None:
    """One thousand five hundred or one and a half: no source, the two conventions of ISO 80000-1, 7.3.2."""
    with pytest.raises(Ambiguous):
        read("1,500", LENGTH, View())
    assert read("1,500", LENGTH, View(language="de")) == 1.5


def test_links_and_calls_keep_the_point() -> None:
    with TestClient(create_app(), base_url="http://localhost") as client:
        german = {"Accept-Language": "de-AT, en;q=0.5"}
        led = client.get("/dish?radius=75,5&depth=4,5", headers=german, follow_redirects=False)
        assert (led.status_code, led.headers["Location"]) == (303, "/dish?radius=75.5&depth=4.5")
        page = client.get(led.headers["Location"], headers=german).text
        assert '<html lang="de">' in page
        assert 'name="radius" value="75,5"' in page
        assert "/dish?radius=75.5&amp;depth=4.5" in page
        call = client.get("/api/geometry/dish?radius=75.5&depth=4.5", headers=german).json()
        assert call == client.get("/api/geometry/dish?radius=75.5&depth=4.5").json()
        english = client.get("/dish?radius=75.5&depth=4.5").text
        assert 'name="radius" value="75.5"' in english


def test_the_choice_is_kept_on_the_device_and_leads_nowhere_else() -> None:
    with TestClient(create_app(), base_url="http://localhost") as client:
        chosen = client.post("/language", data={"to": "es", "back": "/dish?radius=75"}, follow_redirects=False)
        assert (chosen.status_code, chosen.headers["Location"]) == (303, "/dish?radius=75")
        page = client.get("/dish?radius=75", headers={"Accept-Language": "de"})
        assert '<html lang="es">' in page.text
        assert "Cookie" in page.headers["Vary"]
        assert "Accept-Language" in page.headers["Vary"]
        away = client.post("/language", data={"to": "de", "back": "https://elsewhere.example/"}, follow_redirects=False)
        assert away.headers["Location"] == "/"
        assert client.post("/language", data={"to": "xx", "back": "/"}).status_code == 422
