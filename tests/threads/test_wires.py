"""Over wires: published values, the exact contact found by search, and from a measure back to its pitch diameter."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import minimize, minimize_scalar

from calc.language.limited import Limited
from calc.language.problems import Impossible
from calc.threads.checking import pitch_measured, verdict, wires_for
from calc.threads.thread import thread_of
from calc.threads.wires import (
    best_wire,
    contact_rest,
    exact_over_wires,
    largest_wire,
    over_wires_helix,
    over_wires_simple,
    smallest_wire,
)

INCH = 25.4
SIXTY = math.radians(30.0)


@pytest.mark.parametrize(
    ("major", "per_inch", "wire", "over", "last"),
    [
        (7 / 16, 14, 0.045, 0.464, 5e-4),  # technical school notes on three-wire measurement
        (0.5, 12, 0.04811, 0.51804, 1e-5),  # Ordnance OD 1645, p. 125; answer by the printed formula
        (0.5, 13, 0.0444116, 0.5166173, 5e-5),  # M = E + 3 w - 0.866025 P with E rounded to 0.4500
    ],
)
def test_over_three_wires_by_the_printed_formula(
    major: float, per_inch: int, wire: float, over: float, last: float
) -> None:
    """ASME B1.2 and Machinery's Handbook: M = D + 3 w - 1.5155 / N."""
    pitch = 1.0 / per_inch
    found = over_wires_simple(major - 0.6495190528 * pitch, wire, pitch, SIXTY)
    assert found == pytest.approx(over, abs=last)
    assert found == pytest.approx(major + 3.0 * wire - 1.5155 * pitch, abs=1e-4)


@pytest.mark.parametrize(
    ("basic", "pitch", "wire", "over"),
    [
        (9.025721, 1.5, 0.8660254, 10.3247595),
        (18.376202, 2.5, 1.4433757, 20.5412659),
        (27.726683, 3.5, 2.0207259, 30.7577722),
    ],
)
def test_over_three_wires_of_metric_threads(basic: float, pitch: float, wire: float, over: float) -> None:
    """M = E + 3 w - 0.866025 P with the best wire, computed with 30 digits from ASME B1.2's formula."""
    assert best_wire(pitch, SIXTY) == pytest.approx(wire, abs=1e-7)
    assert over_wires_simple(basic, wire, pitch, SIXTY) == pytest.approx(over, abs=2e-6)


def test_acme_over_wires() -> None:
    """Acme 1-5, E 0.900, best wire 0.10329: 1.0291518 without the helix (formula of ASME B1.5)."""
    alpha = math.radians(14.5)
    assert best_wire(0.2, alpha) == pytest.approx(0.1032900, abs=1e-7)
    assert over_wires_simple(0.9, 0.1032900, 0.2, alpha) == pytest.approx(1.0291518, abs=1e-6)


def test_best_and_extreme_wires_of_a_sixty_degree_thread() -> None:
    """Ordnance OD 1645, p. 123: 0.57735 / 8 = 0.072; handbooks: 0.505 P to 1.010 P."""
    assert best_wire(1 / 8, SIXTY) == pytest.approx(0.0721688, abs=1e-6)
    reach = 0.875 * 0.8660254
    assert (smallest_wire(reach, SIXTY), largest_wire(reach, SIXTY)) == pytest.approx((0.505, 1.010), abs=1e-3)


def brute(d2: float, wire: float, pitch: float, alpha: float, lead: float) -> float:
    """The wire laid into the helicoid by search: farthest out over all points of the flank, deepest over its tilt."""
    p, t = lead / (2 * math.pi), math.tan(alpha)
    tip = d2 / 2 - pitch / 4 / t

    def centre(tilt: float) -> float:
        def inward(spot: tuple[float, float]) -> float:
            r, turn = spot
            across = -r * math.sin(turn) * math.sin(tilt) + (p * turn + (r - tip) * t) * math.cos(tilt)
            rest = wire**2 / 4 - across**2
            return 1e3 + abs(across) if rest < 0 else -(r * math.cos(turn) + math.sqrt(rest))

        found = minimize(
            inward, [d2 / 2, 0.0], method="Nelder-Mead", options={"xatol": 1e-11, "fatol": 1e-13, "maxiter": 20000}
        )
        return float(-found.fun)

    start = math.atan(2 * p / d2)
    deepest = minimize_scalar(centre, bounds=(0.6 * start, 1.3 * start), method="bounded", options={"xatol": 1e-9})
    return float(2 * deepest.fun + wire)


@pytest.mark.parametrize(
    ("d2", "pitch", "degrees", "starts"),
    [
        (22.051443, 3.0, 30.0, 1),
        (36.5, 7.0, 15.0, 2),
        (36.5, 7.0, 15.0, 4),
        (22.86, 5.08, 14.5, 1),
        (9.03, 1.5, 30.0, 3),
    ],
)
def test_the_exact_contact_is_that_found_by_search(d2: float, pitch: float, degrees: float, starts: int) -> None:
    alpha = math.radians(degrees)
    wire = pitch / (2 * math.cos(alpha))
    exact = exact_over_wires(d2, wire, pitch, alpha, starts * pitch)
    assert exact == pytest.approx(brute(d2, wire, pitch, alpha, starts * pitch), abs=1e-8)


