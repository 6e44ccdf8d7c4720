"""A thread's profile and the ways to cut its hand, as drawn."""

from __future__ import annotations

import re

import pytest

from calc.answer.drawing import Turning
from calc.language.quantities import View
from calc.questions.threads.passes_fields import ThreadPassesInputs
from calc.questions.threads.thread import solve
from calc.questions.threads.thread_fields import ThreadInputs
from calc.questions.threads.thread_passes import solve as solve_passes
from server.sketch import draw, draw_details
from server.sketch.thread_hand import hand


def crest_leans_right(markup: str) -> bool:
    """Whether the crests, drawn from the top down, run to the right."""
    found = [tuple(map(float, numbers)) for numbers in re.findall(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)", markup)]
    crests = [(x2 - x1, y2 - y1) for x1, y1, x2, y2 in found]
    assert len(crests) == 7
    return all(dx * dy > 0 for dx, dy in crests)


@pytest.mark.parametrize("left", [False, True])
@pytest.mark.parametrize("outside", [False, True])
def test_the_crests_lean_as_the_helix_does(left: bool, outside: bool) -> None:
    """From above, z = p phi about +Z: over the top of the work phi runs from the back to the front, so a right-hand
    crest runs from the upper left to the lower right; in a bore the lower half is seen and leans the other way.
    """
    turning = Turning(left, 0.1, outside, ((True, True, ("a", "b")),))
    assert crest_leans_right(hand(turning, turning.ways[0], 300.0)) == ((not left) == outside)


def arrow_points_down(markup: str) -> bool:
    bow = re.search(r"M([\d.]+) ([\d.]+)A[\d.]+ [\d.]+ 0 0 [01] ([\d.]+) ([\d.]+)", markup)
    assert bow
    return float(bow[4]) > float(bow[2])


def test_forward_brings_the_top_toward_the_operator() -> None:
    """Common practice: a tool in front, face up, cuts while the work comes down onto it."""
    for forward, outside in ((True, True), (False, True), (True, False), (False, False)):
        turning = Turning(False, 0.05, outside, ((forward, True, ("a", "b")),))
        assert arrow_points_down(hand(turning, turning.ways[0], 300.0)) == (forward == outside)


@pytest.mark.parametrize("view", [View(), View("inch")])
@pytest.mark.parametrize("text", ["M24x2-6g", "M30x1.5-6H LH", "Tr 40x14 P7-7e", "NPT 1/2"])
def test_both_ways_are_drawn_beside_the_section(text: str, view: View) -> None:
    drawing = solve_passes(ThreadPassesInputs(designation=text, length=20.0)).drawn()
    assert drawing is not None
    figures = draw_details(drawing, view)
    assert len(figures) == 2
    assert all("face" in figure and 'role="img"' in figure for figure in figures)
    assert "NaN" not in draw(drawing, view)


@pytest.mark.parametrize("text", ["M24-6g", "M24-6H", "Tr 40x7-7e", "G 1/2 A", "Rd 40x1/6", "NPT 1/2"])
def test_the_profile_is_drawn_to_scale_with_its_diameters(text: str) -> None:
    """The pitch across and the depth down have one scale: the outline spans both in px."""
    drawing = solve(ThreadInputs(designation=text)).drawn()
    assert drawing is not None
    assert drawing.profile is not None
    markup = draw(drawing, View())
    outline = re.search(r'class="o" d="M([\d.]+) ([\d.]+)', markup)
    across = re.search(r'data-field="pitch"><path class="t" d="M([\d.]+) [^"]*?M([\d.]+) ', markup)
    assert outline
    assert across
    scale = (float(across[2]) - float(across[1])) / drawing.profile.pitch
    heights = [
        float(y)
        for y in re.findall(r'data-field="(?:major|minor)_diameter"><path class="t" d="M[\d.]+ ([\d.]+)', markup)
    ]
    bounds = drawing.profile.most.bounds
    assert abs(heights[0] - heights[1]) == pytest.approx(scale * (bounds.r_max - bounds.r_min), abs=0.05)
    for level in drawing.profile.levels:
        assert f'data-field="{level.field}"' in markup
