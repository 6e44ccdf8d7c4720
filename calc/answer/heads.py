"""A long working under heads, by what its steps work out: the table `data/heads.toml` says which head gathers what."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

from calc.language.tables import read_table
from calc.language.working import Step

FEW_STEPS = 6
"""A working of so few steps is seen at a glance; heads would only make it longer."""


class Head(NamedTuple):
    """A head, the names of formulas and modules that it gathers (without "calc."), and the places of its own."""

    title: str
    of: tuple[str, ...]
    where: tuple[str, ...]


class Headed(NamedTuple):
    """The steps under one head, in the order in which they ran; `title` is "" where the working is one list."""

    title: str
    steps: tuple[Step, ...]


@cache
def all_heads() -> tuple[Head, ...]:
    """The heads in the order of the work.

    >>> [head.title for head in all_heads()][:2]
    ['Dish', 'Crown']
    """
    listed = read_table(Path(__file__).parent / "data" / "heads.toml")["heads"]
    return tuple(Head(each["title"], tuple(each["of"]), tuple(each.get("where", ()))) for each in listed)


def headed(steps: Sequence[Step]) -> tuple[Headed, ...]:
    """A working as lists under their heads, in the order of the work; one list without a head where it is short.

    >>> headed(())
    ()
    """
    found: dict[Head, list[Step]] = {head: [] for head in all_heads()}
    for step in steps:
        found[head_of(step)].append(step)
    lists = tuple(Headed(head.title, tuple(under)) for head, under in found.items() if under)
    if len(lists) < 2 or len(steps) <= FEW_STEPS:
        return (Headed("", tuple(steps)),) if steps else ()
    return lists


def head_of(step: Step) -> Head:
    """The head that a step stands under: that of its place where one has it, else of its formula; KeyError for none."""
    return _head_of(step.formula.name.removeprefix("calc."), str(step.where))


@cache
def _head_of(name: str, where: str) -> Head:
    placed = [head for head in all_heads() for place in head.where if where.startswith(place)]
    fitting = ((each, head) for head in all_heads() for each in head.of if _is_in(name, each))
    by_length = sorted(fitting, key=lambda found: len(found[0]))
    if not placed and not by_length:
        raise KeyError(name)
    return placed[0] if placed else by_length[-1][1]


def _is_in(name: str, gathered: str) -> bool:
    return f"{name}.".startswith(f"{gathered}.")
