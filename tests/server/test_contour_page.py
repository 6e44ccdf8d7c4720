"""The contour page as HTML: rows to and from the address, actions without a script, answers and errors at rows."""

from __future__ import annotations

import re
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from calc.questions.shapes.contour import FEATURE
from server.links import address
from tests.tries import tries

PARTIAL = {"HX-Request": "true", "HX-Request-Type": "partial"}
TWELVE = (
    "s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24 g6*t_dz-38*f_x31*t*a_r8_smooth*l_x41_z-90_ha30_smooth*e0.8*t_dz-20"
    "*f_x60*e1.6*t_z-130*f_x80"
)
TWO = "s_x20_z0*l_z-10_x20*a_r10_x30_z-14"


def fields(*rows: dict[str, str], do: str = "") -> dict[str, str]:
    """The fields of a form with these rows."""
    named = {f"rows.{index}.{name}": text for index, row in enumerate(rows) for name, text in row.items()}
    return named | ({"do": do} if do else {})


START, FACE = {"kind": "start", "x": "0", "z": "0"}, {"kind": "face", "x": "20", "dx": ""}


def contour_of(location: str) -> str:
    return parse_qs(urlsplit(location).query).get("contour", [""])[0]


@pytest.mark.parametrize(
    ("do", "contour", "focus"),
    [
        ("add-arc", "s_x0_z0*f_x20*a", 2),
        ("after-0-line", "s_x0_z0*l*f_x20", 1),
        ("remove-1", "s_x0_z0", 0),
        ("remove-0", "s_x0_z0*f_x20", None),
        ("up-1", "s_x0_z0*f_x20", None),
        ("add-start", "s_x0_z0*f_x20", None),
        ("after-7-line", "s_x0_z0*f_x20", None),
        ("nonsense", "s_x0_z0*f_x20", None),
    ],
)
def test_without_a_script_an_action_leads_to_the_short_address_of_its_outcome(
    client: TestClient, do: str, contour: str, focus: int | None
) -> None:
    answer = client.get("/contour", params=fields(START, FACE, do=do), follow_redirects=False)
    assert answer.status_code == 303
    assert contour_of(answer.headers["location"]) == contour
    assert urlsplit(answer.headers["location"]).fragment == ("" if focus is None else f"rows.{focus}")


def test_a_plain_submit_leads_to_the_short_address(client: TestClient) -> None:
    answer = client.get("/contour", params=fields(START, FACE), follow_redirects=False)
    assert (answer.status_code, contour_of(answer.headers["location"])) == (303, "s_x0_z0*f_x20")


def test_with_htmx_typing_replaces_the_address_and_an_action_can_be_taken_back(client: TestClient) -> None:
    typed = client.get("/contour", params=fields(START, FACE), headers=PARTIAL)
    assert contour_of(typed.headers["HX-Replace-Url"]) == "s_x0_z0*f_x20"
    assert "HX-Push-Url" not in typed.headers
    acted = client.get("/contour", params=fields(START, FACE, do="add-cylinder"), headers=PARTIAL)
    assert contour_of(acted.headers["HX-Push-Url"]) == "s_x0_z0*f_x20*t"
    assert re.search(r'id="rows\.2\.z"[^>]* autofocus', acted.text)
    assert "<html" not in acted.text


@pytest.mark.parametrize("edit", ["down-1", "up-2"])
def test_rows_change_places(client: TestClient, edit: str) -> None:
    line = {"kind": "line", "x": "30", "z": "-5", "smooth": "1"}
    answer = client.get("/contour", params=fields(START, FACE, line, do=edit), follow_redirects=False)
    assert contour_of(answer.headers["location"]) == "s_x0_z0*l_x30_z-5_smooth*f_x20"


def test_each_row_tells_what_is_given_and_what_was_solved(client: TestClient) -> None:
    page = client.get("/contour", params=dict(FEATURE.example)).text
    told = [re.sub(r"<[^>]+>", "", unescape(each)) for each in re.findall(r'class="told">(.*?)</span>\s*<', page, re.S)]
    heads = [re.sub(r"\s+", " ", each).strip() for each in told]
    assert any(each.startswith("X 22, Z -22, taper 1:10") for each in heads)
    assert any("solved X 19.800" in each for each in heads)
    assert "aims at mid-limit, X23.986 mm" in page


def test_a_bare_page_offers_the_three_examples_marked_as_such(client: TestClient) -> None:
    page = client.get("/contour").text
    links = re.findall(r'<a class="act" href="([^"]+)">(Stem|Pad|Seat)</a>', page)
    assert [name for _, name in links] == ["Stem", "Pad", "Seat"]
    for link, _ in links:
        example = client.get(unescape(link))
        assert example.status_code == 200
        assert "the numbers are not of your part" in example.text


def test_errors_link_to_their_fields_and_stand_beside_them(client: TestClient) -> None:
    answer = client.get("/contour", params={"contour": "s_x0_z0*f_xabc*t_z-10"})
    assert answer.status_code == 422
    assert 'href="#rows.1.x"' in answer.text
    assert re.search(r'id="rows\.1\.x"[^>]*aria-invalid="true"', answer.text)
    assert 'value="abc"' in answer.text


