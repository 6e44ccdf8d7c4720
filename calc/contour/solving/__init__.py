"""Solving a contour whose print leaves values out."""

from calc.contour.solving.given import GivenCorner, GivenElement, Start
from calc.contour.solving.solution import Choice, Solution, Solutions, Solved
from calc.contour.solving.solver import solve
from calc.contour.solving.undergiven import UnderGiven

__all__ = ["Choice", "GivenCorner", "GivenElement", "Solution", "Solutions", "Solved", "Start", "UnderGiven", "solve"]
