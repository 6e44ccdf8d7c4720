"""Chamfers, threads, undercuts and grooves of a contour: how they are listed and what is warned of."""

from __future__ import annotations

import pytest

from tests.questions.shapes.test_contour import solved


def test_a_chamfer_on_a_taper_is_given_both_ways() -> None:
    """Face to a taper 1:10 of 22 from Ø22, sharp Ø19.8: 1x45° begins at X17.9, equal legs of 1 at X17.8 (by hand)."""
    printed, equal = (solved(f"s_x0_z0*f*c{text}*l_x22_z-22_tp1:10").notes for text in ("1x45°", "1"))
    assert [note.say() for note in printed] == [
        "The chamfer after 1 is 1 mm long along Z, at 45° to it: it begins at X17.900 Z0.000. Equal legs of 1 mm along "
        "both elements, typed without an angle, would begin at X17.800 Z0.000."
    ]
    assert "it begins at X17.800 Z0.000" in equal[0].say()
    assert "would begin at X17.900 Z0.000" in equal[0].say()
    assert not solved("s_x0_z0*f_x20*c1*t_z-9").notes, "on a cylinder both are the same"


def test_threads_undercuts_and_grooves_are_listed_with_what_they_are_turned_to() -> None:
    """ISO 965-2: M24x2-6g 23.682 to 23.962; DIN 76-1: bottom Ø21; DIN 509 F 0.8 x 0.3 on Ø31: bottom Ø30.4."""
    text = "s_x0_z0*f*c1x45°*t_xM24x2-6g_z-30*vA*f_x31*t_z-40*g_w3_dep2*t_z-60*uF 0.8x0.3*f_x40"
    rows = solved(text).tables["callouts"]
    assert [(row.number, row.name) for row in rows] == [
        ("2", "M24x2-6g"),
        ("after 2", "DIN 76 - A for M24x2"),
        ("5-7", "groove"),
        ("after 8", "DIN 509 - F 0.8 x 0.3"),
    ]
    assert (rows[0].diameter.lower, rows[0].diameter.upper) == pytest.approx((23.682, 23.962))
    assert [row.diameter for row in rows[1:]] == pytest.approx([21.0, 27.0, 30.4])
    assert (rows[2].from_z, rows[2].to_z) == pytest.approx((-40.0, -43.0))


def test_an_undercut_on_an_outside_corner_is_warned_of() -> None:
    outside = solved("s_x24_z0*t_z-60*uF 0.8x0.3*f_x15")
    assert any("stands on an outside corner" in caution.message.say() for caution in outside.cautions)
    assert not solved("s_x24_z0*t_z-60*uF 0.8x0.3*f_x31").cautions


def test_the_smallest_inside_radius_counts_fillets_and_undercuts() -> None:
    assert solved("s_x20_z0*t_z-20*e2*f_x40").results.smallest_concave_radius == pytest.approx(2.0)
    assert solved("s_x24_z0*t_z-60*uF 0.8x0.3*f_x31").results.smallest_concave_radius == pytest.approx(0.8)
