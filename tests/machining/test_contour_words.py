"""Contours as words of ISO 6983, read back by a reader that shares no code with the writer."""

from __future__ import annotations

import cmath
import math
import re
from dataclasses import dataclass
from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from calc.contour import Arc, Chain, Element, Line, Point
from calc.language.quantities import View
from calc.machining.contour_words import heading, words_of
from calc.machining.words import CLOSES, Style


@dataclass
class Read:
    """One move as a control would take it: places are complex numbers z + i r, mm."""

    start: complex
    end: complex
    centre: complex | None = None
    turn: int = 0

    def spots(self) -> list[complex]:
        """Places along it."""
        if self.centre is None:
            return [self.start + (self.end - self.start) * k / 8 for k in range(9)]
        first, last = cmath.phase(self.start - self.centre), cmath.phase(self.end - self.centre)
        swept = ((last - first) * self.turn) % math.tau * self.turn
        radius = abs(self.start - self.centre)
        return [self.centre + cmath.rect(radius, first + swept * k / 8) for k in range(9)]


def read_back(lines: tuple[str, ...], unit: float, of_x: float) -> list[Read]:
    """The moves of the lines: `unit` mm a word's unit, `of_x` what an X is of a radius."""
    here, moves = complex(math.nan, math.nan), []
    for line in lines:
        words = {word[0]: float(word[1:]) for word in line.split()}
        assert all(re.fullmatch(r"(G[0-3]|[XZRIK]-?\d+\.\d+)", word) for word in line.split()), line
        end = complex(words["Z"] * unit, words["X"] * unit / of_x)
        code = int(words["G"])
        if code >= 2:
            # seen with +Z right and +X up, G2 turns clockwise: the phase of z + i r falls
            turn = -1 if code == 2 else 1
            moves.append(Read(here, end, centre_of(words, here, end, unit, turn), turn))
        elif code == 1:
            moves.append(Read(here, end))
        here = end
    return moves


def centre_of(words: dict[str, float], start: complex, end: complex, unit: float, turn: int) -> complex:
    if "R" not in words:
        return start + complex(words["K"] * unit, words["I"] * unit)
    radius, chord = words["R"] * unit, end - start
    height = math.sqrt(max(radius**2 - abs(chord / 2) ** 2, 0.0))
    assert abs(chord) / 2 <= radius * (1 + 1e-9), "a control refuses a radius that does not span its ends"
    return (start + end) / 2 + 1j * turn * chord / abs(chord) * height


def distance(spot: complex, chain: Chain) -> float:
    """How far a place is from the contour, by its elements' own equations."""
    return min(_from_element(spot, element) for element in chain)


def _from_element(spot: complex, element: Element) -> float:
    a, b = complex(element.start.z, element.start.r), complex(element.end.z, element.end.r)
    ends = min(abs(spot - a), abs(spot - b))
    if isinstance(element, Arc):
        centre = complex(element.centre.z, element.centre.r)
        first, here = cmath.phase(a - centre), cmath.phase(spot - centre)
        sign = 1 if element.turn == "ccw" else -1
        within = ((here - first) * sign) % math.tau <= abs(element.sweep)
        return min(ends, abs(abs(spot - centre) - element.radius)) if within else ends
    along = ((spot - a) / (b - a)).real
    return min(ends, abs(((spot - a) / (b - a)).imag) * abs(b - a)) if 0 <= along <= 1 else ends


def arc_from(here: Point, radius: float, first: float, swept: float) -> Arc:
    """An arc from `here`, which lies in the direction `first` (rad) from its centre, over `swept` (rad, + for ccw)."""
    centre = Point(here.z - radius * math.cos(first), here.r - radius * math.sin(first))
    last = first + swept
    end = Point(centre.z + radius * math.cos(last), centre.r + radius * math.sin(last))
    return Arc(here, end, centre, "ccw" if swept > 0 else "cw")


@st.composite
def chains(draw: st.DrawFn) -> Chain:
    """A run of lines and arcs of all sweeps, between 0.5 and 400 mm."""
    coordinate = st.floats(-200, 200).filter(lambda v: abs(v) > 1e-3)
    here = Point(draw(coordinate), draw(st.floats(1, 200)))
    made: list[Element] = []
    for _ in range(draw(st.integers(1, 5))):
        if draw(st.booleans()):
            length, heading_ = draw(st.floats(0.5, 100)), draw(st.floats(0, math.tau))
            end = Point(here.z + length * math.cos(heading_), here.r + length * math.sin(heading_))
            made.append(Line(here, end))
        else:
            radius, first = draw(st.floats(0.5, 100)), draw(st.floats(0, math.tau))
            swept, turn = draw(st.floats(0.05, 6.2)), draw(st.sampled_from([1, -1]))
            made.append(arc_from(here, radius, first, turn * swept))
        here = made[-1].end
    return Chain(tuple(made))


