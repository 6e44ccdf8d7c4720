"""Views of the rows of a contour on its page."""

from __future__ import annotations

from dataclasses import dataclass

from server.field_context import FieldView


@dataclass(frozen=True, slots=True)
class FlagView:
    """One way that an arc may turn, as a radio button."""

    code: str
    label: str
    checked: bool


@dataclass(frozen=True, slots=True)
class RowView:
    """One row of a contour: the fields that most prints give, the others folded away, and what can be done with it.

    Folded, `told` says what is given and `found` what was solved. `note` says what would settle an element that can
    still move, `error` what is wrong with the row as a whole. `focused` is the row that one goes on with. `smooth`,
    `down` and `outward` are None where the row has no such mark.
    """

    index: int
    kind: str
    title: str
    hint: str
    told: str
    found: str
    note: str
    error: str
    is_open: bool
    focused: bool
    main: tuple[FieldView, ...]
    more: tuple[FieldView, ...]
    more_open: bool
    turns: tuple[FlagView, ...]
    smooth: bool | None
    down: bool | None
    outward: bool | None
    movable_up: bool
    movable_down: bool


@dataclass(frozen=True, slots=True)
class AddView:
    """A kind of row that can be added."""

    kind: str
    title: str
    hint: str


@dataclass(frozen=True, slots=True)
class SolutionView:
    """One of several contours with the same dimensions: number, how it differs, address, whether it is shown."""

    number: str
    label: str
    address: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class ContourView:
    """One contour of a page: its rows, whose fields begin with `prefix`, what can be added, which one is meant.

    Of several on a page each has a `title`.
    """

    name: str
    prefix: str
    title: str
    hint: str
    rows: tuple[RowView, ...]
    additions: tuple[AddView, ...]
    solutions: tuple[SolutionView, ...] = ()

    @property
    def action(self) -> str:
        """What stands before the words of its buttons."""
        return "" if self.prefix == "rows" else f"{self.prefix}:"
