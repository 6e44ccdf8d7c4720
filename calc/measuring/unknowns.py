"""What is solved for: the causes of each tool, and those that all tools of a clamping share, as columns."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from calc.measuring.causes import ANYTHING, CAUSES
from calc.measuring.student import NORMAL_95

Floats = NDArray[np.float64]
OWN = [index for index, cause in enumerate(CAUSES) if not cause.shared]
SHARED = [index for index, cause in enumerate(CAUSES) if cause.shared]


class Unknowns:
    """The columns of the tools of a clamping, by their tool points (0 to 9): the own causes of each, then the shared.

    >>> Unknowns((3, 2)).table.tolist()
    [[0, 1, 2, 3, 10, 4, 11], [5, 6, 7, 8, 10, 9, 11]]
    """

    def __init__(self, tool_points: tuple[int, ...]) -> None:
        self.tool_points = tool_points
        self.count = len(OWN) * len(tool_points) + len(SHARED)

    @cached_property
    def table(self) -> NDArray[np.int_]:
        """The column of each cause, in the order of `CAUSES`, a row for each tool."""
        tools = len(self.tool_points)
        columns = np.empty((tools, len(CAUSES)), dtype=int)
        columns[:, OWN] = np.arange(len(OWN) * tools).reshape(tools, len(OWN))
        columns[:, SHARED] = np.arange(len(OWN) * tools, self.count)
        return columns

    @cached_property
    def plausible(self) -> Floats:
        """What is known of each beforehand, half width at 95 %; lengths in mm."""
        return self._each([cause.plausible or ANYTHING for cause in CAUSES])

    @cached_property
    def useful(self) -> Floats:
        """The half width of each with which a setter can work; lengths in mm."""
        return self._each([cause.useful for cause in CAUSES])

    def before(self, free: NDArray[np.bool_]) -> Floats:
        """Standard deviations (lengths in mm) of what is known beforehand, nothing of those that are `free`."""
        known: Floats = np.where(free, ANYTHING, self.plausible) / NORMAL_95
        return known

    def _each(self, values: list[float]) -> Floats:
        spread_out = np.empty(self.count)
        spread_out[self.table] = values
        return spread_out