def test_every_error_links_to_something_on_the_page(client: TestClient) -> None:
    texts = ["s_x0_z0*f_x20*t_z-10*l_x30_z-20_len3", "s_x0_z0*f_x20*t_z-10*f_x30*t_z-20_dz-12", "s_x0_z0*c1", "q"]
    for text in texts:
        page = client.get("/contour", params={"contour": text}).text
        errors = re.search(r'<div id="errors".*?</div>', page, re.S)
        assert errors is not None
        for target in re.findall(r'href="#([^"]+)"', errors[0]):
            assert f'id="{target}"' in page, target


def test_a_contradiction_offers_to_let_each_dimension_go(client: TestClient) -> None:
    page = client.get("/contour", params={"contour": "s_x0_z0*f_x20*t_z-10*f_x30*t_z-20_dz-12"}).text
    offers = re.findall(r'class="offer" href="([^"]+)">([^<]+)', page)
    assert ("Let go: Cylinder 4, Step in Z (it becomes Z-10.000 mm)") in [words for _, words in offers]
    for link, _ in offers:
        assert client.get(unescape(link)).status_code == 200


def test_what_can_still_move_is_said_at_its_row_and_what_is_settled_is_drawn(client: TestClient) -> None:
    page = client.get("/contour", params={"contour": "s_x0_z0*f_x20*t_dz-10*a_r5"})
    assert page.status_code == 200
    assert "2 more dimensions are needed: element 3 can still move." in page.text
    row = page.text[page.text.index('id="rows.3"') :]
    assert "Element 3 can still move" in row[: row.index("</summary>")]
    assert '<svg class="sketch"' in page.text


def test_several_contours_are_numbered_and_the_chosen_one_is_in_the_address(client: TestClient) -> None:
    page = client.get("/contour", params={"contour": TWO}).text
    part = page[page.index('class="solutions"') :]
    links = re.findall(r'href="([^"]+)"( aria-current="true")?[^>]*>(\d) ', part[: part.index("</ol>")])
    assert [number for _, _, number in links] == [str(number) for number in range(1, len(links) + 1)]
    assert [bool(current) for _, current, _ in links] == [True] + [False] * (len(links) - 1)
    second = unescape(links[1][0])
    assert re.search(r"chosen=[pc]\d+(%20|\+)-?\d+\.\d{3}(%20|\+)-?\d+\.\d{3}", second)
    chosen = client.get(second).text
    assert re.search(r'aria-current="true"[^>]*>2 ', chosen[chosen.index('class="solutions"') :])
    assert "number 2 is drawn" in chosen


def test_the_s_is_on_the_page_to_the_digit(client: TestClient) -> None:
    """R5 on diameter 30, R8 up to diameter 50 at Z -25: starts at Z -25 + sqrt(160), centres 13 apart."""
    page = client.get("/contour", params={"contour": "s_x30_z0*t*a_r5_smooth*a_r8_x50_z-25_smooth*t_z-30_smooth"}).text
    row = page[page.index("P3 end of 2") :]
    assert re.findall(r"<td[^>]*>([^<]+)</td>", row)[:4] == ["37.692", "-17.216", "G2", "5.000"]
    assert "solved Z -12.351" in page


def test_the_pad_is_on_the_page_in_inches(client: TestClient) -> None:
    """R 2.9375 on 2.000: height R - sqrt(R^2 - 1) = .1755; edge radius 1/32 between 1.9583 and 2.0000."""
    page = client.get("/contour", params=dict(FEATURE.examples["Pad"])).text
    assert "solved Z -.1755" in page
    cells = re.findall(r"<td[^>]*>([^<]+)</td>", page[page.index("P2 end of 1") :])
    assert cells[:2] == ["1.9583", "-.1680"]
    assert "2.0000" in page
    assert "-.1975" in page


WORDS = st.tuples(
    st.sampled_from("ftlaace"), st.lists(st.sampled_from(["x20", "z-5", "x-3", "dz-9", "r7", "smooth", "cw", "ha30"]))
).map(lambda pair: pair[0] + ("1" if pair[0] in "ce" else "".join(f"_{part}" for part in dict.fromkeys(pair[1]))))


def test_no_contour_breaks_the_page(client: TestClient) -> None:
    @settings(max_examples=tries(150), deadline=None)
    @given(st.sampled_from(["s_x0_z0", "s_x30_z0", "s"]), st.lists(WORDS, max_size=6))
    def holds(start: str, words: list[str]) -> None:
        answer = client.get("/contour", params={"contour": "*".join([start, *words])})
        assert answer.status_code in (200, 422)

    holds()