def test_the_formula_of_b1_2_is_good_to_a_tenth_of_a_micrometre_for_fastening_threads() -> None:
    for text in ("M6", "M10", "M24", "M64x2", "1/2-13 UNC"):
        thread = thread_of(text)
        P, d2 = thread.named.pitch, thread.sizes.basic.pitch
        assert abs(contact_rest(d2, best_wire.function(P, SIXTY), P, SIXTY, thread.lead)) < 1.5e-4
    assert abs(contact_rest(36.5, 3.6235, 7.0, math.radians(15.0), 14.0)) == pytest.approx(0.003, abs=5e-4)


def test_without_lead_the_helix_adds_nothing() -> None:
    assert exact_over_wires(22.0, 1.73, 3.0, SIXTY, 0.0) == pytest.approx(over_wires_simple(22.0, 1.73, 3.0, SIXTY))
    assert over_wires_helix(22.0, 1.73, 3.0, SIXTY, 0.0, 0.0) == pytest.approx(
        over_wires_simple(22.0, 1.73, 3.0, SIXTY), abs=1e-12
    )


THREADS = st.sampled_from(
    ["M5", "M24", "M24x1.5", "M64", "10-32", "1-8 UNC", "Tr 40x7", "Tr 40x21 P7", "ACME 1-5", "G 1"]
)


@given(THREADS, st.floats(0.0, 1.0), st.floats(-0.05, 0.05), st.sampled_from(["three", "two", "one"]))
def test_a_measure_leads_back_to_its_pitch_diameter(text: str, place: float, off: float, count: str) -> None:
    thread = thread_of(text)
    found = wires_for(thread, None, thread.sizes.pitch, count, None)
    assert found is not None
    wire = found.smallest + (0.02 + 0.96 * place) * (found.largest - found.smallest)
    pitch = thread.sizes.basic.pitch * (1.0 + off / 10.0)
    assume(abs(pitch - thread.sizes.basic.pitch) < 0.2 * thread.named.pitch)
    over = wires_for(thread, None, pitch, count, None)
    assert over is not None
    used = over.wire if not over.smallest < wire < over.largest else wire
    laid = wires_for(thread, used, pitch, count, None)
    assert laid is not None
    assert isinstance(laid.over, float)
    assert pitch_measured(thread, used, laid.over, count, None) == pytest.approx(pitch, abs=2e-6)


def test_one_wire_stands_half_way_between_three_and_the_crest() -> None:
    thread = thread_of("M20-6g")
    three, one = (wires_for(thread, None, 18.25, count, 19.8) for count in ("three", "one"))
    assert three is not None
    assert one is not None
    assert isinstance(three.over, float)
    assert one.over == pytest.approx((three.over + 19.8) / 2.0)


@pytest.mark.parametrize(("wire", "why"), [(0.5, "sinks below the crests"), (3.2, "rides on the crests")])
def test_a_wire_that_does_not_work_is_refused_with_the_range_that_does(wire: float, why: str) -> None:
    thread = thread_of("M24-6g")
    with pytest.raises(Impossible, match=why) as raised:
        wires_for(thread, wire, thread.sizes.pitch, "three", None)
    assert raised.value.faults[0].field == "wire"


def test_a_measure_that_cannot_be_is_refused_at_its_field() -> None:
    with pytest.raises(Impossible) as raised:
        pitch_measured(thread_of("M24-6g"), 1.7, 2.46, "three", None)
    assert raised.value.faults[0].field == "over_wires_measured"


def test_wires_are_for_outside_parallel_threads() -> None:
    for thread in (thread_of("M24-6H"), thread_of("NPT 1/2"), thread_of("R 1/2")):
        assert wires_for(thread, None, thread.sizes.pitch, "three", None) is None


def test_the_verdict_says_which_gauge_and_what_to_do() -> None:
    """Limits of M24-6g: 22.003 and 21.803 (ASME B1.13M in mm)."""
    span = Limited.between(21.803, 22.003, 22.051)
    words = {at: verdict(span, at, outside=True) for at in (22.01, 21.9, 21.79)}
    assert [found.word for found in words.values() if found] == ["too large", "in its limits", "too small"]
    inside = verdict(Limited.between(22.051, 22.316), 22.0, outside=False)
    assert inside is not None
    assert "GO plug will not go in" in inside.sentence.say()


def test_the_old_rules_for_whitworth_and_sharp_threads_are_the_same_formula() -> None:
    """An engineering textbook of 1914: m = d - 1.6008 p + 3.1657 w (Whitworth), m = d - 1.732 p + 3 w (sharp V)."""
    d, p, w = 1.0, 0.125, 0.07
    whitworth = over_wires_simple(d - 0.640327 * p, w, p, math.radians(27.5))
    assert whitworth == pytest.approx(d - 1.6008 * p + 3.1657 * w, abs=5e-6)
    assert over_wires_simple(d - 0.866025 * p, w, p, SIXTY) == pytest.approx(d - 1.732 * p + 3.0 * w, abs=1e-5)
