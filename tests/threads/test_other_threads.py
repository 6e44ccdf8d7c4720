"""Trapezoidal, Acme, pipe and round threads against rows of their standards."""

from __future__ import annotations

import math

import pytest

from calc.language.limited import Limited
from calc.language.problems import OutOfRange
from calc.threads.designation import read_designation
from calc.threads.drills import tap_drill
from calc.threads.metric import FACTORS, basic_tolerance
from calc.threads.series import beside
from calc.threads.tables import preferred, span, table
from calc.threads.thread import thread_of
from calc.threads.trapezoidal import INSIDE_FACTORS

INCH = 25.4


def limits(size: float | Limited) -> tuple[float, float]:
    assert isinstance(size, Limited)
    return size.upper, size.lower


def middle(size: float | Limited) -> float:
    return size.value if isinstance(size, Limited) else size


# ISO 2904 (DIN 103-4), from memory: d2, D4, d3, D1. Sizes and pitches agree with a published list.
TRAPEZOIDAL = {
    "Tr 8x1.5": (7.25, 8.3, 6.2, 6.5),
    "Tr 10x2": (9.0, 10.5, 7.5, 8.0),
    "Tr 16x4": (14.0, 16.5, 11.5, 12.0),
    "Tr 20x4": (18.0, 20.5, 15.5, 16.0),
    "Tr 24x5": (21.5, 24.5, 18.5, 19.0),
    "Tr 30x6": (27.0, 31.0, 23.0, 24.0),
    "Tr 40x7": (36.5, 41.0, 32.0, 33.0),
    "Tr 60x9": (55.5, 61.0, 50.0, 51.0),
    "Tr 100x12": (94.0, 101.0, 87.0, 88.0),
}


@pytest.mark.parametrize("text", TRAPEZOIDAL)
def test_trapezoidal_sizes_are_those_of_iso_2904(text: str) -> None:
    outside, inside = thread_of(text, "outside").sizes, thread_of(text, "inside").sizes
    found = (outside.basic.pitch, middle(inside.major), middle(outside.minor), middle(inside.minor))
    assert found == pytest.approx(TRAPEZOIDAL[text])
    assert thread_of(text.split("x", maxsplit=1)[0]).named.pitch == outside.pitch_length


@pytest.mark.parametrize(
    ("text", "upper", "lower"),
    [("Tr 40x7-7e", 36.375, 36.020), ("Tr 20x4-7e", 17.905, 17.640), ("Tr 30x6-7e", 26.882, 26.547)],
)
def test_limits_of_7e_are_those_of_iso_2903(text: str, upper: float, lower: float) -> None:
    """ISO 2903 (DIN 103-8), from memory."""
    sizes = thread_of(text).sizes
    assert limits(sizes.pitch) == pytest.approx((upper, lower))
    assert limits(sizes.major)[0] == thread_of(text).named.diameter


def test_the_table_of_trapezoidal_tolerances_is_within_one_step_of_its_formula() -> None:
    """ISO 2903: the formula of ISO 965-1 with its factors, in the R40 series, smoothed in places."""
    for row in table("power")["trapezoidal"]["range"]:
        wide = span(table("metric")["range"], row["to"])
        assert wide is not None
        for pitch, values in row["outside"].items():
            for grade, value in zip((7, 8, 9), values, strict=True):
                assert value == pytest.approx(FACTORS[grade] * basic_tolerance(wide, float(pitch)), rel=0.065)
    assert INSIDE_FACTORS[7] == pytest.approx(1.7)
    assert preferred(1.7 * basic_tolerance({"over": 22.4, "to": 45.0}, 7.0)) == 475


def test_more_starts_widen_the_tolerance() -> None:
    """ISO 2903: 1.12 for two starts, 1.25 for three, 1.4 for four, 1.6 for more."""
    widths = []
    for lead in (7, 14, 21, 28, 35):
        upper, lower = limits(thread_of(f"Tr 40x{lead} P7-7e").sizes.pitch)
        widths.append(upper - lower)
    assert [round(width / widths[0], 2) for width in widths] == [1.0, 1.12, 1.25, 1.4, 1.6]


def test_acme_limits_are_those_of_the_printed_table() -> None:
    """ASME B1.5, 1-5 class 2G: Machinery's Handbook, table of limiting dimensions, from memory."""
    outside, inside = thread_of("ACME 1-5-2G", "outside").sizes, thread_of("ACME 1-5-2G", "inside").sizes
    rows = (outside.major, outside.pitch, outside.minor, inside.minor, inside.pitch, inside.major)
    found = [round(end / INCH, 4) for size in rows for end in limits(size)]
    assert found[:6] == [1.0, 0.99, 0.892, 0.8726, 0.78, 0.7509]
    assert found[6:] == [0.81, 0.8, 0.9194, 0.9, 1.04, 1.02]


