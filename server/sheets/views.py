"""What the sheets' templates may rely on."""

from __future__ import annotations

from dataclasses import dataclass, field

from server.context import PageView
from server.sheets.forms import Field
from server.sheets.model import Sheet, Step


@dataclass(frozen=True, slots=True)
class StepPage:
    """A step as a page shows it: `page` is its feature's page worked through; `problem` stands where there is none.

    `change_address` leads to the page of a part, from where it is saved back; `late` is a step that nobody could wait
    for.
    """

    number: int
    step: Step
    title: str
    address: str
    page: PageView | None = None
    problem: str = ""
    practise_address: str = ""
    change_address: str = ""
    late: bool = False
    is_readings: bool = False

    @property
    def is_part(self) -> bool:
        """Whether it is a whole part that has an answer: its sheet is the operator's."""
        return (
            bool(self.change_address)
            and not self.is_readings
            and self.page is not None
            and self.page.headline is not None
        )


@dataclass(frozen=True, slots=True)
class SheetView:
    """A sheet to read and to print. `seen` is the revision of the print that was scanned, 0 if none was."""

    id: str
    title: str
    sheet: Sheet
    revision: int
    saved: str
    steps: tuple[StepPage, ...]
    cautions: tuple[tuple[str, str], ...]
    tools: tuple[tuple[str, str], ...]
    setup: tuple[tuple[str, str], ...]
    reading_address: str
    owner: bool
    ended: bool = False
    seen: int = 0

    @property
    def has_part(self) -> bool:
        """Whether a whole part is among the steps."""
        return any(each.is_part for each in self.steps)


@dataclass(frozen=True, slots=True)
class RowForm:
    """One row of a list as a form: its key, the heading that tells it from others, its fields by name."""

    key: str
    title: str
    fields: dict[str, Field]
    first: bool
    last: bool


@dataclass(frozen=True, slots=True)
class EditView:
    """The owner's page. `notes` say what somebody else saved meanwhile; `mine` what stands against it, by field."""

    id: str
    title: str
    revision: int
    heading: dict[str, Field]
    steps: tuple[RowForm, ...]
    setup: dict[str, Field]
    touches: tuple[RowForm, ...]
    checks: tuple[RowForm, ...]
    reading_address: str
    owner_address: str
    errors: tuple[tuple[str, str], ...] = ()
    said: str = ""
    notes: tuple[str, ...] = ()
    mine: tuple[tuple[str, str], ...] = ()
    new_address: str = ""


@dataclass(frozen=True, slots=True)
class AddView:
    """Where a page's question is put on a sheet, or a sheet is begun; `here` are sheets of this browser (id, title)."""

    title: str
    address: str
    what: str
    here: tuple[tuple[str, str], ...] = ()
    errors: tuple[tuple[str, str], ...] = ()
    fields: dict[str, Field] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class HintView:
    """A step of the working as far as it is shown: MathML of the formula, then with numbers, then the value."""

    means: str
    where: str
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AskedView:
    """One result that is asked for: what was typed, how it fared, the hints taken, where one more is had."""

    name: str
    label: str
    symbol: str
    unit: str
    text: str
    verdict: str = ""
    words: str = ""
    hints: tuple[HintView, ...] = ()
    taken: int = 0
    more_address: str = ""


@dataclass(frozen=True, slots=True)
class PractiseView:
    """A step to practise. `seed` is None for the step's own numbers; the result's address holds the whole attempt."""

    sheet: str
    path: str
    title: str
    note: str
    given: tuple[tuple[str, str], ...]
    conventions: str
    asked: tuple[AskedView, ...]
    seed: int | None
    hidden: tuple[tuple[str, str], ...]
    own_address: str
    fresh_address: str
    result_address: str
    told: str
    sketch: str = ""


@dataclass(frozen=True, slots=True)
class HistoryView:
    """The revisions, newest first, each with what it changed; `older` is where the list goes on, 0 at its end."""

    id: str
    title: str
    revision: int
    entries: tuple[tuple[int, str, tuple[str, ...]], ...]
    older: int = 0
