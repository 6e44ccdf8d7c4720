"""What stands on the sketch: numbers as a print writes them, names made safe, signs as the reader has them."""

from dataclasses import replace
from xml.etree.ElementTree import Element

import pytest

from calc.language.quantities import METRIC, View
from calc.questions.cutting.soft_jaws_sketch import jaw_sketch
from server.sketch import draw, draw_details, draw_legend
from tests.sketch.drawings import CASES, EDGE, SEAT, Case
from tests.sketch.svg import NS, parsed, texts


def text_of(markup: str, field: str) -> str:
    svg = parsed(markup)
    found = [g for g in svg.iter(f"{NS}g") if g.get("data-field") == field]
    return "".join(found[0].itertext())


def marks(svg: Element, cls: str) -> list[Element]:
    return [element for element in svg.iter() if element.get("class") == cls]


def test_a_metric_dimension_has_its_sign_and_no_idle_zeros() -> None:
    markup = draw(SEAT.drawing(), METRIC)
    assert text_of(markup, "mouth_diameter") == "Ø51.176"
    assert text_of(markup, "radius") == "R75"
    assert text_of(markup, "depth") == "4.5"


def test_an_inch_dimension_keeps_its_places_and_has_no_zero_before_the_point() -> None:
    # R 3.000 in and 0.400 in deep give a mouth of 2.9933 in (common practice, no source)
    markup = draw(Case(radius=76.2, depth=10.16, bar=50.8).drawing(), View("inch"))
    assert text_of(markup, "depth") == ".4000"
    assert text_of(markup, "mouth_diameter") == "Ø2.9933"
    assert text_of(markup, "radius") == "R3.0000"


def test_an_unknown_dimension_shows_its_symbol() -> None:
    markup = draw(CASES["nothing known"].drawing(), METRIC)
    assert [text_of(markup, field) for field in ("mouth_diameter", "depth", "radius")] == ["D", "h", "R"]


def test_an_angle_is_in_degrees() -> None:
    case = CASES["a chamfer"]
    (detail,) = draw_details(case.drawing(), METRIC)
    edge = case.cut.elements[0]
    assert text_of(detail, "break_angle").endswith("°")
    assert 0.0 < float(text_of(detail, "break_angle")[:-1]) < 90.0
    assert edge.length > 0.0


@pytest.mark.parametrize(("view", "out"), [(METRIC, True), (View(zplus="in"), False)])
def test_the_arrow_of_plus_z_points_as_the_reader_has_it(view: View, out: bool) -> None:
    svg = parsed(draw(SEAT.drawing(), view))
    arms = next(g for g in svg.iter(f"{NS}g") if g.get("class") == "ax").find(f"{NS}path")
    assert arms is not None
    start, tip = arms.attrib["d"].split("H")[0][1:].split()[0], arms.attrib["d"].split("H")[1].split("M")[0]
    assert (float(tip) > float(start)) is out


def test_conventions_change_no_line_of_the_part() -> None:
    def outline(view: View) -> list[str]:
        return [p.attrib["d"] for p in marks(parsed(draw(SEAT.drawing(), view)), "o")]

    assert outline(METRIC) == outline(View(x="radius", zplus="in"))


def test_words_from_outside_cannot_become_markup() -> None:
    evil = '</title><script>alert("&")</script>'
    drawing = replace(SEAT.drawing(title=evil, description=evil), spots=((evil[:6], SEAT.end),))
    svg = parsed(draw(drawing, METRIC))
    assert svg.find(f".//{NS}script") is None
    assert svg.findtext(f"{NS}title") == evil
    assert svg.findtext(f"{NS}desc") == evil


def test_nothing_that_a_strict_content_security_policy_forbids_is_drawn() -> None:
    for case in CASES.values():
        drawing = case.drawing()
        for markup in (draw(drawing, METRIC), *draw_details(drawing, METRIC), draw_legend(drawing)):
            for element in parsed(markup or "<ul/>").iter():
                assert "style" not in element.attrib
                assert not [name for name in element.attrib if name.startswith("on")]