@pytest.mark.parametrize(("text", "pitch", "core"), [("ACME 1/2-10", 0.45, 0.4), ("ACME 3/4-6", 2 / 3, 0.58333)])
def test_acme_basic_sizes(text: str, pitch: float, core: float) -> None:
    """E = D - P/2, K = D - P (ASME B1.5)."""
    basic = thread_of(text).sizes.basic
    assert (basic.pitch / INCH, basic.minor / INCH) == pytest.approx((pitch, core), abs=1e-5)


def test_acme_sizes_have_the_usual_threads_per_inch() -> None:
    """Published list of general-purpose Acme screws."""
    usual = {
        "1/4": 16, "5/16": 14, "3/8": 12, "1/2": 10, "5/8": 8, "3/4": 6, "7/8": 6, "1": 5, "1 1/4": 5, "1 1/2": 4,
        "1 3/4": 4, "2": 4, "2 1/2": 3, "3": 2,
    }  # fmt: skip
    assert {size: thread_of(f"ACME {size}").named.per_inch for size in usual} == usual


# ISO 228-1: major, pitch, minor diameter as a published table has them.
PARALLEL = {
    "1/8": (9.728, 9.147, 8.566), "1/4": (13.157, 12.301, 11.445), "3/8": (16.662, 15.806, 14.950),
    "1/2": (20.955, 19.793, 18.631), "3/4": (26.441, 25.279, 24.117), "1": (33.249, 31.770, 30.291),
    "1 1/4": (41.910, 40.431, 38.952), "1 1/2": (47.803, 46.324, 44.845), "2": (59.614, 58.135, 56.656),
    "2 1/2": (75.184, 73.705, 72.226), "3": (87.884, 86.405, 84.926), "4": (113.030, 111.551, 110.072),
    "6": (163.830, 162.351, 160.872),
}  # fmt: skip


@pytest.mark.parametrize("size", PARALLEL)
def test_parallel_pipe_threads_are_those_of_iso_228(size: str) -> None:
    assert tuple(thread_of(f"G {size}").sizes.basic) == pytest.approx(PARALLEL[size], abs=6e-4)


def test_classes_of_pipe_threads() -> None:
    """ISO 228-1, G 1/2: pitch diameter -0.142 (A), -0.284 (B), inside +0.142; minor +0.541, major -0.284."""
    widths = [limits(thread_of(f"G 1/2 {letter}").sizes.pitch) for letter in "AB"]
    assert widths == [pytest.approx((19.793, 19.651)), pytest.approx((19.793, 19.509))]
    inside = thread_of("G 1/2", "inside").sizes
    assert limits(inside.pitch) == pytest.approx((19.935, 19.793))
    assert limits(inside.minor) == pytest.approx((19.172, 18.631))
    assert limits(thread_of("G 1/2 A").sizes.major) == pytest.approx((20.955, 20.671))


# ASME B1.20.1 [in], printed tables: threads per inch, E0, E1, L1, L2.
NPT = {
    "1/8": (27, 0.36351, 0.37360, 0.1615, 0.2639),
    "1/4": (18, 0.47739, 0.49163, 0.2278, 0.4018),
    "3/8": (18, 0.61201, 0.62701, 0.240, 0.4078),
    "1/2": (14, 0.75843, 0.77843, 0.320, 0.5337),
    "1": (11.5, 1.21363, 1.23863, 0.400, 0.6828),
    "1 1/4": (11.5, 1.55713, 1.58338, 0.420, 0.7068),
    "1 1/2": (11.5, 1.79609, 1.82234, 0.420, 0.7235),
    "2": (11.5, 2.26902, 2.29627, 0.436, 0.7565),
}


@pytest.mark.parametrize("size", NPT)
def test_taper_pipe_threads_are_those_of_b1_20_1(size: str) -> None:
    per_inch, end, gauge, hand_tight, effective = NPT[size]
    thread = thread_of(f"NPT {size}")
    assert thread.plane is not None
    assert thread.named.per_inch == per_inch
    found = (thread.plane.end_pitch, middle(thread.sizes.pitch), thread.plane.length.value, thread.plane.useful)
    assert [value / INCH for value in found] == pytest.approx([end, gauge, hand_tight, effective], abs=1.1e-5)
    assert thread.plane.length.upper - thread.plane.length.lower == pytest.approx(2 * thread.named.pitch)
    assert (0.8 * thread.named.diameter / INCH + 6.8) / per_inch == pytest.approx(effective, abs=6e-5)


@pytest.mark.parametrize(
    ("size", "gauge", "slack", "useful"),
    [
        ("1/8", 4.0, 0.907, 6.5),
        ("1/2", 8.2, 1.814, 13.2),
        ("1", 10.4, 2.309, 16.8),
        ("2", 15.9, 2.309, 23.4),
        ("3", 20.6, 3.464, 29.8),
    ],
)
def test_the_gauge_plane_of_r_threads(size: str, gauge: float, slack: float, useful: float) -> None:
    """ISO 7-1, from memory; one turn, above 2 in one and a half."""
    outside, inside = thread_of(f"R {size}"), thread_of(f"Rc {size}")
    assert outside.plane is not None
    assert inside.plane is not None
    assert (outside.plane.length.value, outside.plane.useful) == pytest.approx((gauge, useful))
    assert outside.plane.length.upper - gauge == pytest.approx(slack, abs=1e-3)
    assert outside.plane.end_pitch == pytest.approx(middle(outside.sizes.pitch) - gauge / 16)
    assert inside.plane.end_pitch == middle(inside.sizes.pitch)