STYLES = [
    Style(View(units, x), arcs, decimals)  # type: ignore[arg-type]  # the literals below
    for units, decimals in (("mm", 3), ("inch", 4), ("mm", 2))
    for x in ("diameter", "radius")
    for arcs in ("radius", "centre")
]


NEARLY_ROUND = Chain((arc_from(Point(-39.266, 160.685), 100.0, 0.65, 5.51),))
"""Its centre beside the rounded one, from which both rounded ends are equally far, is 0.035 mm off at the far side."""

CLOSING_ON_A_SMALL_ONE = Chain(
    (first := arc_from(Point(-102.144, 69.616), 100.0, 0.49, 5.78), arc_from(first.end, 1.0, 0.49, 5.78))
)


@settings(deadline=None)
@example(NEARLY_ROUND, Style(View("mm", "radius"), "centre", 2))
@example(CLOSING_ON_A_SMALL_ONE, Style(View("mm", "radius"), "centre", 2))
@given(chains(), st.sampled_from(STYLES))
def test_words_read_back_keep_to_the_contour_within_the_stated_digits(chain: Chain, style: Style) -> None:
    unit = 25.4 if style.view.units == "inch" else 1.0
    moves = read_back(words_of([chain.elements], style), unit, 2.0 if style.view.x == "diameter" else 1.0)
    step = unit / 10**style.places
    assert abs(moves[-1].end - complex(chain.end.z, chain.end.r)) <= 0.75 * step
    for move in moves:
        assert max(distance(spot, chain) for spot in move.spots()) <= CLOSES * step


@settings(deadline=None)
@given(chains(), st.sampled_from([style for style in STYLES if style.arcs == "centre"]))
def test_a_centre_is_as_far_from_the_end_as_from_the_start_within_the_stated_digits(chain: Chain, style: Style) -> None:
    unit = 25.4 if style.view.units == "inch" else 1.0
    moves = read_back(words_of([chain.elements], style), unit, 2.0 if style.view.x == "diameter" else 1.0)
    for move in moves:
        if move.centre is not None:
            off = abs(abs(move.start - move.centre) - abs(move.end - move.centre))
            assert off <= CLOSES * unit / 10**style.places


@settings(deadline=None)
@given(chains())
def test_a_radius_word_never_asks_for_more_than_half_a_turn(chain: Chain) -> None:
    for move in read_back(words_of([chain.elements], Style()), 1.0, 2.0):
        if move.centre is not None:
            first, last = cmath.phase(move.start - move.centre), cmath.phase(move.end - move.centre)
            assert ((last - first) * move.turn) % math.tau <= math.pi + 1e-6


def test_elements_too_short_for_the_last_digit_are_left_out_and_the_rest_still_joins() -> None:
    spots = [Point(0.0, 10.0), Point(-0.0001, 10.0), Point(-5.0, 10.0)]
    lines = words_of([[Line(a, b) for a, b in pairwise(spots)]], Style())
    assert lines == ("G0 X20.0 Z0.0", "G1 X20.0 Z-5.0")


def test_an_arc_too_short_for_the_last_digit_never_becomes_a_whole_circle() -> None:
    arc = Arc(Point(0.0, 10.0), Point(-0.0001, 10.0), Point(-0.00005, 5.0), "ccw")
    assert words_of([[arc]], Style(arcs="centre")) == ("G0 X20.0 Z0.0",)


def test_zero_has_no_sign_and_words_have_a_point() -> None:
    lines = words_of([[Line(Point(-1e-7, 1e-8), Point(-1.0, 2.0))]], Style())
    assert lines == ("G0 X0.0 Z0.0", "G1 X4.0 Z-1.0")


@pytest.mark.parametrize("style", STYLES)
def test_the_heading_says_that_it_is_no_program_in_which_units_and_for_which_axes(style: Style) -> None:
    said = "\n".join(heading(style))
    assert "not a program to run" in said
    assert ("inch" in said) == (style.view.units == "inch")
    assert ("x as diameter" in said) == (style.view.x == "diameter")
    assert said == said.lower()
    assert all(line.startswith("(") and line.endswith(")") and line.count("(") == 1 for line in heading(style))


def test_signs_are_those_of_iso_whatever_the_page_shows() -> None:
    line = [Line(Point(0.0, 5.0), Point(-3.0, 5.0))]
    assert words_of([line], Style(View(zplus="in"))) == words_of([line], Style(View(zplus="out")))
