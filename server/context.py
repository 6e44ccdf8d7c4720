"""What a template may rely on: the typed context of a feature page, filled by the server, read by the templates."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class ChoiceView:
    """One option of a choice (drawn as a radio button)."""

    code: str
    label: str
    checked: bool


@dataclass(frozen=True, slots=True)
class FieldView:
    """One field of the form.

    `text` is what was typed, unchanged. `understood` tells how it was read when that is worth telling. `solved` is
    the value that the other fields determine (the field itself stays empty). `starting` marks a starting value that
    nobody has confirmed. `dimension` is the id that links the field to its dimension on the sketch.
    """

    name: str
    label: str
    symbol: str
    hint: str
    text: str
    unit: str
    role: str
    choices: tuple[ChoiceView, ...] = ()
    error: str = ""
    solved: str = ""
    starting: bool = False
    understood: str = ""
    inputmode: str = "text"


@dataclass(frozen=True, slots=True)
class GroupView:
    """A group of fields; `summary` tells its values in one line while it is folded."""

    key: str
    title: str
    fields: tuple[FieldView, ...]
    summary: str
    folded: bool
    has_error: bool = False


@dataclass(frozen=True, slots=True)
class ResultView:
    """A result: `digits` can be copied, `text` stands on the page with its sign and unit."""

    name: str
    label: str
    symbol: str
    digits: str
    unit: str
    text: str
    hint: str = ""


@dataclass(frozen=True, slots=True)
class TableView:
    """A table: a caption, column heads with their units, and rows of cells; the first cell heads its row."""

    key: str
    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class StepView:
    """One step of the working: MathML of the formula, of the same with numbers in, of the value; and its source."""

    means: str
    where: str
    symbols: str
    numbers: str
    value: str
    source: str
    plain: str


@dataclass(frozen=True, slots=True)
class ErrorView:
    """What is wrong, at which field; `offers` are links (words, address) that resolve it."""

    field: str
    label: str
    message: str
    offers: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class SwitchView:
    """One convention that switches in place: its options as (words, address, chosen)."""

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
class PageView:
    """Everything a feature page shows.

    State: `empty` (nothing asked yet), `waiting` (too little given, `prompt` says what would do), `error`, `answered`.
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
    sketch: str = ""
    details: tuple[str, ...] = ()
    sections: tuple[SectionView, ...] = ()
    working: tuple[StepView, ...] = ()
    share_address: str = ""
    qr_address: str = ""
    meant_offers: tuple[tuple[str, str], ...] = field(default=())
    conventions: str = ""
    date: str = ""
