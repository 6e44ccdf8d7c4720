"""How passes are led, from the fields of a plan or of a part's operation to the cut, and back in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal, Protocol

from calc.cutting.nouns import CutDirection, FeedRule, Lead, Split
from calc.language.messages import Message, Phrase
from calc.machining.job import Cut, Strategy
from calc.machining.machine import Done, Made

ROUGHING: dict[str, Strategy] = {
    "along z": "rough along z",
    "along x": "rough along x",
    "contour": "rough along the contour",
}
"""What a plan's and an operation's `roughing` mean."""

USUAL_LEAD = 2.0
"""mm: the lead of which no size is given (common practice, no source)."""

CUT_FIELDS = ("pass_split", "spring_passes", "feed_rule", "cut_direction", "lead_form", "lead_size")
"""The fields of `Led`."""

SMOOTH = 1.0 - 1e-9
"""The cosine of the angle between two directions that are one."""

CutKind = Literal["rough", "finish"]


class Led(Protocol):
    """The fields that say how passes are led."""

    @property
    def pass_split(self) -> Split:
        """How the depth is shared out."""

    @property
    def spring_passes(self) -> float:
        """How often the finish is repeated."""

    @property
    def feed_rule(self) -> FeedRule:
        """Whether shallower passes are fed faster."""

    @property
    def cut_direction(self) -> CutDirection:
        """Which way the finish goes."""

    @property
    def lead_form(self) -> Lead:
        """How the finish leads in and out."""

    @property
    def lead_size(self) -> float | None:
        """The size of that lead, mm."""


def led(asked: Led, cut: Cut, kind: CutKind) -> Cut:
    """The cut with what of the fields is its kind's: those of roughing, or those of a finish."""
    if kind == "rough":
        return replace(cut, split=asked.pass_split, chip_kept=asked.feed_rule == "chip")
    return replace(
        cut,
        spring=round(asked.spring_passes),
        backward=asked.cut_direction == "back",
        lead=asked.lead_form,
        lead_size=USUAL_LEAD if asked.lead_size is None else asked.lead_size,
    )


def led_cut(asked: Led, cut: Cut) -> Cut:
    """The cut of an operation, which roughs where it has a depth and else finishes."""
    return led(asked, led(asked, cut, "rough"), "finish")


def rough_words(cut: Cut, strategy: Strategy) -> Iterator[str]:
    """How a roughing or facing cut is led, in words for a sheet: only what is not as usual.

    >>> list(rough_words(Cut(depth=1.0, split="easing"), "rough along x"))
    ['along X', 'depths ease to half']
    """
    if strategy in ("rough along x", "rough along the contour"):
        yield "along X" if strategy == "rough along x" else "along the contour"
    if cut.split != "equal":
        yield "depths ease to half" if cut.split == "easing" else "full depths, the last takes the rest"
    if cut.chip_kept:
        yield "fed faster in shallower passes"


def finish_words(cut: Cut) -> Iterator[str]:
    """The same of a finish.

    >>> list(finish_words(Cut(spring=2, backward=True, lead="arc", lead_size=1.5)))
    ['2 spring passes', 'away from the chuck', 'leads on arcs']
    """
    if cut.spring:
        yield Phrase("{count} spring passes", count=cut.spring) if cut.spring > 1 else "1 spring pass"
    if cut.backward:
        yield "away from the chuck"
    if cut.lead != "straight":
        yield "leads on arcs" if cut.lead == "arc" else "leads along its ends"


def led_otherwise(done: Done) -> Iterator[Message]:
    """Where a lead that was asked for would not be clear, and which way an insert must cut that finishes outward."""
    cut = done.operation.cut
    finishes = [each for each in done.made if each.planned.kind == "finish" and not each.planned.opens]
    for why, text in (
        ("approach", "Pass {name} leads in on another path: the lead asked for would not be clear there."),
        ("retract", "Pass {name} leads out on another path: the lead asked for would not be clear there."),
    ):
        straight = [each for each in finishes if cut.lead != "straight" and not _as_asked(each, why)]
        if straight:
            yield Message(text, {"name": straight[0].planned.name})
    if cut.backward and finishes:
        yield Message("Finished away from the chuck: take an insert and a holder that cut in that direction.")


def _as_asked(made: Made, why: str) -> bool:
    """Whether a pass joins its path smoothly where it leads in (`why` approach) or out."""
    fed = [move for move in made.removal.tool_pass.moves if move.kind == "feed"]
    path = [piece.path for piece in made.planned.pieces]
    if why == "approach":
        lead, first = fed[0].elements[0], path[0]
        return lead != first and lead.tangent_at(lead.length).dot(first.tangent_at(0.0)) > SMOOTH
    off, last = fed[-1].elements[0], path[-1]
    return off.tangent_at(0.0).dot(last.tangent_at(last.length)) > SMOOTH
