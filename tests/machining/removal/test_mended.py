"""Areas that touch and cross themselves, mended: valid, and of the size that they enclose."""

import numpy as np
import pytest
import shapely

from calc.machining.removal.polygons import polygon, valid

# A triangle whose corners are each gone to twice, a last digit apart: what the library's own mending makes of it has a
# hole beside its shell.
HAIRS = np.array([
    11.563259844803099 - 3.059425685421281j, 11.563259844803099 - 3.059425685421281j,
    7.8406932477675815 - 21.31347780737649j, 11.563259844803099 - 3.059425685421282j,
    7.840693247767583 - 21.31347780737649j, -23.135355227621822 + 33.28262119591213j,
])  # fmt: skip


def test_an_area_that_folds_over_by_the_last_digit_is_mended_to_what_it_encloses() -> None:
    """The triangle's area by the cross product of two sides."""
    a, b, c = HAIRS[0], HAIRS[2], HAIRS[5]
    mended = valid(polygon(HAIRS))
    assert shapely.is_valid(mended)
    assert mended.area == pytest.approx(abs(((b - a).conjugate() * (c - a)).imag) / 2.0, rel=1e-9)


def test_mending_leaves_an_area_alone_that_is_sound() -> None:
    square = shapely.box(0.0, 1.0, 2.0, 3.0)
    assert valid(square) is square
