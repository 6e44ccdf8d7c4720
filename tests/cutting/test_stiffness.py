"""Beams under the cut: handbook values, a beam solved by finite differences, roots of the frequency equations."""

from __future__ import annotations

from math import cos, cosh, pi, sin, sinh, tan, tanh

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.linalg import eigh
from scipy.optimize import brentq, minimize_scalar

from calc.cutting.stiffness import (
    BARS,
    ROOTS,
    WORK,
    Beam,
    Elastic,
    Held,
    deflection,
    diameter_of_sunk_edge,
    second_moment_of_tube,
    weakest_place,
)
from calc.language.kinds import INERTIA
from calc.language.problems import OutOfRange

HELD: tuple[Held, ...] = ("chuck", "tailstock", "centres")
STEEL = Elastic("steel", "steel", 210_000.0, 7.85e-6)
CARBIDE = Elastic("carbide", "carbide", 600_000.0, 14.5e-6)


@pytest.mark.parametrize(("material", "wanted"), [(STEEL, 0.0517380), (CARBIDE, 0.0181083)])
def test_a_bar_bends_as_the_handbook_formula_says(material: Elastic, wanted: float) -> None:
    """F L^3/(3 E I), d 20, L 80, F 500: beam tables of handbooks of mechanics, computed at 30 digits."""
    bar = Beam(80.0, 20.0, material)
    assert deflection(bar, 500.0, 80.0, "chuck", bar.section()) == pytest.approx(wanted, abs=5e-8)


@pytest.mark.parametrize(("held", "wanted"), [("centres", 0.0336836), ("tailstock", 0.0147366)])
def test_supported_work_bends_in_the_middle_as_the_handbook_formula_says(held: Held, wanted: float) -> None:
    """F L^3/(48 E I) and 7 F L^3/(768 E I), d 30, L 300, F 500: beam tables of handbooks, computed at 30 digits."""
    work = Beam(300.0, 30.0, STEEL)
    assert deflection(work, 500.0, 150.0, held, work.section()) == pytest.approx(wanted, abs=5e-8)


def test_a_steel_rod_rings_at_the_handbook_frequency() -> None:
    """Rod d 25, L 100, E 210 GPa, 7850 kg/m3: 1808.946 Hz, first bending mode of a cantilever at 30 digits."""
    rod = Beam(100.0, 25.0, STEEL)
    assert rod.frequency("chuck", rod.section()) / 60 == pytest.approx(1808.946, abs=5e-3)


def _differences(beam: Beam, held: Held, cells: int) -> tuple[np.ndarray, np.ndarray]:
    """Stiffness and mass matrices of two-node beam elements (Hermite), clamped and supported as held."""
    length = beam.length / cells
    rigidity = beam.material.modulus * second_moment_of_tube.function(beam.diameter, beam.bore)
    mass = beam.material.density * float(INERTIA) * pi * (beam.diameter**2 - beam.bore**2) / 4 * length / 420
    h = length
    one = rigidity / h**3 * np.array(
        [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h**2, -6 * h, 2 * h**2],
         [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h**2, -6 * h, 4 * h**2]]
    )  # fmt: skip
    heavy = mass * np.array(
        [[156, 22 * h, 54, -13 * h], [22 * h, 4 * h**2, 13 * h, -3 * h**2],
         [54, 13 * h, 156, -22 * h], [-13 * h, -3 * h**2, -22 * h, 4 * h**2]]
    )  # fmt: skip
    size = 2 * (cells + 1)
    stiff, masses = np.zeros((size, size)), np.zeros((size, size))
    for cell in range(cells):
        span = slice(2 * cell, 2 * cell + 4)
        stiff[span, span] += one
        masses[span, span] += heavy
    fixed = {"chuck": [0, 1], "tailstock": [0, 1, size - 2], "centres": [0, size - 2]}[held]
    free = [index for index in range(size) if index not in fixed]
    return stiff[np.ix_(free, free)], masses[np.ix_(free, free)]


@pytest.mark.parametrize("held", HELD)
@pytest.mark.parametrize("bore", [0.0, 12.0])
def test_the_deflection_along_the_work_is_that_of_a_beam_of_finite_elements(held: Held, bore: float) -> None:
    """An independent model: 20 Hermite elements, which are exact at their nodes."""
    work = Beam(240.0, 30.0, STEEL, bore)
    stiff, _ = _differences(work, held, 20)
    first = 1 if held == "centres" else 0
    for node in range(1, 20):
        force = np.zeros(len(stiff))
        place = 2 * (node - 1) + first
        force[place] = 400.0
        assert deflection(work, 400.0, 12.0 * node, held, work.section()) == pytest.approx(
            np.linalg.solve(stiff, force)[place], rel=1e-9
        )


