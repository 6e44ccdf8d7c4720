"""Work of several sections against closed beam formulas, the library's integrals and springs in series."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.cutting.sections import Section, Work
from calc.cutting.stiffness import Beam, Elastic, Held, deflection, weakest_place

E = 210_000.0
STEEL = Elastic("steel", "steel", E, 7.85e-6)
PLAIN = (Section(300.0, 30.0, 30.0),)


@pytest.mark.parametrize("held", ["chuck", "tailstock", "centres"])
@pytest.mark.parametrize("share", [0.2, 0.5, 0.8, 1.0])
def test_one_cylinder_gives_way_as_the_closed_formulas_say(held: Held, share: float) -> None:
    beam = Beam(300.0, 30.0, STEEL)
    if held != "chuck" and share == 1.0:
        return
    closed = deflection(beam, 500.0, 300.0 * share, held, beam.section())
    split = Work((Section(120.0, 30.0, 30.0), Section(180.0, 30.0, 30.0)), E)
    for work in (Work(PLAIN, E), split):
        assert 500.0 * work.compliance(300.0 * share, held) == pytest.approx(closed, rel=1e-9)


def test_a_step_is_the_sum_of_its_two_cantilevers() -> None:
    # handbooks of mechanics: F/(3E) (l2^3/I2 + ((l1+l2)^3 - l2^3)/I1) for a bar stepped at l1 from the clamp
    near, far = math.pi * 40.0**4 / 64, math.pi * 20.0**4 / 64
    wanted = (50.0**3 / far + (100.0**3 - 50.0**3) / near) / (3 * E)
    assert Work((Section(50.0, 40.0, 40.0), Section(50.0, 20.0, 20.0)), E).compliance(100.0, "chuck") == pytest.approx(
        wanted
    )


def test_a_taper_and_a_bore_are_those_that_a_library_integrates() -> None:
    work = Work((Section(80.0, 30.0, 20.0, 10.0),), E)

    def moment(x: float) -> float:
        return math.pi * ((30.0 - 10.0 * x / 80.0) ** 4 - 10.0**4) / 64

    wanted = quad(lambda x: (80.0 - x) ** 2 / (E * moment(x)), 0.0, 80.0)[0]
    assert work.compliance(80.0, "chuck") == pytest.approx(wanted, rel=1e-10)


def test_supports_that_yield_are_springs() -> None:
    stiff, soft = Work(PLAIN, E), Work(PLAIN, E, chuck=20_000.0, centre=10_000.0)
    assert soft.compliance(200.0, "chuck") == pytest.approx(stiff.compliance(200.0, "chuck") + 1 / 20_000.0)
    at_middle = stiff.compliance(150.0, "centres") + 0.25 / 20_000.0 + 0.25 / 10_000.0
    assert soft.compliance(150.0, "centres") == pytest.approx(at_middle)
    # a centre that yields altogether leaves the work in the chuck alone
    loose = Work(PLAIN, E, centre=1e-6)
    assert loose.compliance(150.0, "tailstock") == pytest.approx(stiff.compliance(150.0, "chuck"), rel=1e-6)
    assert stiff.compliance(150.0, "tailstock") < soft.compliance(150.0, "tailstock")


@pytest.mark.parametrize("held", ["chuck", "tailstock", "centres"])
def test_the_weakest_place_of_one_cylinder_is_the_known_one(held: Held) -> None:
    assert Work(PLAIN, E).weakest(held) == pytest.approx(weakest_place(Beam(300.0, 30.0, STEEL), held), abs=1.5)


@given(st.floats(10.0, 60.0), st.floats(10.0, 60.0), st.floats(0.1, 0.9))
def test_a_thicker_section_never_makes_it_weaker(first: float, second: float, share: float) -> None:
    thin = Work((Section(100.0, first, first), Section(100.0, second, second)), E)
    thick = Work((Section(100.0, first + 5, first + 5), Section(100.0, second, second)), E)
    assert thick.compliance(200.0 * share, "chuck") < thin.compliance(200.0 * share, "chuck")
