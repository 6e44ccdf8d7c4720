"""The search for a tool: the same tools as trying every one, the strongest first, and a pair where none reaches all."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import cache
from itertools import pairwise
from random import Random

import pytest

from calc.contour import Arc, Chain, Line, Point
from calc.contour.many import Many
from calc.machining import finding
from calc.machining.finding import Wanted, find_tools
from calc.machining.reach.angles import USUAL_MARGIN
from calc.machining.reach.bodies import Ride, hits_anything
from calc.machining.reach.examine import examine, held_cutter
from calc.machining.reach.tool import Tool
from calc.machining.reach.work import contour_work
from calc.shapes.chosen import given_by, shape_chain, unique
from calc.tool.catalogue import Pair, pairs
from calc.tool.holder import misfits
from calc.tool.nose_path import Unreached, nose_path
from tests.tries import some

SHOULDER = "s_x0_z0*f_x30*t_z-50*f_x50*t_z-60"
NECK = "s_x30_z0*t_z-20*f_x20*t_z-40*f_x30*t_z-60"
STEPPED_BORE = "s_x40_z0*t_z-20*f_x28*t_z-40"


def chain_of(text: str) -> Chain:
    return unique(given_by(text))


def names(wanted: Wanted) -> set[tuple[str, str]]:
    return {(found.insert, found.holder) for found in find_tools(wanted) if found.reaches}


def by_trying(wanted: Wanted) -> set[tuple[str, str]]:
    """Every pair by itself, by the checks of the page of reach: margins of 2 degrees, bodies, the nose."""
    unreached = cache(lambda nose: nose_path(wanted.chain, nose, wanted.side).unreached)
    tried = ((pair, _largest_that_reaches(wanted, pair, unreached)) for pair in pairs(wanted.place))
    return {(name, pair.holder_name) for pair, name in tried if name}


def _largest_that_reaches(wanted: Wanted, pair: Pair, unreached: Callable[[float], Sequence[Unreached]]) -> str:
    if wanted.hand not in ("either", pair.holder.hand) and pair.holder.hand != "N":
        return ""
    for name, insert in pair.inserts:
        nose = insert.nose or 0.0
        gaps = unreached(nose)
        sharp = any(gap.reason == "corner" for gap in gaps)
        if any(gap.reason == "radius" for gap in gaps) or (sharp and nose > 1.6):
            continue
        cutter = held_cutter(insert, pair.holder, nose)
        if wanted.hole is not None and (cutter.bar_bore or 0.0) > 2 * wanted.hole:
            return ""
        found = examine(contour_work(wanted.chain, wanted.side), cutter)
        angles = [finding.angle for finding in found.findings if finding.angle is not None]
        fits = all(angle >= USUAL_MARGIN - 1e-9 for angle in angles)
        hit = any(finding.verdict == "stops" for finding in found.findings if "flank" not in finding.check)
        narrow = any(gap.reason != "corner" for gap in gaps)
        return name if fits and not hit and not narrow else ""
    return ""


def random_shaft(chance: Random) -> Chain:
    """Cylinders, cones that rise and fall, shoulders, toward the chuck."""
    at = Point(0.0, chance.uniform(10.0, 20.0))
    made = []
    for _ in range(chance.randint(2, 6)):
        fall = chance.choice([0.0, 0.0, 1.0, 1.0, -1.0])
        end = Point(at.z - chance.uniform(5.0, 20.0), at.r + fall * chance.uniform(0.5, 6.0))
        made.append(Line(at, Point(end.z, max(end.r, 6.0))))
        at = made[-1].end
        if chance.random() < 0.3:
            made.append(Line(at, at.shifted(0.0, chance.uniform(1.0, 8.0))))
            at = made[-1].end
    return Chain(tuple(made))


@pytest.mark.parametrize(
    "wanted",
    [
        Wanted(shape_chain("stem", None), "right"),
        Wanted(chain_of(SHOULDER), "right", hand="R"),
        Wanted(chain_of(STEPPED_BORE), "left", "bore", hole=12.5),
        *(Wanted(random_shaft(Random(seed)), "right") for seed in some(range(12), 3)),
    ],
)
def test_the_same_tools_are_found_as_by_trying_every_one(wanted: Wanted) -> None:
    assert names(wanted) == by_trying(wanted)


def test_bodies_are_only_looked_at_of_tools_that_may_be_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no tool reaches all and no two meet, the two that reach farthest: few of eighty have to be ridden along."""
    looked: list[Tool] = []

    def hits(tool: Tool, sides: Many, ride: Ride) -> bool:
        looked.append(tool)
        return hits_anything(tool, sides, ride)

    monkeypatch.setattr(finding, "hits_anything", hits)
    found = find_tools(Wanted(chain_of("s_x0_z0*f_x42*t_z-20*f_x37*t_z-22*f_x42*t_z-40"), "right", hand="R"))
    assert [each.reaches for each in found] == [False, False]
    assert len(looked) <= 8


