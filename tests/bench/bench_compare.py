"""What two inputs compared cost: field, whole answer, the page's plot (run as a script: it prints a table)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import radians
from time import perf_counter

import numpy as np

from calc.cutting.compare import SHOWN, Bar, Cuts, over
from calc.cutting.materials import material
from calc.cutting.stiffness import BARS, Beam
from calc.language.quantities import METRIC
from calc.questions.cutting.compare import FEATURE, solve
from calc.questions.cutting.compare_inputs import CompareInputs
from server.plots import draw_plot, plot_table
from server.query import read_query

SIDE = 200
PAIRS = {
    "feed and depth": ("feed", "depth"),
    "nose and depth": ("nose_radius", "depth"),
    "speed and nose": ("surface_speed", "nose_radius"),
}
RANGES = {"feed": (0.05, 0.5), "depth": (0.2, 4.0), "nose_radius": (0.2, 6.0), "surface_speed": (60_000.0, 300_000.0)}
SINGLE = {"surface_speed": 180_000.0, "feed": 0.2, "depth": 1.5, "nose_radius": 0.8}


def milliseconds(call: Callable[[], object], repeats: int = 15) -> float:
    """The median of several calls."""
    times = []
    for _ in range(repeats):
        start = perf_counter()
        call()
        times.append((perf_counter() - start) * 1000)
    return sorted(times)[repeats // 2]


def field(across: str, up: str) -> Callable[[], object]:
    """A call that computes every quantity over two inputs, 200 by 200."""
    values = {**SINGLE, across: np.linspace(*RANGES[across], SIDE), up: np.linspace(*RANGES[up], SIDE)[:, np.newaxis]}
    bar = Bar(Beam(80.0, 25.0, BARS["steel"]), 0.4)

    def compute() -> object:
        cuts = Cuts(material("C45"), **values, entering_angle=radians(95.0), diameter=60.0, length=100.0, bar=bar)  # type: ignore[arg-type]
        return [over(cuts, name, (SIDE, SIDE)) for name in SHOWN]

    return compute


def main() -> None:
    """Print the table."""
    for name, pair in PAIRS.items():
        print(f"{f'all {len(SHOWN)} quantities over {name}, {SIDE} x {SIDE}':60}{milliseconds(field(*pair)):8.1f} ms")
    asked: CompareInputs = read_query(list(FEATURE.example.items()), CompareInputs).inputs(CompareInputs)
    large = replace(asked, rest=replace(asked.rest, steps=float(SIDE)))
    print(f"{f'the whole answer, limits as lists, {SIDE} x {SIDE}':60}{milliseconds(lambda: solve(large)):8.1f} ms")
    print(f"{'the whole answer of the page, 61 x 61':60}{milliseconds(lambda: solve(asked)):8.1f} ms")
    (plot,) = solve(asked).plots
    print(f"{'its plot drawn':60}{milliseconds(lambda: draw_plot(plot, METRIC)):8.1f} ms")
    print(f"{'its table':60}{milliseconds(lambda: plot_table(plot, METRIC)):8.1f} ms")
    print(f"{'size of the plot':60}{len(draw_plot(plot, METRIC)) / 1000:8.1f} kB")


if __name__ == "__main__":
    main()
