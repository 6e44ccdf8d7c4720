"""Limits of unified threads against the printed tables of ASME B1.1, every figure of them."""

from __future__ import annotations

import pytest

from calc.language.limited import Limited
from calc.language.problems import OutOfRange
from calc.threads.designation import read_designation
from calc.threads.sizes import Sizes
from calc.threads.tables import table
from calc.threads.unified import unified_sizes

INCH = 25.4

# ASME B1.1-2019, tables of limits, classes 2A and 2B [in], as the package of thread data screw-thread-lib lists them:
# d max, d min, d2 max, d2 min, d1 max (flat root), d1 min, D1 min, D1 max, D2 min, D2 max.
SECOND = {
    "10-24 UNC": (0.1890, 0.1818, 0.1619, 0.1586, 0.1439, 0.1315, 0.145, 0.155, 0.1629, 0.1672),
    "10-32 UNF": (0.1891, 0.1831, 0.1688, 0.1658, 0.1553, 0.1455, 0.156, 0.164, 0.1697, 0.1736),
    "1/4-20 UNC": (0.2489, 0.2408, 0.2164, 0.2127, 0.1948, 0.1802, 0.196, 0.207, 0.2175, 0.2224),
    "1/4-28 UNF": (0.2490, 0.2425, 0.2258, 0.2225, 0.2103, 0.1993, 0.211, 0.220, 0.2268, 0.2311),
    "1/2-13 UNC": (0.4985, 0.4876, 0.4485, 0.4435, 0.4152, 0.3935, 0.417, 0.434, 0.4500, 0.4565),
    "1/2-20 UNF": (0.4987, 0.4906, 0.4662, 0.4619, 0.4446, 0.4294, 0.446, 0.457, 0.4675, 0.4731),
    "3/4-10 UNC": (0.7482, 0.7353, 0.6832, 0.6773, 0.6399, 0.6123, 0.642, 0.663, 0.6850, 0.6927),
    "3/4-16 UNF": (0.7485, 0.7391, 0.7079, 0.7029, 0.6808, 0.6623, 0.682, 0.696, 0.7094, 0.7159),
    "1-8 UNC": (0.9980, 0.9830, 0.9168, 0.9101, 0.8627, 0.8289, 0.865, 0.890, 0.9188, 0.9276),
    "1-12 UNF": (0.9982, 0.9868, 0.9441, 0.9382, 0.9080, 0.8841, 0.910, 0.928, 0.9459, 0.9535),
    "1-14 UNS": (0.9984, 0.9881, 0.9520, 0.9467, 0.9211, 0.9003, 0.923, 0.938, 0.9536, 0.9605),
}


def sizes(text: str, *, outside: bool) -> Sizes:
    return unified_sizes(read_designation(text), outside=outside)


def inches(*found: float | Limited) -> list[float]:
    """Upper and lower limits, in."""
    return [round(end / INCH, 6) for size in found if isinstance(size, Limited) for end in (size.upper, size.lower)]


@pytest.mark.parametrize("text", SECOND)
def test_limits_of_2a_and_2b_are_those_printed_to_the_last_figure(text: str) -> None:
    outside, inside = sizes(f"{text}-2A", outside=True), sizes(f"{text}-2B", outside=False)
    d1_low, d1_high = SECOND[text][6:8]
    assert inches(outside.major, outside.pitch, outside.minor) == list(SECOND[text][:6])
    assert inches(inside.minor) == [d1_high, d1_low]
    assert inches(inside.pitch) == [SECOND[text][9], SECOND[text][8]]