def test_a_cylinder_with_a_shoulder_gets_an_80_degree_corner_first() -> None:
    """Common practice, no source: CNMG in a 95 degree holder turns and faces the commonest part."""
    first = find_tools(Wanted(chain_of(SHOULDER), "right", roughness=0.0016, hand="R"))[0]
    assert (first.insert, first.holder) == ("CNMG 120416", "PCLNR 2525M12")
    assert "the finish allows 0.282 mm/rev" in first.reason.say()


def test_the_strongest_stands_first() -> None:
    found = find_tools(Wanted(shape_chain("stem", None), "right"))
    angles = [each.cutter.shape.angle or math.pi for each in found]
    assert angles == sorted(angles, reverse=True)
    assert all(each.cutter.nose <= 8.0 for each in found)


def test_a_small_inside_radius_takes_a_smaller_nose() -> None:
    small = "s_x0_z0*f_x30*t_z-50*e0.5*f_x50*t_z-60"
    noses = {each.cutter.nose for each in find_tools(Wanted(chain_of(small), "right", hand="R"))}
    assert max(noses) == pytest.approx(0.4)


def test_a_neck_with_upright_walls_needs_a_right_and_a_left_hand_that_meet() -> None:
    found = find_tools(Wanted(chain_of(NECK), "right", roughness=0.0016))
    assert [each.reaches for each in found] == [False, False]
    assert {each.cutter.hold.hand for each in found if each.cutter.hold} == {"R", "L"}
    fore, back = found
    assert (fore.first, back.last) == (0, 4)
    assert fore.stretch.end >= back.stretch.start
    assert "they meet at" in fore.reason.say()


def test_a_bar_must_go_into_the_hole_that_is_there() -> None:
    for hole, most in ((12.5, 25.0), (7.0, 14.0)):
        found = find_tools(Wanted(chain_of(STEPPED_BORE), "left", "bore", hole=hole))
        assert found
        assert all((each.cutter.bar_bore or 0.0) <= most for each in found)


@pytest.mark.parametrize("place", ["outside", "bore"])
def test_every_pair_of_the_catalogue_belongs_together(place: str) -> None:
    """By the rules of ISO 1832, ISO 5608 and ISO 6261: shape, clearance and size."""
    for pair in pairs(place):
        for _, insert in pair.inserts:
            assert not list(misfits(insert, pair.holder)), pair.holder_name
            assert insert.nose is not None
        noses = [insert.nose or 0.0 for _, insert in pair.inserts]
        assert noses == sorted(noses, reverse=True)
        assert pair.holder.is_bar == (place == "bore")


def test_the_smallest_nose_as_large_as_a_fillet_still_says_how_far_it_reaches() -> None:
    """A neck with a fillet of 0.4 at its front wall: no tool of one hand reaches both walls, each reaches a part."""
    fillet = Arc(Point(-20.0, 10.4), Point(-20.4, 10.0), Point(-20.4, 10.4), "cw")
    corners = [(-20.4, 10.0), (-40.0, 10.0), (-40.0, 15.0), (-60.0, 15.0)]
    walls = [Line(Point(*a), Point(*b)) for a, b in pairwise(corners)]
    before = [Line(Point(0.0, 15.0), Point(-20.0, 15.0)), Line(Point(-20.0, 15.0), fillet.start)]
    search = finding._Search(Wanted(Chain((*before, fillet, *walls)), "right"))
    turning = [pair for pair in pairs("outside") if pair.holder_name.startswith(("PCLN", "PDJN", "MVJN"))]
    found = [[each.insert[-2:] for each in search.tried(pair)] for pair in turning]
    assert found == [["04"]] * len(turning)