def test_a_parallel_inside_thread_goes_with_r() -> None:
    """ISO 7-1: diameters of Rp within the position tolerance on the cone, 1/8: 0.071 (from memory)."""
    upper, lower = limits(thread_of("Rp 1/8").sizes.pitch)
    assert (upper - 9.147, 9.147 - lower) == pytest.approx((0.071, 0.071), abs=1e-3)


def test_round_threads_are_those_of_din_405() -> None:
    """DIN 405, Rd 40x1/6, from memory: 37.883, 35.767, 40.423, 36.190."""
    outside, inside = thread_of("Rd 40x1/6", "outside").sizes, thread_of("Rd 40x1/6", "inside").sizes
    found = (outside.pitch, outside.minor, inside.major, inside.minor)
    assert found == pytest.approx((37.883, 35.767, 40.423, 36.190), abs=6e-4)
    assert "No limits are given" in outside.notes[0].say()
    assert [thread_of(f"Rd {d}").named.per_inch for d in (10, 20, 50, 120)] == [10, 8, 6, 4]


@pytest.mark.parametrize(
    ("text", "name"),
    [("NPT 1/8", "R"), ("NPT 1/4", "7/16"), ("NPT 1/2", "23/32"), ("NPT 3/4", "59/64"), ("NPT 1", "1 5/32")],
)
def test_drills_of_taper_pipe_threads(text: str, name: str) -> None:
    """Tap-drill charts, hole not reamed, from memory."""
    drill = tap_drill(thread_of(text, "inside"))
    assert drill is not None
    assert drill.name == name


@pytest.mark.parametrize(
    "text", ["Tr 40x7-6e", "Tr 40x7-7g", "ACME 1-5-5G", "G 1/2 C", "NPT 1/2-2A", "Rc 1/2-A", "Rd 40-7h"]
)
def test_classes_that_these_threads_do_not_have_are_refused(text: str) -> None:
    with pytest.raises(OutOfRange, match="is not a class of this thread"):
        thread_of(text)


def test_the_flats_of_a_trapezoidal_thread() -> None:
    """Flats of ISO 2901: 0.366 P at the crest, 0.366 P less 0.536 ac at the root."""
    sizes = thread_of("Tr 40x7").sizes
    assert sizes.crest == pytest.approx(0.366 * 7.0, abs=2e-3)
    assert sizes.root == pytest.approx(0.366 * 7.0 - 0.536 * 0.5, abs=2e-3)
    assert math.degrees(sizes.alpha) == pytest.approx(15.0)


# Published list of standard trapezoidal sizes (ISO 2902), diameters above 100 with their pitches.
LARGE = {
    105: {4, 12, 20}, 110: {4, 12, 20}, 120: {6, 14, 22}, 130: {6, 14, 22}, 140: {6, 14, 24}, 150: {6, 16, 24},
    160: {6, 16, 28}, 170: {6, 16, 28}, 180: {8, 18, 28}, 190: {8, 18, 32}, 200: {8, 18, 32}, 210: {8, 20, 36},
    240: {8, 22, 36}, 250: {12, 22, 40}, 260: {12, 22, 40}, 280: {12, 24, 40}, 300: {12, 24, 44},
}  # fmt: skip


@pytest.mark.parametrize("diameter", LARGE)
def test_large_trapezoidal_threads_are_in_the_series_and_have_limits(diameter: int) -> None:
    found = thread_of(f"Tr {diameter}")
    assert set(table("power")["trapezoidal"]["pitches"][f"{diameter}"]) == LARGE[diameter]
    assert not found.named.own
    upper, lower = limits(found.sizes.pitch)
    assert lower < upper < diameter - found.named.pitch / 2 < diameter


def test_acme_nuts_of_fine_pitch_have_less_room_at_the_crest() -> None:
    """ASME B1.5: the nut's major diameter is D + 0.020 in, above 10 threads per inch D + 0.010 in."""
    assert limits(thread_of("ACME 1/4-16", "inside").sizes.major)[1] / INCH == pytest.approx(0.260)
    assert limits(thread_of("ACME 1/2-10", "inside").sizes.major)[1] / INCH == pytest.approx(0.520)


@pytest.mark.parametrize("text", ["M24x2-6g-LH", "1/2-13 UNC-2A", "Tr 40x14 P7-7e", "G 1/2 A", "NPT 3/4", "Rd 40x1/6"])
def test_threads_beside_one_are_of_its_kind_and_standard(text: str) -> None:
    own, found = read_designation(text), [read_designation(each) for each in beside(text)]
    assert len(found) > 5
    assert own.text not in beside(text)
    for each in found:
        assert not each.own
        assert (each.family, each.starts, each.left, each.classes) == (own.family, own.starts, own.left, own.classes)
