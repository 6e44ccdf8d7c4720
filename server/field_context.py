"""Views of a field of a form and of its choices."""

from __future__ import annotations

from dataclasses import dataclass, replace

LONG, LONGER = 6, 10
"""Digits that a narrow field shows at full size, and at the smaller one, beside its unit."""


@dataclass(frozen=True, slots=True)
class ChoiceView:
    """One option of a choice (drawn as a radio button)."""

    code: str
    label: str
    checked: bool


@dataclass(frozen=True, slots=True)
class FieldView:
    """One field of the form.

    `text` is what was typed, unchanged. `understood` says how it was read where that is worth saying. `solved` is
    the value that the other fields determine, as digits without the unit that stands beside the field (the field
    itself stays empty). `starting` marks a starting value that nobody has confirmed, `because` says why it is that
    one. `name` also links the field to its dimension on the sketch, which bears it as `data-field`. `blank` says what
    is taken where nothing was typed. A list of rows has `rows`, each with fields of its own; rows that are `ordered`
    can be moved, and those with a `switch`, the name of the field that does it, left out.
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
    because: str = ""
    understood: str = ""
    blank: str = ""
    rows: tuple[FieldsView, ...] = ()
    ordered: bool = False
    switch: str = ""

    @property
    def length(self) -> str:
        """How much room what was typed needs: "" in an ordinary field, `long`, or `long longer` without its unit."""
        needed = len(self.text) + sum(map(str.isalpha, self.text))  # a letter is wider than a digit
        if self.role == "word" or needed <= LONG:
            return ""
        return "long" if needed <= LONGER else "long longer"

    @property
    def is_wrong(self) -> bool:
        """Whether anything in it is wrong, in its rows too."""
        return bool(self.error) or any(each.error for row in self.rows for each in row.fields)

    def without_error(self, name: str) -> FieldView:
        """The same with no error at the field `name`, which may be in one of its rows."""
        own = replace(self, error="") if self.name == name else self
        return replace(own, rows=tuple(row.without_error(name) for row in own.rows)) if own.rows else own


@dataclass(frozen=True, slots=True)
class FieldsView:
    """One row of a list of declared rows: its number as people count, its fields, whether to go on with it.

    One of an ordered list is folded: `told` is its one line, `off` whether it is left out by its switch.
    """

    number: int
    title: str
    fields: tuple[FieldView, ...]
    focused: bool = False
    told: str = ""
    off: bool = False

    @property
    def is_open(self) -> bool:
        """Whether it stands open: while it is empty, wrong, or gone on with."""
        return self.focused or not self.told or any(each.error for each in self.fields)

    def without_error(self, name: str) -> FieldsView:
        """The same with no error at the field `name`."""
        return replace(self, fields=tuple(each.without_error(name) for each in self.fields))
