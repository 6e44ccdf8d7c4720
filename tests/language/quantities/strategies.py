"""Random fields: kinds, views and texts as people write them."""

from __future__ import annotations

from hypothesis import strategies as st

from calc.language.quantities import COUNT, KINDS, Kind, View
from calc.language.reading.units import UNITS, accepted

kinds = st.sampled_from(KINDS)
measured_kinds = st.sampled_from([kind for kind in KINDS if kind is not COUNT])
views = st.builds(
    View, st.sampled_from(["mm", "inch"]), st.sampled_from(["diameter", "radius"]), st.sampled_from(["out", "in"])
)

wholes = st.integers(0, 9999).map(str)
decimals = st.builds(
    "{}{}{}".format, st.integers(0, 9999), st.sampled_from([".", ","]), st.text("0123456789", min_size=1, max_size=6)
)
bare_decimals = st.text("0123456789", min_size=1, max_size=5).map(lambda digits: f".{digits}")
fractions = st.builds("{}/{}".format, st.integers(0, 99), st.sampled_from([2, 3, 4, 8, 16, 32, 64]))
mixed = st.builds(
    lambda whole, joint, part: f"{whole}{joint}{part}",
    st.integers(0, 99),
    st.sampled_from(["-", " "]),
    st.sampled_from(["1/2", "3/4", "1/16", "63/64", "2/3"]),
)
amounts = st.one_of(wholes, decimals, bare_decimals, fractions, mixed, st.just("1e3"), st.just("2.5e-3"))
limits = st.sampled_from(["", " ±0.05", " +0.1/0", " +.002/-.000", " 0/-0.02", " -0.1/-0.2", " +1/64 -0", "+0.1 -0.05"])


@st.composite
def texts_for(draw: st.DrawFn, kind: Kind) -> str:
    """A text that a field of `kind` may be given, most of them readable."""
    names = sorted({name for group in accepted(kind) for name in UNITS[group]})
    marks = {"x": ["", "Ø", "R", "X"], "z": ["", "Z"], "diameter": ["", "Ø", "D"], "radius": ["", "R"]}
    unit = draw(st.sampled_from(["", "", *names]))
    space = draw(st.sampled_from(["", " "]))
    mark = draw(st.sampled_from(marks.get(kind.name, [""])))
    sign = draw(st.sampled_from(["", "", "-", "+", "−"]))
    return f"{mark}{sign}{draw(amounts)}{space if unit else ''}{unit}{draw(limits)}"
