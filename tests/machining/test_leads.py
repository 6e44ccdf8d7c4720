"""How passes are led: leads that join smoothly, the other direction, spring passes, depths that ease, a kept chip.

All is proved by the sweep: nothing hits, and what is left is the same however the finish is led.
"""

from __future__ import annotations

import math
from itertools import pairwise

import mpmath
import pytest

from calc.contour import Arc, Chain, Line, Point
from calc.machining.job import Contour, Cut, Operation, Strategy, Tool
from calc.machining.machine import Done, machine
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import Stock, stock_of
from calc.machining.removal.sweep import Outline
from calc.machining.roughing.kept_chip import feed_at_depth

CORNERS = [
    Point(0.0, 0.0),
    Point(0.0, 10.0),
    Point(-15.0, 10.0),
    Point(-25.0, 14.0),
    Point(-40.0, 14.0),
    Point(-40.0, 18.0),
]
PART = Contour(Chain(tuple(Line(a, b) for a, b in pairwise(CORNERS))), "right")
TOOL = Tool(Outline((Point(0.0, 0.0),), 1.2))
FINISH = Cut(feed=0.1, surface_speed=200_000.0)


def roughed(cut: Cut | None = None, strategy: Strategy = "rough along z", tool: Tool = TOOL) -> Done:
    """The part faced and roughed."""
    cut = cut or Cut(depth=1.5, feed=0.25, surface_speed=180_000.0, along_z=0.1, along_x=0.3)
    bar = stock_of(Bar(18.0, 1.0, -60.0).area())
    faced = machine(Operation(tool, cut, "face"), bar, PART)
    return machine(Operation(tool, cut, strategy), faced.after, PART)


@pytest.fixture(scope="module")
def before() -> Stock:
    return roughed().after


def finished(cut: Cut, stock: Stock) -> Done:
    return machine(Operation(TOOL, cut), stock, PART)


@pytest.mark.parametrize("backward", [False, True])
@pytest.mark.parametrize("lead", ["straight", "arc", "tangent"])
def test_a_finish_leaves_the_same_however_it_is_led(lead: str, backward: bool, before: Stock) -> None:
    plain = finished(FINISH, before)
    done = finished(Cut(feed=0.1, surface_speed=200_000.0, lead=lead, lead_size=1.5, backward=backward), before)  # type: ignore[arg-type]
    assert done.hits == ()
    assert done.dropped == ()
    assert done.judged.too_deep == ()
    assert done.after.whole.symmetric_difference(plain.after.whole).area < 1e-3
    assert [place.depth for place in done.judged.left] == pytest.approx([place.depth for place in plain.judged.left])


def test_a_lead_on_arcs_joins_smoothly_in_and_out(before: Stock) -> None:
    done = finished(Cut(feed=0.1, surface_speed=200_000.0, lead="arc", lead_size=1.5), before)
    fed = [move for move in done.made[-1].removal.tool_pass.moves if move.kind == "feed"]
    into, off = fed[0].elements[0], fed[-1].elements[0]
    assert isinstance(into, Arc)
    assert isinstance(off, Arc)
    assert into.radius == pytest.approx(1.5)
    assert abs(into.sweep) == pytest.approx(math.pi / 2)
    cut = [move for move in fed if move.why == "cut"]
    assert into.tangent_at(into.length).dot(cut[-1].elements[0].tangent_at(0.0)) == pytest.approx(1.0)
    last = cut[-1].elements[-1]
    assert off.tangent_at(0.0).dot(last.tangent_at(last.length)) == pytest.approx(1.0)


def test_a_tangent_lead_goes_on_along_the_wall_at_the_end(before: Stock) -> None:
    done = finished(Cut(feed=0.1, lead="tangent", lead_size=1.5), before)
    off = [move for move in done.moves if move.why == "retract"][-1].elements[0]
    assert off.length == pytest.approx(1.5)
    assert off.tangent_at(0.0).r == pytest.approx(1.0)


def test_a_finish_away_from_the_chuck_runs_the_same_path_from_its_end(before: Stock) -> None:
    there, back = (finished(Cut(feed=0.1, backward=way), before).made[-1].planned.pieces for way in (False, True))
    assert [piece.path.start for piece in back] == [piece.path.end for piece in reversed(there)]
    assert sum(piece.path.length for piece in back) == pytest.approx(sum(piece.path.length for piece in there))


def test_spring_passes_repeat_the_finish_and_take_nothing(before: Stock) -> None:
    done = finished(Cut(feed=0.1, spring=2, lead="arc"), before)
    assert [each.removal.name for each in done.made][-3:] == ["finish", "finish, spring 1", "finish, spring 2"]
    assert [round(each.removal.volume, 3) for each in done.made[-2:]] == [0.0, 0.0]


