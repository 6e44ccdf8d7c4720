"""Gives back the memory of methods that are the same in every class, and of types that nobody asks for: 8 megabytes.

A dataclass gets its own copy of the method that refuses a change, of the one that writes it down, and of those that
tell two values apart. One of each does for all of them; a getter of the fields to compare is a tenth of such a method,
and as quick.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import FrozenInstanceError, fields, is_dataclass
from inspect import unwrap
from operator import attrgetter
from reprlib import recursive_repr
from types import FunctionType
from typing import Any

CALCULATION = "calc."
OURS = (CALCULATION, "server.")
GENERATED = "<string>"  # the file of a method that was made from a text
LEAST_COMPARED = 2  # a getter of one field gives no tuple of it


def save_memory() -> None:
    """Do both: what our classes and functions hold twice or for nothing is given back."""
    share_methods()
    forget_types()


def share_methods() -> None:
    """Let all our classes share the methods that say the same, and have no signature in the place of a docstring."""
    for cls in _declared():
        for name, shared in SHARED.items():
            if _is_generated(cls.__dict__.get(name)):
                setattr(cls, name, shared)
        _share_comparison(cls)
        if (cls.__doc__ or "").startswith(f"{cls.__name__}("):
            cls.__doc__ = None


def forget_types() -> None:
    """Let the functions of the calculation have no annotations: checkers of types read those in the text.

    Formulas keep theirs, which say the kinds of their numbers; so do the few functions that keep their answers.
    """
    own = list(_own(CALCULATION))
    members = (each for cls in own if isinstance(cls, type) for each in vars(cls).values())
    for function in filter(None, map(_function_in, (*own, *members))):
        del function.__annotations__


def _function_in(each: Any) -> FunctionType | None:
    """The function itself, or in a property or a method of a class."""
    inner = getattr(each, "fget", None) or getattr(each, "func", None) or getattr(each, "__func__", None) or each
    return inner if isinstance(inner, FunctionType) else None


def build_models_late() -> None:
    """Let the models of the framework build what reads and writes them when the API is first described, 1 MB."""
    from pydantic import BaseModel  # noqa: PLC0415 - the processes that compute have no use for it

    BaseModel.model_config["defer_build"] = True


def _share_comparison(cls: Any) -> None:
    """Let a class that is told apart by two fields or more do so through a getter of them."""
    compared = [each.name for each in fields(cls) if each.compare]
    hashed = [each.name for each in fields(cls) if (each.compare if each.hash is None else each.hash)]
    if len(compared) < LEAST_COMPARED or not _is_generated(cls.__dict__.get("__eq__")):
        return
    cls.__compared__ = attrgetter(*compared)
    cls.__eq__ = _equal
    if hashed == compared and _is_generated(cls.__dict__.get("__hash__")):
        cls.__hash__ = _hashed


def _declared() -> Iterator[type]:
    """The dataclasses of every module of ours that is loaded."""
    return (each for each in _own(OURS) if isinstance(each, type) and is_dataclass(each))


def _own(places: str | tuple[str, ...]) -> Iterator[Any]:
    """What the loaded modules whose names begin so declare themselves."""
    for name, module in tuple(sys.modules.items()):
        if name.startswith(places):
            yield from [each for each in vars(module).values() if getattr(each, "__module__", None) == name]


def _is_generated(method: Any) -> bool:
    code = getattr(unwrap(method), "__code__", None) if callable(method) else None
    return code is not None and code.co_filename == GENERATED


def _equal(self: Any, other: Any) -> Any:
    if other.__class__ is not self.__class__:
        return NotImplemented
    compared = self.__compared__
    return compared(self) == compared(other)


def _hashed(self: Any) -> int:
    return hash(self.__compared__(self))


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
