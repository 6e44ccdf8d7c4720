"""How a depth is shared out among passes."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.machining.passes import MOST_PASSES, depths
from tests.tries import tries


@settings(max_examples=tries(200), deadline=None)
@given(st.floats(1e-6, 0.75 * MOST_PASSES), st.floats(1e-3, 100.0), st.sampled_from(["equal", "rest", "easing"]))
def test_passes_add_up_to_the_total_and_none_takes_more_than_asked(share: float, most: float, split: Any) -> None:
    total = share * most
    levels = depths(total, most, split)
    taken = np.diff([0.0, *levels])
    assert levels[-1] == total
    assert np.all(taken > 0.0)
    assert np.max(taken) <= most * (1 + 3e-9)
    average = 0.75 if split == "easing" else 1.0
    assert len(levels) - 1 < total / (average * most) * (1 + 1e-9)  # one pass fewer would not do
    if split == "equal":
        assert np.ptp(taken) <= 1e-9 * total
    elif split == "easing" and len(taken) > 1:
        assert np.all(np.diff(taken) < 0.0)
        assert taken[-1] == pytest.approx(taken[0] / 2.0, rel=1e-6)
    elif split == "rest":
        assert taken[:-1] == pytest.approx(most, rel=1e-9)


def test_nothing_to_take_takes_no_pass() -> None:
    assert depths(0.0, 1.0, "equal") == []