def test_ids_begin_with_the_key_and_are_used_once() -> None:
    drawing = SEAT.drawing()
    markups = [draw(drawing, METRIC, key="seat"), *draw_details(drawing, METRIC, key="seat")]
    ids = [e.attrib["id"] for markup in markups for e in parsed(markup).iter() if "id" in e.attrib]
    assert len(set(ids)) == len(ids)
    assert all(name.startswith("seat-") for name in ids)


@pytest.mark.parametrize("key", ["", "1a", 'a"b', "a b"])
def test_a_key_that_is_no_name_is_refused(key: str) -> None:
    with pytest.raises(ValueError, match="key must be a name"):
        draw(SEAT.drawing(), METRIC, key=key)


def test_the_image_is_named_and_described_for_those_who_hear_it() -> None:
    svg = parsed(draw(SEAT.drawing(), METRIC))
    assert svg.get("role") == "img"
    by_id = {e.get("id"): e.text for e in svg.iter()}
    assert by_id[svg.get("aria-labelledby")] == "Dish in a face"
    assert by_id[svg.get("aria-describedby")] == "A section."


def test_a_detail_tells_its_letter_its_name_and_its_scale() -> None:
    drawing = SEAT.drawing()
    (detail,) = draw_details(drawing, METRIC)
    lines = marks(parsed(detail), "cap")[0]
    caption = " ".join("".join(line.itertext()) for line in lines)
    assert caption.startswith(f"A {EDGE} (")
    assert caption.endswith(":1)")
    assert "A" in [words.text for words in texts(parsed(draw(drawing, METRIC)))]


def test_a_detail_has_the_scale_that_it_names() -> None:
    drawing = SEAT.drawing()
    (detail,) = draw_details(drawing, METRIC)
    svg = parsed(detail)
    scale = float(texts(svg)[-1].text.split("(")[1].split(":")[0])
    round_window = svg.find(f".//{NS}clipPath/{NS}circle")
    assert round_window is not None
    across_mm = 2 * float(round_window.attrib["r"]) * 25.4 / 96  # a CSS px is 1/96 in (CSS Values and Units, 5.2)
    assert across_mm / drawing.details[0].size == pytest.approx(scale, rel=1e-3)


def test_a_detail_no_larger_than_the_main_view_is_left_out_and_its_dimensions_stay() -> None:
    case = replace(SEAT, edge=0.8)
    drawing = case.drawing()
    wide = replace(drawing, details=(replace(drawing.details[0], size=50.0),))
    assert draw_details(wide, METRIC) == []
    assert text_of(draw(wide, METRIC), "break_size") == "R0.8"


def test_noses_paths_and_stock_are_drawn_each_as_its_own_line() -> None:
    svg = parsed(draw(SEAT.drawing(), METRIC))
    assert len(marks(svg, "n")) == 2
    for cls in ("nc", "tp", "p1", "p2", "s", "m"):
        assert len(marks(svg, cls)) == 1, cls


def test_passes_alternate_between_two_lines_so_that_they_can_be_counted() -> None:
    svg = parsed(draw(SEAT.drawing(), METRIC))
    (odd,), (even,) = marks(svg, "p1"), marks(svg, "p2")
    assert (odd.attrib["d"].count("M"), even.attrib["d"].count("M")) == (2, 2)


def test_the_legend_explains_just_what_is_there() -> None:
    legend = draw_legend(SEAT.drawing())
    assert "raw bar" in legend
    assert "path of the nose centre" in legend
    assert "uncompensated" not in legend
    assert draw_legend(Case().drawing()) == ""


@pytest.mark.parametrize("name", CASES)
def test_a_sketch_is_small_enough_to_send_with_every_answer(name: str) -> None:
    assert len(draw(CASES[name].drawing(), METRIC).encode()) < 6000


def test_soft_jaws_hold_the_work_and_a_pad_is_the_mating_part() -> None:
    jaws = draw_legend(jaw_sketch(42.0, 12.0, 36.0, "outside"))
    assert "the work that is held" in jaws
    assert "mating" not in jaws
