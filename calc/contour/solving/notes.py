"""What the reader should know about how the dimensions were taken."""

from __future__ import annotations

from calc.contour.solving.given import NAMES, words_for
from calc.contour.solving.unknowns import Fact, Unknowns
from calc.language.given import Given
from calc.language.messages import Capital, Message, Quantity, Value


def notes_on(unknowns: Unknowns) -> tuple[Message, ...]:
    """A note for each dimension with limits of size: the contour aims at the middle of them."""
    return tuple(_note(fact) for fact in unknowns.facts if _has_limits(fact))


def _has_limits(fact: Fact) -> bool:
    return isinstance(fact.value, Given) and fact.value.nominal is not None


def _note(fact: Fact) -> Message:
    kind = NAMES[fact.name].kind
    values: dict[str, Value] = {
        "what": Capital(words_for(fact.element, fact.name)),
        "middle": Quantity(fact.value, kind, brief=True),
        "nominal": Quantity(getattr(fact.value, "nominal", fact.value), kind, brief=True),
    }
    lower, upper = getattr(fact.value, "lower", None), getattr(fact.value, "upper", None)
    if lower is None or upper is None:
        return Message("{what} is aimed at the middle of its limits, {middle} (nominal {nominal}).", values)
    values |= {"lower": Quantity(lower, kind, brief=True), "upper": Quantity(upper, kind, brief=True)}
    text = "{what} is aimed at the middle of its limits, {middle} (nominal {nominal}, from {lower} to {upper})."
    return Message(text, values)