# The same tables, from memory: d max, d min, d2 max, d2 min of the class; D1 min, D1 max, D2 min, D2 max.
OTHERS = {
    ("0-80 UNF", "2A"): (0.0595, 0.0563, 0.0514, 0.0496),
    ("4-40 UNC", "2A"): (0.1112, 0.1061, 0.0950, 0.0925),
    ("3/8-16 UNC", "2A"): (0.3737, 0.3643, 0.3331, 0.3287),
    ("5/8-11 UNC", "2A"): (0.6234, 0.6113, 0.5644, 0.5589),
    ("1 1/2-6 UNC", "2A"): (1.4976, 1.4794, 1.3893, 1.3812),
    ("1/4-20 UNC", "1A"): (0.2489, 0.2367, 0.2164, 0.2108),
    ("1/4-20 UNC", "3A"): (0.2500, 0.2419, 0.2175, 0.2147),
    ("1/2-13 UNC", "3A"): (0.5000, 0.4891, 0.4500, 0.4463),
}


@pytest.mark.parametrize(("text", "written"), OTHERS)
def test_limits_of_the_other_classes_are_those_printed(text: str, written: str) -> None:
    found = sizes(f"{text}-{written}", outside=True)
    assert inches(found.major, found.pitch) == list(OTHERS[text, written])


@pytest.mark.parametrize(
    ("text", "minor", "pitch"),
    [
        ("1/4-20 UNC-3B", (0.2067, 0.1960), (0.2211, 0.2175)),
        ("1/2-13 UNC-3B", (0.4284, 0.4170), (0.4548, 0.4500)),
        ("4-40 UNC-2B", (0.0939, 0.0849), (0.0991, 0.0958)),
        ("0-80 UNF-2B", (0.0514, 0.0465), (0.0542, 0.0519)),
    ],
)
def test_limits_of_other_inside_classes(text: str, minor: tuple[float, float], pitch: tuple[float, float]) -> None:
    """ASME B1.1, from memory; 3B's minor diameter is printed with four decimals."""
    found = sizes(text, outside=False)
    assert inches(found.minor) == pytest.approx(minor, abs=6e-4 if text.endswith("3B") else 1e-9)
    assert inches(found.pitch) == list(pitch)


SERIES = [(size, tpi, name) for name in ("UNC", "UNF", "UNEF") for size, tpi in table("unified")[name].items()]


@pytest.mark.parametrize(("size", "tpi", "name"), SERIES)
def test_every_standard_size_follows_the_formulas_and_fits(size: str, tpi: float, name: str) -> None:
    """No. 0 to 4 in, UNC, UNF, UNEF. ASME B1.1: Td2 = 0.0015 (D^(1/3) + Le^(1/2) + 10 P^(2/3)), TD2 = 1.3 Td2."""
    text = f"{size}-{tpi:g} {name}"
    found = read_designation(text)
    outside, inside = sizes(text, outside=True), sizes(text, outside=False)
    D, P = found.diameter / INCH, 1.0 / tpi
    engaged = 9.0 * P if name == "UNEF" else D
    second = 0.0015 * (D ** (1 / 3) + engaged**0.5 + 10.0 * P ** (2 / 3))
    upper, lower = inches(outside.pitch)
    assert upper == pytest.approx(D - 0.64951905 * P - 0.3 * second, abs=1.01e-4)
    assert upper - lower == pytest.approx(second, abs=1.01e-4)
    D2_max, D2_min = inches(inside.pitch)
    assert D2_max - D2_min == pytest.approx(1.3 * second, abs=1.01e-4)
    assert upper < D2_min + 1e-9
    assert not found.own


def test_wider_classes_hold_the_narrower_ones() -> None:
    spans = [sizes(f"3/4-10 UNC-{written}", outside=True).pitch for written in ("3A", "2A", "1A")]
    widths = [span.upper - span.lower for span in spans if isinstance(span, Limited)]
    assert widths == sorted(widths)
    assert len(widths) == 3


@pytest.mark.parametrize("text", ["1/2-13 UNC-4A", "1/2-13 UNC-2C", "1/2-13 UNC-6g", "1/2-13 UNC-2A-3A"])
def test_a_class_that_does_not_exist_is_refused(text: str) -> None:
    with pytest.raises(OutOfRange):
        sizes(text, outside=True)