def test_a_switch_of_units_keeps_what_was_given(client: TestClient) -> None:
    page = client.get("/contour", params={"contour": "s_x0_z0*f_x24 g6*t_z-10"}).text
    inch = next(unescape(link) for link in re.findall(r'href="([^"]+)"', page) if "units=inch" in link)
    switched = client.get(inch).text
    assert 'value="24mm g6"' in switched
    assert "X.9444 in" in switched


def test_a_word_that_nobody_knows_is_an_error_in_plain_words(client: TestClient) -> None:
    answer = client.get("/contour", params={"contour": "s_x0_z0*q7"})
    assert answer.status_code == 422
    assert "Word 2 of the contour, “q7”, is not known." in answer.text


def test_the_address_of_a_part_of_twelve_elements_is_short_and_has_a_qr_code(client: TestClient) -> None:
    link = "http://shop.example" + address("/contour", {"contour": TWELVE, "bar_diameter": "85", "material": "42CrMo4"})
    page = client.get(link)
    assert page.status_code == 200
    assert "a contour (elements: 12)" in page.text
    shared = re.search(r'<p class="address">([^<]+)', page.text)
    assert shared is not None
    assert len(unescape(shared[1])) < 500
    code = client.get(unescape(re.findall(r'<img src="(/qr/[^"]+)"', page.text)[0]))
    assert code.status_code == 200
    side = re.search(r'viewBox="0 0 (\d+)', code.text)
    assert side is not None
    assert int(side[1]) <= 4 * 81  # 73 modules and the quiet zone: version 14 of ISO/IEC 18004


NAMED = "s_x0_z0*f*c1x45°*t_xM24x2-6g_z-30*vA*f_x31*t_z-40*g_w3_dep2*t_z-60*uF 0.8x0.3*f_x40"


def test_threads_undercuts_and_grooves_are_rows_with_what_was_read(client: TestClient) -> None:
    page = unescape(client.get("/contour", params={"contour": NAMED}).text)
    for said in (
        "23.682 to 23.962 mm, nominal 24 mm; aims at mid-limit, X23.822 mm",
        "DIN 76 - A for M24x2: bottom Ø21.000 mm, 7 mm long, R1 mm",
        "DIN 509 - F 0.8 x 0.3: 0.3 mm deep, 2.5 mm long, R0.8 mm",
        "Groove 5-7",
        "Undercut after 8",
        "Threads, undercuts and grooves",
    ):
        assert said in page


def test_rows_with_designations_travel_from_the_form_to_the_address(client: TestClient) -> None:
    rows = fields(
        {"kind": "start", "x": "24", "z": "0"},
        {"kind": "cylinder", "z": "-60"},
        {"kind": "undercut", "named": "F 0.8x0.3"},
        {"kind": "face", "x": "31"},
        {"kind": "groove", "w": "2", "dep": "1", "outward": "1"},
    )
    answer = client.get("/contour", params=rows, follow_redirects=False)
    assert contour_of(answer.headers["location"]) == "s_x24_z0*t_z-60*uF 0.8x0.3*f_x31*g_w2_dep1_outward"


def test_a_groove_without_its_width_asks_for_it(client: TestClient) -> None:
    page = unescape(client.get("/contour", params={"contour": "s_x20_z0*t_z-9*g_dep2*t_z-20"}).text)
    assert "How wide is the groove?" in page


def test_a_thread_is_a_row_of_its_own_with_what_is_turned_for_it(client: TestClient) -> None:
    rows = fields(
        {"kind": "start", "x": "0", "z": "0"},
        {"kind": "face"},
        {"kind": "thread", "named": "M24x2-6g", "z": "-30", "relief": "A", "br": "1.5x45°"},
        {"kind": "face", "x": "31"},
    )
    answer = client.get("/contour", params=rows, follow_redirects=False)
    assert contour_of(answer.headers["location"]) == "s_x0_z0*f*h_namedM24x2-6g_z-30_reliefA_br1.5x45°*f_x31"
    page = unescape(client.get(answer.headers["location"]).text)
    for said in (
        "X before threading 23.682 to 23.962 mm, nominal 24 mm; a chamfer of 1.280 mm reaches the root",
        "DIN 76 - A for M24x2: bottom Ø21.000 mm, 7 mm long, R1 mm",
        "Thread 2",
        "M24x2-6g, Z -30, relief A, chamfer 1.5x45°",
    ):
        assert said in page


@pytest.mark.parametrize("page", ["/plan", "/nose", "/reach-contour", "/tool-finder", "/error-by-cause", "/first-part"])
def test_a_page_about_a_contour_draws_what_is_known_of_it(client: TestClient, page: str) -> None:
    """A shaft with a chamfer, its face's end blank: solved X30. Before its last length is known the rest is drawn."""
    whole = {"shape": "own", "nose_radius": "0.8", "contour": "s_x0_z0*f*c1*t_x30_z-20*f_x60*t_z-32"}
    for text in (whole["contour"], whole["contour"].removesuffix("_z-32")):
        answer = client.get(page, params={**whole, "contour": text}).text
        assert 'class="solved">solved X 30.000' in answer
        assert 'class="o"' in answer
