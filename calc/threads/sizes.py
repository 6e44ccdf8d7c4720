"""What is known of a thread on one side, outside or inside: its three diameters with limits, depth, roots, class."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import radians
from typing import NamedTuple

from calc.language.limited import Limited
from calc.language.messages import Message, Value
from calc.language.problems import Fault, OutOfRange
from calc.threads import profile
from calc.threads.designation import Designation

HALF_60 = radians(30.0)
Diameters = float | Limited


class Basic(NamedTuple):
    """The basic diameters that both mating threads share, mm."""

    major: float
    pitch: float
    minor: float


@dataclass(frozen=True, slots=True)
class Sizes:
    """A thread on one side, mm and rad.

    `tolerance` is its class as used, `assumed` when nobody wrote one. `alpha` is the angle of a flank to the normal.
    `depth` runs from crest to root. `crest` and `root` are the widths of the flats, None for a round one, and
    `root_radius` the radius there, None for a flat one. `source` says where the limits come from.
    """

    outside: bool
    tolerance: str
    assumed: bool
    basic: Basic
    major: Diameters
    pitch: Diameters
    minor: Diameters
    depth: float
    alpha: float
    pitch_length: float
    crest: float
    root: float | None
    root_radius: float | None = None
    least_root_radius: float | None = None
    source: str = ""
    notes: tuple[Message, ...] = ()

    @property
    def root_flat(self) -> float:
        """The width [mm] of the flat at the root: a round one has none."""
        if self.root is None:
            return 0.0
        return self.root

    @property
    def root_rounding(self) -> float:
        """The radius [mm] at the root: a flat one has none."""
        if self.root_radius is None:
            return 0.0
        return self.root_radius


def outside_limits(basic: float, deviation: float, tolerance: float, what: str, decimals: int = 3) -> Limited:
    """Limits [mm] of an outside diameter from its `basic` size, the `deviation` below it and the `tolerance` [mm].

    `what` names it in the working; both limits are rounded to `decimals`, as the standard prints them.

    >>> outside_limits(22.051443, 0.048, 0.2, "pitch diameter").lower
    21.803
    """
    upper = profile.upper_limit.at(what)(round(basic, decimals), deviation)
    lower = profile.lower_limit.at(what)(upper, tolerance)
    return Limited.between(round(lower, decimals), round(upper, decimals), basic)


def inside_limits(basic: float, deviation: float, tolerance: float, what: str, decimals: int = 3) -> Limited:
    """Limits [mm] of an inside diameter from its `basic` size, the `deviation` above it and the `tolerance` [mm].

    `what` names it in the working; both limits are rounded to `decimals`.

    >>> inside_limits(22.051443, 0.0, 0.265, "pitch diameter").upper
    22.316
    """
    lower = profile.lower_limit_inside.at(what)(round(basic, decimals), deviation)
    upper = profile.upper_limit_inside.at(what)(lower, tolerance)
    return Limited.between(round(lower, decimals), round(upper, decimals), basic)


def chosen_class(found: Designation, outside: bool, usual: str, known: str) -> tuple[str, bool]:
    """The class to use for this side, and whether it is `usual` because nobody wrote one for it.

    `known` are the letters that mark a class of this side. Raises OutOfRange for more than one.

    >>> from calc.threads.designation import read_designation
    >>> chosen_class(read_designation("M24x2-6H/6g"), True, "6g", "efgh")
    ('6g', False)
    """
    fitting = [one for one in found.classes if one[-1:] in known]
    if len(fitting) > 1:
        values: dict[str, Value] = {"classes": ", ".join(fitting), "side": "outside" if outside else "inside"}
        text = "Two classes are written for the {side} thread: {classes}. Leave one."
        raise OutOfRange(Fault("designation", Message(text, values)))
    return (fitting[0], False) if fitting else (usual, True)


def require_classes(found: Designation, pattern: str, why: str) -> None:
    """Hold every class of `found` to a regular expression. Raises OutOfRange, with the reason `why`.

    >>> from calc.threads.designation import read_designation
    >>> require_classes(read_designation("ACME 1-5 2G"), "[234]G", "There are 2G, 3G and 4G.")
    """
    for one in found.classes:
        if not re.fullmatch(pattern, one):
            raise unknown_class(one, why)


def unknown_class(written: str, why: str) -> OutOfRange:
    """The refusal of a class as `written`, with the reason `why`.

    >>> str(unknown_class("6z", "Positions here are e to h."))
    'designation: “6z” is not a class of this thread. Positions here are e to h.'
    """
    values: dict[str, Value] = {"written": written[:20], "why": why}
    return OutOfRange(Fault("designation", Message("“{written}” is not a class of this thread. {why}", values)))