@pytest.mark.parametrize("held", HELD)
def test_the_frequency_is_that_of_a_beam_of_finite_elements(held: Held) -> None:
    work = Beam(240.0, 30.0, STEEL, 12.0)
    lowest = eigh(*_differences(work, held, 30), eigvals_only=True)[0] ** 0.5 / (2 * pi)
    assert work.frequency(held, work.section()) == pytest.approx(lowest, rel=1e-6)


def test_the_roots_are_those_of_the_frequency_equations() -> None:
    """Equations cos x cosh x = -1 held at one end, tan x = tanh x clamped and supported: solved by scipy."""
    assert ROOTS["chuck"] == pytest.approx(brentq(lambda x: cos(x) * cosh(x) + 1, 1.5, 2.5), abs=1e-9)
    assert ROOTS["tailstock"] == pytest.approx(brentq(lambda x: tan(x) - tanh(x), 3.8, 4.1), abs=1e-9)
    assert ROOTS["centres"] == pi
    assert sin(pi) * sinh(pi) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("held", HELD)
def test_the_weakest_place_is_where_the_deflection_is_largest(held: Held) -> None:
    work = Beam(200.0, 25.0, STEEL)
    found = minimize_scalar(
        lambda at: -deflection(work, 300.0, at, held, work.section()), bounds=(1.0, 200.0), method="bounded",
        options={"xatol": 1e-9},
    )  # fmt: skip
    assert weakest_place(work, held) == pytest.approx(found.x, abs=1e-4)


@given(
    st.floats(5.0, 100.0), st.floats(20.0, 500.0), st.floats(1.0, 5000.0), st.floats(0.05, 0.95), st.sampled_from(HELD)
)
def test_more_force_bends_more_and_more_diameter_bends_less(
    diameter: float, length: float, force: float, share: float, held: Held
) -> None:
    thin, thick = Beam(length, diameter, STEEL), Beam(length, 1.1 * diameter, STEEL)
    bent = deflection(thin, force, share * length, held, thin.section())
    assert bent > 0.0
    assert deflection(thin, 2 * force, share * length, held, thin.section()) == pytest.approx(2 * bent)
    assert deflection(thick, force, share * length, held, thick.section()) == pytest.approx(bent / 1.1**4)


@given(st.floats(5.0, 100.0), st.floats(20.0, 500.0), st.floats(0.05, 0.95))
def test_a_tailstock_stiffens_chucked_work_and_the_chuck_stiffens_work_on_a_centre(
    diameter: float, length: float, share: float
) -> None:
    work = Beam(length, diameter, STEEL)
    chuck, tailstock, centres = (deflection(work, 100.0, share * length, held, work.section()) for held in HELD)
    assert tailstock < chuck
    assert tailstock < centres


def test_scaling_force_and_size_alike_scales_the_deflection_so_inch_and_mm_agree() -> None:
    small, large = Beam(50.0, 10.0, STEEL), Beam(50.0 * 25.4, 254.0, STEEL)
    bent = deflection(small, 100.0, 50.0, "chuck", small.section())
    assert deflection(large, 100.0 * 25.4**2, 50.0 * 25.4, "chuck", large.section()) == pytest.approx(25.4 * bent)


def test_energy_of_bending_is_half_of_force_times_deflection() -> None:
    """Castigliano: the integral of M^2/(2 E I) along a cantilever is F delta/2."""
    bar = Beam(80.0, 20.0, STEEL)
    energy, _ = quad(lambda z: (500.0 * (80.0 - z)) ** 2 / (2 * 210_000.0 * bar.section()), 0.0, 80.0)
    assert deflection(bar, 500.0, 80.0, "chuck", bar.section()) * 500.0 / 2 == pytest.approx(energy)


@given(st.floats(1.0, 200.0), st.floats(1e-6, 1.0))
def test_a_sunk_edge_makes_the_diameter_that_pythagoras_says(diameter: float, sunk: float) -> None:
    assert (diameter + diameter_of_sunk_edge(diameter, sunk)) ** 2 == pytest.approx(diameter**2 + 4 * sunk**2)


def test_a_stiffer_bar_material_may_stick_out_farther() -> None:
    in_order = sorted(BARS.values(), key=lambda bar: bar.modulus)
    assert [bar.longest for bar in in_order] == sorted(bar.longest for bar in in_order)
    assert all(50_000.0 < one.modulus < 700_000.0 for one in (*BARS.values(), *WORK.values()))


@pytest.mark.parametrize("force", [0.0, -1.0, float("nan")])
def test_a_force_that_is_none_is_refused(force: float) -> None:
    bar = Beam(80.0, 20.0, STEEL)
    with pytest.raises(OutOfRange, match="force must be more than 0"):
        deflection(bar, force, 80.0, "chuck", bar.section())
