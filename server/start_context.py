"""What the start page, the line to ask and a page of faults show."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TileView:
    """One page on the start page."""

    path: str
    title: str


@dataclass(frozen=True, slots=True)
class TileGroup:
    """Pages that belong together on the start page, with the name of the sketch beside their heading."""

    title: str
    sketch: str
    tiles: tuple[TileView, ...]


@dataclass(frozen=True, slots=True)
class StartView:
    """Everything the start page shows, the first so many pages of each group open on a tablet.

    The parts last worked on are known to the device alone.
    """

    groups: tuple[TileGroup, ...]
    first: int


@dataclass(frozen=True, slots=True)
class FoundView:
    """One thing that a typed line can mean: the question, its address, the answer's number, or what is still needed.

    `taken` are the values that it was read from, as (label, value with its unit); `read_as` is the line in which a
    misspelt word was mended, blank where none was.
    """

    question: str
    page: str
    label: str
    text: str
    needs: str
    taken: tuple[tuple[str, str], ...] = ()
    read_as: str = ""


@dataclass(frozen=True, slots=True)
class LineView:
    """A typed line and what it can mean; `examples` are lines to try, `too_long` says that it is no line.

    `terms` are the words of the glossary that stand in it, as (term, meaning, address).
    """

    line: str
    readings: tuple[FoundView, ...]
    examples: tuple[str, ...]
    too_long: bool
    terms: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class FaultView:
    """A page that could not be given: a heading and a sentence, in plain words, and pages that may have been meant."""

    status: int
    title: str
    message: str
    likely: tuple[tuple[str, str], ...] = ()
