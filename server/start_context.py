"""What the start page, the line to ask and a page of faults show."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TileView:
    """One feature on the start page."""

    path: str
    title: str
    summary: str


@dataclass(frozen=True, slots=True)
class TileGroup:
    """Features that belong together on the start page."""

    title: str
    tiles: tuple[TileView, ...]


@dataclass(frozen=True, slots=True)
class StartView:
    """Everything the start page shows; the parts last worked on are known to the device alone."""

    groups: tuple[TileGroup, ...]


@dataclass(frozen=True, slots=True)
class FoundView:
    """One thing that a typed line can mean: the question, its address, the answer's number, or what is still needed."""

    question: str
    page: str
    label: str
    text: str
    needs: str


@dataclass(frozen=True, slots=True)
class LineView:
    """A typed line and what it can mean; `examples` are lines to try, `too_long` says that it is no line."""

    line: str
    readings: tuple[FoundView, ...]
    examples: tuple[str, ...]
    too_long: bool


@dataclass(frozen=True, slots=True)
class FaultView:
    """A page that could not be given: a heading and a sentence, in plain words."""

    status: int
    title: str
    message: str
