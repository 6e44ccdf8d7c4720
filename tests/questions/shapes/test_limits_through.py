"""Limits of a print carried through to what it leaves out."""

import itertools
import math
from typing import Any

import numpy as np
import pytest

from calc.answer.carrying import extremes
from calc.answer.feature import LIMITS
from calc.language.given import Given
from calc.language.limited import Limited
from calc.questions.operations.dish_plan.dish import FEATURE as DISH_PLAN
from calc.questions.shapes.dish import FEATURE as DISH
from calc.questions.shapes.taper import FEATURE as TAPER
from calc.shapes.dish.bowl import DishInputs
from calc.shapes.taper.geometry import TaperInputs


def plus_minus(value: float, off: float) -> Given:
    return Given(value, limits=(value - off, value + off))


SEAT = DishInputs(radius=plus_minus(75.0, 0.1), depth=plus_minus(4.5, 0.05))


def mouth(radius: float, depth: float) -> float:
    """2 sqrt(2 R h - h2): the chord of a circle."""
    return 2.0 * math.sqrt(2.0 * radius * depth - depth**2)


def test_the_seats_mouth_lies_between_its_smallest_and_its_largest() -> None:
    """It grows with radius and depth: its extremes stand where both are smallest and where both are largest."""
    found = DISH.answer(SEAT)[0]
    diameter: Any = found.results.mouth_diameter
    assert isinstance(diameter, Limited)
    assert diameter.lower == pytest.approx(mouth(74.9, 4.45), abs=1e-9)
    assert diameter.upper == pytest.approx(mouth(75.1, 4.55), abs=1e-9)
    assert diameter.value == diameter.aimed == pytest.approx(mouth(75.0, 4.5), abs=1e-9)


def test_the_depth_matters_most_for_the_mouth_and_the_radius_for_the_centre() -> None:
    """By hand: 0.05 of depth moves the mouth by 0.275, 0.1 of radius by 0.035; the centre by 0.05 and 0.1."""
    rows = {row.of: row for row in DISH.answer(SEAT)[0].tables[LIMITS]}
    assert rows["Mouth diameter, sharp"].most_by == "Depth"
    by_depth, by_radius = (mouth(75, 4.55) - mouth(75, 4.45), mouth(75.1, 4.5) - mouth(74.9, 4.5))
    assert rows["Mouth diameter, sharp"].share == pytest.approx(by_depth / (by_depth + by_radius), abs=1e-9)
    assert rows["Arc centre Z"].most_by == "Dish radius"
    assert rows["Arc centre Z"].share == pytest.approx(2 / 3, abs=1e-9)
    assert "Depth" not in rows


def test_limits_on_one_side_aim_at_their_middle_and_keep_the_nominal() -> None:
    """A length of 22 +0.1/0 with a taper 1:10: the small end is 19.8 nominally, aimed at 19.795, 19.79 to 19.8."""
    length = Given(22.05, nominal=22.0, limits=(22.0, 22.1))
    found: Any = TAPER.answer(TaperInputs(large_diameter=22.0, length=length, taper_ratio=0.1))[0].results
    small = found.small_diameter
    assert [small.value, small.aimed, small.lower, small.upper] == pytest.approx([19.8, 19.795, 19.79, 19.8], abs=1e-9)
    assert not isinstance(found.half_angle, Limited)


def test_without_limits_nothing_is_carried() -> None:
    found = DISH.answer(DishInputs(radius=75.0, depth=4.5))[0]
    assert isinstance(found.results.mouth_diameter, float)
    assert found.tables[LIMITS] == []


def test_limits_of_which_some_have_no_answer_are_not_carried() -> None:
    """A depth of 74.9 to 75.1 in R75 is deeper than half a ball for some: the dish of the aim is given alone."""
    found = DISH.answer(DishInputs(radius=75.0, depth=plus_minus(74.95, 0.1)))[0]
    assert isinstance(found.results.mouth_diameter, float)


def test_the_plan_of_the_dish_carries_the_same_limits() -> None:
    carries = DISH_PLAN.carries
    assert carries is not None
    assert {"of", "most_by", "share"} == {*DISH_PLAN.rows[LIMITS].row.__dataclass_fields__}


@pytest.mark.parametrize("seed", range(6))
def test_extremes_are_those_of_a_fine_search(seed: int) -> None:
    """A saddle, a valley and a plane over random ranges, against a million places."""
    rng = np.random.default_rng(seed)
    ranges = {name: (float(rng.uniform(-2, 0)), float(rng.uniform(0, 2))) for name in "ab"}

    def find(given: Any) -> dict[str, float]:
        a, b = given["a"], given["b"]
        return {"saddle": a * a - b * b + 0.3 * a * b, "valley": (a - 0.3) ** 2 + (b + 0.2) ** 2, "plane": a - 2 * b}

    axes = [np.linspace(*ranges[name], 1001) for name in "ab"]
    a, b = np.meshgrid(*axes, indexing="ij")
    found = extremes(find, ranges)
    for name, values in find({"a": a, "b": b}).items():
        fine = np.asarray(values)
        assert found[name].lower <= fine.min() + 1e-9
        assert found[name].upper >= fine.max() - 1e-9
        assert found[name].lower == pytest.approx(fine.min(), abs=1e-4)
        assert found[name].upper == pytest.approx(fine.max(), abs=1e-4)


def test_corners_are_exact_where_everything_rises() -> None:
    ranges = {name: (1.0, 1.0 + index) for index, name in enumerate("abcd", 1)}
    found = extremes(lambda given: {"product": math.prod(given.values())}, ranges)
    corners = [math.prod(each) for each in itertools.product(*ranges.values())]
    assert found["product"] == (min(corners), max(corners))
