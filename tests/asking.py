"""Questions asked as the edge asks them: by flat names, what is blank left out, what is required asked for."""

from __future__ import annotations

import dataclasses
from typing import Any

from calc.language.fields import build, flat


def asked(declared: type[Any], **values: Any) -> Any:
    """The declared inputs from the values, those of parts too, that are not None.

    Raises `Missing` for what is required and not there.
    """
    named: dict[str, Any] = {}
    for name, value in values.items():
        named |= flat(value) if dataclasses.is_dataclass(value) and not isinstance(value, type) else {name: value}
    return build(declared, named)
