"""What a formula costs: the bare function, with its mark, recorded, and shown (run as a script: it prints a table)."""

from __future__ import annotations

import timeit
from collections.abc import Callable
from math import pi

from calc.language.quantities import Diameter, SpindleSpeed, SurfaceSpeed, View
from calc.language.working import formula, recording


def bare(v: SurfaceSpeed, D: Diameter) -> SpindleSpeed:
    """The function without its mark."""
    return v / (pi * D)


marked = formula(source="common practice", means="spindle speed at a surface speed", result="n")(bare)
placed = marked.at("at the mouth", D="D_m")


def nanoseconds(call: Callable[[], object], repeats: int = 7, number: int = 20_000) -> float:
    """The least time of one call, less the call of an empty function."""
    empty = min(timeit.repeat(lambda: None, repeat=repeats, number=number))
    return (min(timeit.repeat(call, repeat=repeats, number=number)) - empty) / number * 1e9


def main() -> None:
    """Print the table."""
    mouth = 56.20498198558558
    rows: list[tuple[str, Callable[[], object]]] = [
        ("the function alone", lambda: bare(220_000.0, mouth)),
        ("with its mark", lambda: marked(220_000.0, mouth)),
        ("with its mark, at a place", lambda: placed(220_000.0, mouth)),
    ]
    for name, call in rows:
        print(f"{name:40}{nanoseconds(call):10.0f} ns")
    with recording() as steps:
        print(f"{'recorded':40}{nanoseconds(rows[1][1], number=2000):10.0f} ns")
    typed, computed = steps[0]._replace(arguments=(220_000.0, 56.2)), steps[0]
    for name, step in (("typed numbers", typed), ("a computed number", computed)):
        for view in (View(), View("inch")):
            plain = nanoseconds(lambda step=step, view=view: step.plain(view), number=2000)  # type: ignore[misc]
            markup = nanoseconds(lambda step=step, view=view: step.mathml(view), number=2000)  # type: ignore[misc]
            print(f"{f'shown, {name}, {view.units}':40}{plain:10.0f} ns{markup:10.0f} ns as MathML")


if __name__ == "__main__":
    main()
