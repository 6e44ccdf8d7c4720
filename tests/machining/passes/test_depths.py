"""Into how many passes a depth is cut, and what a pass is referred to unless somebody says otherwise."""

import pytest

from calc.machining.passes import Referral, depths


def test_a_depth_that_is_so_many_passes_but_for_rounding_is_so_many() -> None:
    """0.9 in steps of 0.3 is three; below the finished surface there is nothing to take."""
    assert depths(0.9, 0.3, "equal") == pytest.approx([0.3, 0.6, 0.9])
    assert depths(-0.1, 0.3, "rest") == []


def test_the_tool_point_of_a_nose_is_that_of_a_right_hand_tool_outside_unless_said_otherwise() -> None:
    """Point 3: toward the axis and the chuck from the nose's centre (common practice, no source)."""
    assert tuple(Referral(0.8).step) == pytest.approx((-0.8, -0.8))
