"""Random ways of cutting a dish: nose, tool point, where speed and feed are held, allowances."""

from __future__ import annotations

from hypothesis import strategies as st

from calc.machining.passes import Referral

numbers = st.integers(0, 9)
speeds = st.floats(1_000.0, 600_000.0)
limits = st.none() | st.floats(50.0, 10_000.0)
feeds = st.floats(0.01, 0.6)
run_ins = st.sampled_from([0.0, 0.5, 2.0])
nose_shares = st.floats(0.002, 0.6)


def referrals(nose: float | None) -> st.SearchStrategy[Referral]:
    """Any tool point, speed held at the contact or the point, feed along the contour or the path of the nose centre."""
    return st.builds(
        Referral, st.just(nose), numbers, st.sampled_from(["contact", "point"]), st.sampled_from(["contour", "centre"])
    )
