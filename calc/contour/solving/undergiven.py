"""What is missing, and which one more dimension would do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from calc.contour.elements import Element
from calc.contour.solving.given import dimensions_of, field_of, words_for
from calc.contour.solving.noroot import NoRoot
from calc.contour.solving.structure import Structure
from calc.language.messages import Capital, Message
from calc.language.problems import Fault, Missing

if TYPE_CHECKING:
    from calc.contour.solving.freedom import Freedom


class UnderGiven(Missing):
    """Too little is given: ``count`` more dimensions are needed, and any of the fields ``would_do`` brings one.

    ``elements`` are the indices of the elements that are not settled; ``settled`` are those that are, by their index,
    the likeliest way each.
    """

    def __init__(self, *faults: Fault, count: int, would_do: tuple[str, ...], elements: tuple[int, ...]) -> None:
        self.count, self.would_do, self.elements = count, would_do, elements
        self.settled: Mapping[int, Element] = {}
        super().__init__(*faults)


def under_given(structure: Structure) -> UnderGiven:
    """The problem that names the elements and the dimensions that would do."""
    return _naming(structure, _freedom(structure))


def open_after_all(structure: Structure, reason: NoRoot) -> UnderGiven | None:
    """The same where enough seemed to be given but a block failed because some of it says one thing twice."""
    freedom = _freedom(structure)
    if freedom.count:
        return _naming(structure, freedom)
    return _repeating(reason.equations[-1].element) if reason.kind == "open" else None


def _freedom(structure: Structure) -> Freedom:
    from calc.contour.solving.freedom import Freedom  # noqa: PLC0415 - numpy is loaded where something is missing

    return Freedom(structure)


def _naming(structure: Structure, freedom: Freedom) -> UnderGiven:
    options = [option for option in _blanks(structure) if freedom.moves(*option)]
    count = max(freedom.count, 1)
    elements = tuple(dict.fromkeys(index for index, _ in options if index >= 0))
    faults = [Fault(field_of(*option), _sentence(option, count)) for option in options]
    would_do = tuple(field_of(*option) for option in options)
    return UnderGiven(*faults, count=count, would_do=would_do, elements=elements)


def _repeating(index: int) -> UnderGiven:
    text = "The dimensions around element {number} repeat each other: give one other dimension there."
    fault = Fault(f"elements.{index}", Message(text, {"number": index + 1}))
    return UnderGiven(fault, count=1, would_do=(), elements=(index,))


def _sentence(option: tuple[int, str], count: int) -> Message:
    what = Capital(words_for(*option))
    if count == 1:
        return Message("{what} would do: one more dimension is needed.", {"what": what})
    text = "{what} would help: {count} more dimensions are needed."
    return Message(text, {"what": what, "count": count})


def _blanks(structure: Structure) -> Iterator[tuple[int, str]]:
    """The dimensions that are not given, element by element, those of a shape first."""
    unknowns = structure.unknowns
    for piece, element in zip(unknowns.pieces, unknowns.elements, strict=True):
        own = sorted(dimensions_of(element.kind), key=_ORDER.index)
        yield from ((piece.index, name) for name in own if getattr(element, name) is None)
    yield from ((-1, name) for name in ("z", "r") if getattr(unknowns.start, name) is None)


_ORDER = ("radius", "angle", "z", "r", "length", "centre_z", "centre_r", "dz", "dr")
