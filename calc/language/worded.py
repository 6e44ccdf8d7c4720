"""Declarations as a reader meets them: with their texts in the reader's language."""

from __future__ import annotations

from functools import cache
from typing import Any

from calc.language.fields import specs
from calc.language.quantities import View
from calc.language.spec import Spec
from calc.language.translating import Language


def worded_specs(declared: type[Any], view: View) -> tuple[Spec, ...]:
    """The declarations of a dataclass with labels, hints and choices in the language of a reader with `view`.

    Their groups stay as they are declared: a group is also known by its title.

    >>> from calc.shapes.dish.bowl import DishInputs
    >>> worded_specs(DishInputs, View()) is specs(DishInputs)
    True
    """
    return specs(declared) if view.language == "en" else _worded(declared, view.language)  # type: ignore[arg-type]


@cache
def _worded(declared: type[object], language: Language) -> tuple[Spec, ...]:
    view = View(language=language)
    return tuple(spec.worded(view) for spec in specs(declared))
