"""Gives back the memory of methods that are the same in every class: five megabytes of the process that answers.

A dataclass gets its own copy of the method that refuses a change, and of the one that writes it down. One of each does
for all of them; what tells two values apart is called often, and stays as it was made.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import FrozenInstanceError, fields, is_dataclass
from inspect import unwrap
from reprlib import recursive_repr
from typing import Any

OURS = ("calc.", "server.")
GENERATED = "<string>"  # the file of a method that was made from a text


def share_methods() -> None:
    """Let all our classes share the methods that say the same."""
    for cls in _declared():
        for name, shared in SHARED.items():
            if _is_generated(cls.__dict__.get(name)):
                setattr(cls, name, shared)


def _declared() -> Iterator[type]:
    """The dataclasses of every module of ours that is loaded."""
    for name, module in tuple(sys.modules.items()):
        if name.startswith(OURS):
            found = (each for each in vars(module).values() if isinstance(each, type) and is_dataclass(each))
            yield from (each for each in found if each.__module__ == name)


def _is_generated(method: Any) -> bool:
    code = getattr(unwrap(method), "__code__", None) if callable(method) else None
    return code is not None and code.co_filename == GENERATED


def _refuse_change(_: Any, name: str, __: Any) -> None:
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_loss(_: Any, name: str) -> None:
    raise FrozenInstanceError(f"cannot delete field {name!r}")


@recursive_repr()
def _written(self: Any) -> str:
    told = (f"{each.name}={getattr(self, each.name)!r}" for each in fields(self) if each.repr)
    return f"{type(self).__qualname__}({', '.join(told)})"


SHARED: dict[str, Callable[..., Any]] = {
    "__setattr__": _refuse_change,
    "__delattr__": _refuse_loss,
    "__repr__": _written,
}
