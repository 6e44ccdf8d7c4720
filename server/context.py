"""What a template may rely on: the typed context of a feature page, filled by the server, read by the templates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from calc.language.messages import Message
from calc.language.quantities import View
from calc.language.translating import Language
from server.field_context import FieldView
from server.row_context import ContourView, RowView
from server.saved_place import SavedPlace


@dataclass(frozen=True, slots=True)
class GroupView:
    """A group of fields; `summary` gives its values in one line while it is folded.

    A group that is not `folded` stands open beside the sketch: what the print gives. `kept` is how many of its fields
    belong to the machine in the shop.
    """

    key: str
    title: str
    fields: tuple[FieldView, ...]
    summary: str
    folded: bool
    has_error: bool = False
    kept: int = 0


@dataclass(frozen=True, slots=True)
class ResultView:
    """A result: `digits` can be copied, `text` stands on the page with its sign and unit.

    One with `limits` has both of them there in words; digits and text are what to aim at.
    """

    name: str
    label: str
    symbol: str
    digits: str
    unit: str
    text: str
    hint: str = ""
    limits: str = ""


@dataclass(frozen=True, slots=True)
class TableView:
    """A table: a caption, column heads with their units, and rows of cells; the first cell heads its row.

    `numeric` are the columns that hold numbers, counted from 0.
    `links` has an address for each row, where a tap on its first cell asks for that one.
    `columns` are what its declared columns are called by programs, where it has such.
    `brief` are the heads beside each value where a row stands as a card, as long as the heads; without them the heads.
    """

    key: str
    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""
    numeric: frozenset[int] = frozenset()
    links: tuple[str, ...] = ()
    brief: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StepView:
    """One step of the working: MathML of the formula, of the same with numbers in, of the value; and its source.

    `fields` are those that its numbers were typed into, as (label, name).
    """

    means: str
    where: str
    symbols: str
    numbers: str
    value: str
    source: str
    fields: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class WorkingView:
    """Steps of the working under one head ("" for the only list), the first of them the working's `first` (1, 2, …)."""

    title: str
    first: int
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True)
class ErrorView:
    """What is wrong, at which field; `offers` are links (words, address) that resolve it."""

    field: str
    label: str
    message: str
    offers: tuple[tuple[str, str], ...] = ()

    @property
    def named(self) -> str:
        """The message where no field stands beside it: one that begins with what was typed gets the field's name."""
        quotes_only = self.message.startswith("“") and self.label.lower() not in self.message.lower()
        return f"{self.label}: {self.message}" if self.label and quotes_only else self.message


@dataclass(frozen=True, slots=True)
class SwitchView:
    """One convention that switches in place: its options as (words, address, chosen).

    The words give the convention by themselves ("X diameter", "+Z out"): on a phone only the chosen ones are seen.
    """

    name: str
    label: str
    options: tuple[tuple[str, str, bool], ...]


@dataclass(frozen=True, slots=True)
class SectionView:
    """A block of supporting results under a heading, with the tables and sentences that belong to it."""

    key: str
    title: str
    results: tuple[ResultView, ...] = ()
    tables: tuple[TableView, ...] = ()
    sentences: tuple[str, ...] = ()
    folded: bool = True
    summary: str = ""


@dataclass(frozen=True, slots=True)
class PlotView:
    """A plot: its markup, what its lines mean, and the table beside it."""

    key: str
    title: str
    svg: str
    legend: str
    table: TableView


@dataclass(frozen=True, slots=True)
class PictureView:
    """One picture of a sequence to step through: its name, its markup, a sentence about it."""

    label: str
    svg: str
    note: str
    chapter: bool = True


@dataclass(frozen=True, slots=True)
class SavingView:
    """How a question is kept as work of its own: its `address`, and where it is saved already.

    One that is kept `with_part`, such as readings, has the place of that part, or of its own step there.
    """

    address: str
    place: SavedPlace | None
    with_part: bool = False


@dataclass(frozen=True, slots=True)
class RowOffersView:
    """What the shop's lists offer an operation, as (code, words): the code is what the button asks for.

    `more` are the tools that would do but are not listed, `keeps` is whether the operation has a speed or a feed that
    may be kept as proven.
    """

    proven: tuple[tuple[str, str], ...] = ()
    tools: tuple[tuple[str, str], ...] = ()
    keeps: bool = False
    more: int = 0


