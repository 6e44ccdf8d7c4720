"""Proposed operations for which no speed to start with is known: left out, and named instead."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from calc.cutting.materials import Material
from calc.language.messages import Message, Phrase, Value
from calc.questions.part.called import Reasoned
from calc.questions.part.job import Kind

STARTS: Mapping[Kind, tuple[str, str | None]] = {
    "part-off": ("part", None),
    "groove": ("groove", None),
    "thread": ("thread", None),
    "drill": ("drill", "HSS"),
    "countersink": ("drill", "HSS"),
}
"""What a material calls the cut of a kind, and the tool that makes it (None: the usual one)."""


def without_speed(found: Iterable[Reasoned], work: Material) -> tuple[list[Reasoned], list[Message]]:
    """The operations that can start in a material, and a sentence for each kind that cannot."""
    kept: list[Reasoned] = []
    out: dict[Kind, Message] = {}
    for operation, reason in found:
        kind = operation.kind
        if kind not in STARTS or operation.cut.surface_speed is not None or work.speed(*STARTS[kind]) is not None:
            kept.append((operation, reason))
        else:
            values: dict[str, Value] = {"kind": Phrase(CALLED[kind]), "material": work.title}
            out[kind] = Message(_ASKED, values)
    return kept, list(out.values())


CALLED: Mapping[Kind, str] = {
    "part-off": "Parting off",
    "groove": "Grooving",
    "thread": "Threading",
    "drill": "Drilling",
    "countersink": "Countersinking",
}
_ASKED = "{kind} is left out: there is no speed to start {material} with. Add it with a speed of your own."
