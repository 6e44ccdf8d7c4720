"""What inputs, results and rows have in common: each is a frozen dataclass, its fields given by name."""

from __future__ import annotations

import dataclasses
from types import MappingProxyType
from typing import Any, ClassVar, dataclass_transform


@dataclass_transform(frozen_default=True, kw_only_default=True)
class Declared:
    """The base of inputs, results and rows, which makes a dataclass of each and names its declarations as its fields.

    >>> class Turned(Declared):
    ...     diameter: float = 25.0
    >>> Turned(diameter=30.0)
    Turned(diameter=30.0)
    """

    __dataclass_fields__: ClassVar[dict[str, dataclasses.Field[Any]]]

    def __init_subclass__(cls) -> None:
        dataclasses.dataclass(frozen=True, kw_only=True)(cls)
        for item in dataclasses.fields(cls):
            spec = item.metadata.get("spec")
            if spec and spec.name != item.name:
                item.metadata = MappingProxyType({**item.metadata, "spec": dataclasses.replace(spec, name=item.name)})