@dataclass(frozen=True, slots=True)
class OffersView:
    """What the shop's lists offer on a page, as (words, address); on one of operations by the name of each row.

    `keep` is where the page's own speed and feed are kept as proven.
    """

    proven: tuple[tuple[str, str], ...] = ()
    tools: tuple[tuple[str, str], ...] = ()
    keep: str = ""
    rows: Mapping[str, RowOffersView] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PageView:
    """Everything a feature page shows.

    State: `empty` (nothing asked yet), `waiting` (too little given, `prompt` says what would do), `error`, `answered`.
    `starts` are examples to start from, `exports` files of the answer, both as (words, address).
    Pictures that are `played` stand above all else, opened at `step`. `layouts` are the same answer laid out otherwise,
    as (words, address), and `back_address` leads from them to the page; `later` is where the long parts stand that this
    page leaves out until they are opened: of them it has `picture_count`, `step_count` and `has_words` alone; `saving`
    is there for what is kept as a part.
    `terms` are the words of the trade on this page, each with the address of its explanation, as (words, address).
    `family` switches to the near twins of this page, `shop` is what the shop's lists offer on it. `partial` asks for
    the fragment alone. `share_address` is the whole address, with scheme and host, as it is printed, `shared` without
    them; one that is too long for a code has no `qr_address`.
    """

    path: str
    title: str
    summary: str
    state: str
    prompt: str
    example: bool
    example_address: str
    clear_address: str
    switches: tuple[SwitchView, ...]
    hidden: tuple[tuple[str, str], ...]
    groups: tuple[GroupView, ...]
    errors: tuple[ErrorView, ...] = ()
    headline: ResultView | None = None
    supporting: tuple[ResultView, ...] = ()
    echo: str = ""
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    picks: tuple[tuple[str, str], ...] = ()
    sketch: str = ""
    sketch_first: bool = True
    details: tuple[str, ...] = ()
    detail_count: int = 0
    """Details that have room beside the sketch, though one of them is not drawn where it shows nothing larger."""
    legend: str = ""
    plots: tuple[PlotView, ...] = ()
    pictures: tuple[PictureView, ...] = ()
    picture_count: int = 0
    played: bool = False
    step: int = 0
    layouts: tuple[tuple[str, str], ...] = ()
    back_address: str = ""
    later: str = ""
    saving: SavingView | None = None
    words: str = ""
    has_words: bool = False
    sections: tuple[SectionView, ...] = ()
    contours: tuple[ContourView, ...] = ()
    starts: tuple[tuple[str, str], ...] = ()
    exports: tuple[tuple[str, str], ...] = ()
    working: tuple[WorkingView, ...] = ()
    step_count: int = 0
    share_address: str = ""
    shared: str = ""
    qr_address: str = ""
    example_changed: bool = False
    onward: tuple[tuple[str, str], ...] = ()
    meant_offers: tuple[tuple[str, str], ...] = field(default=())
    conventions: str = ""
    date: str = ""
    partial: bool = False
    terms: tuple[tuple[str, str], ...] = ()
    family: SwitchView | None = None
    shop: OffersView | None = None

    @property
    def keeping(self) -> str:
        """The key of the group whose fields a device may keep: the one with most of the machine's; "" without any."""
        most = max(self.groups, key=lambda group: group.kept, default=None)
        return most.key if most is not None and most.kept else ""

    @property
    def has_rows(self) -> bool:
        """Whether there is a contour, or a group with a list of rows."""
        return bool(self.contours) or any(field.role == "rows" for group in self.groups for field in group.fields)

    @property
    def sheet(self) -> str:
        """The file with all the styles of the page as it is asked for, so that it asks for one."""
        return "whole.css" if self.has_rows or self.plots or self.picture_count else "page.css"


def while_typing(page: PageView, name: str, language: Language = "en") -> PageView:
    """The same page for somebody who is still typing in the field `name`: its errors are held back.

    What is half typed is not wrong yet. Errors of other fields stay; when none is left, the page waits.

    >>> page = PageView("/dish", "Dish", "", "error", "", False, "", "", (), (), ())
    >>> page = replace(page, errors=(ErrorView("depth", "Depth", "Depth must be a number."),))
    >>> typing = while_typing(page, "depth")
    >>> typing.state, typing.errors, typing.prompt
    ('waiting', (), 'Depth: waiting while you type.')
    """
    held = [error for error in page.errors if error.field == name]
    if not held:
        return page
    left = tuple(error for error in page.errors if error.field != name)
    groups = tuple(_without_error(group, name) for group in page.groups)
    contours = tuple(
        replace(each, rows=tuple(_row_without_error(row, name) for row in each.rows)) for each in page.contours
    )
    if left:
        return replace(page, errors=left, groups=groups, contours=contours)
    waiting = Message("{label}: waiting while you type.", {"label": held[0].label})
    prompt = waiting.say(View(language=language))
    return replace(page, errors=(), groups=groups, contours=contours, state="waiting", prompt=prompt)


def _without_error(group: GroupView, name: str) -> GroupView:
    fields = tuple(each.without_error(name) for each in group.fields)
    return replace(group, fields=fields, has_error=any(each.is_wrong for each in fields))


def _row_without_error(row: RowView, name: str) -> RowView:
    main, more = (
        tuple(replace(each, error="") if each.name == name else each for each in fields)
        for fields in (row.main, row.more)
    )
    return replace(row, main=main, more=more)
