"""Terms: a name that several questions share is declared once, and each question says only what is its own about it.

What a term is (label, kind, range, choices) is the same wherever it stands. A question may give it a hint, say what a
blank means there, or be unable to do without it.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Generic, cast

from calc.language.fields import Code, Spec
from calc.language.quantities import Kind


@dataclass(frozen=True, slots=True)
class Term:
    """A quantity or a text that several questions ask, as `Spec` declares it."""

    spec: Spec

    def given(self, *, default: float | None = None, **own: Any) -> Any:
        """The term as a field that may stay blank; then it is `default`, and the field a plain float.

        `own` are the parts of `Spec` that a question may say for itself: hint, blank, brief, symbol, start, because.
        """
        return dataclasses.field(default=default, metadata={"spec": self._with(own)})

    def needed(self, **own: Any) -> Any:
        """The term as a field without which the question is not asked, so that it is never None.

        >>> from calc.language.quantities import FEED
        >>> Feed = quantity(FEED, "Feed", "f", above=0.0)
        >>> @dataclass(frozen=True, kw_only=True)
        ... class Cut:
        ...     feed: float = Feed.needed(hint="finishing")
        >>> Cut(feed=0.2).feed
        0.2
        """
        return dataclasses.field(metadata={"spec": self._with({**own, "required": True})})

    def _with(self, own: Mapping[str, Any]) -> Spec:
        foreign = set(own) - {"hint", "blank", "brief", "symbol", "start", "because", "required"}
        if foreign:
            raise TypeError(f"A question cannot change {', '.join(sorted(foreign))} of {self.spec.label}")
        return dataclasses.replace(self.spec, **own)


@dataclass(frozen=True, slots=True)
class Choice(Generic[Code]):
    """A choice that several questions offer, with one meaning of each code and one start."""

    spec: Spec

    def chosen(self, **own: Any) -> Code:
        """The choice as a field; `own` may be hint, brief and start."""
        spec = dataclasses.replace(self.spec, **own)
        return cast("Code", dataclasses.field(default=spec.start, metadata={"spec": spec}))


def quantity(kind: Kind, label: str, symbol: str = "", **more: Any) -> Term:
    """A term of a `kind`, called `label` and `symbol`; `more` are the other parts of `Spec`.

    >>> from calc.language.quantities import FEED
    >>> quantity(FEED, "Feed", "f", above=0.0).spec.label
    'Feed'
    """
    return Term(Spec("", "quantity", label, symbol, kind=kind, **more))


def text(label: str, **more: Any) -> Term:
    """A term that is a text called `label`; `more` are the other parts of `Spec`.

    >>> text("Material").spec.role
    'word'
    """
    return Term(Spec("", "word", label, **more))


def choosing(label: str, choices: Mapping[Code, str], start: Code, **more: Any) -> Choice[Code]:
    """A choice called `label` among `choices` (code: words), of which `start` is taken until somebody chooses.

    `more` are the other parts of `Spec`.

    >>> choosing("Hand", {"R": "right", "L": "left"}, "R").spec.start
    'R'
    """
    worded = {str(code): words for code, words in choices.items()}
    return Choice(Spec("", "choice", label, choices=worded, start=start, **more))