@pytest.mark.parametrize("strategy", ["rough along z", "rough along x", "rough along the contour"])
def test_depths_ease_toward_the_end(strategy: Strategy) -> None:
    """Each level takes less than the one before, the last half of the first."""
    done = roughed(Cut(depth=1.5, feed=0.25, along_z=0.1, along_x=0.3, split="easing"), strategy)
    assert done.hits == ()
    if strategy == "rough along z":
        levels = sorted({round(each.planned.pieces[0].path.start.r, 6) for each in done.made[:-1]}, reverse=True)
        steps = [18.0 + TOOL.nose - levels[0], *(a - b for a, b in pairwise(levels))]
        assert all(a > b for a, b in pairwise(steps))
        assert steps[-1] == pytest.approx(steps[0] / 2.0, abs=1e-5)


def thickest(feed: float, depth: float, nose: float) -> float:
    """By intersection: from the corner of the surface and the arc a feed ago to the arc now, square to it."""
    r, a, f = (mpmath.mpf(each) for each in (nose, depth, feed))
    reach = mpmath.sqrt(a * (2 * r - a))
    return float(r - mpmath.hypot(reach - f, r - a)) if f < reach else float(a)


@pytest.mark.parametrize("depth", [0.3, 0.7, 1.0, 1.9])
def test_a_round_inserts_chip_stays_as_thick_up_to_the_largest_feed(depth: float) -> None:
    feed = feed_at_depth(0.2, 2.0, depth, 6.0)
    assert 0.2 < feed <= 0.5
    if feed < 0.5:
        assert thickest(feed, depth, 6.0) == pytest.approx(thickest(0.2, 2.0, 6.0), rel=1e-9)
    else:
        assert thickest(0.5, depth, 6.0) < thickest(0.2, 2.0, 6.0)


def test_shallower_passes_are_fed_faster_by_the_depth_that_was_swept() -> None:
    tool = Tool(Outline((Point(0.0, 0.0),), 4.0))
    cut = Cut(depth=2.0, feed=0.2, surface_speed=180_000.0, split="rest")
    kept = roughed(Cut(depth=2.0, feed=0.2, surface_speed=180_000.0, split="rest", chip_kept=True), tool=tool)
    plain = roughed(cut, tool=tool)
    assert [each.removal.volume for each in kept.made] == [each.removal.volume for each in plain.made]
    feeds = [(each.removal.depth, each.planned.feed or 0.0) for each in kept.made]
    assert any(feed > 0.2 for _, feed in feeds)
    for made, before, (depth, feed) in zip(kept.made, plain.made, feeds, strict=True):
        sections = [chip.section * feed / 0.2 for chip in before.removal.chips if chip.section is not None]
        assert [chip.section for chip in made.removal.chips if chip.section is not None] == pytest.approx(sections)
        assert feed == pytest.approx(feed_at_depth(0.2, 2.0, depth, 4.0))
        cutting = [move.feed for move in made.removal.tool_pass.moves if move.why == "cut"]
        assert max(each or 0.0 for each in cutting) == pytest.approx(feed)
        assert max(piece.feed for piece in made.planned.pieces) == pytest.approx(feed)


def test_a_shallow_face_is_fed_faster_as_well() -> None:
    """1 of face stock where 2 may be taken."""
    tool, bar = Tool(Outline((Point(0.0, 0.0),), 4.0)), stock_of(Bar(18.0, 1.0, -60.0).area())
    faced = machine(Operation(tool, Cut(depth=2.0, feed=0.2, chip_kept=True), "face"), bar, PART)
    assert [each.planned.feed for each in faced.made] == [pytest.approx(feed_at_depth(0.2, 2.0, 1.0, 4.0))]


def test_without_a_depth_or_a_feed_there_is_no_chip_to_keep(before: Stock) -> None:
    """Roughed contour by contour, a pass of a blade has no depth of its own; on a bare page there is no feed yet."""
    tool, bar = Tool(Outline((Point(0.0, 0.0),), 4.0)), stock_of(Bar(18.0, 1.0, -60.0).area())
    for cut in (Cut(depth=None, feed=0.2, chip_kept=True), Cut(depth=2.0, feed=None, chip_kept=True)):
        made = machine(Operation(tool, cut, "face"), bar, PART).made
        assert [each.planned.feed for each in made] == [cut.feed] * len(made)


def test_a_finish_is_never_fed_faster_for_its_depth(before: Stock) -> None:
    tool = Tool(Outline((Point(0.0, 0.0),), 4.0))
    kept = machine(Operation(tool, Cut(depth=2.0, feed=0.1, chip_kept=True)), before, PART)
    assert [each.planned.feed for each in kept.made] == [0.1] * len(kept.made)
