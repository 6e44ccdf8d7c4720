"""One test for many cases of a catalogue: it names every case that fails, and costs the frame of a test once."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterable
from typing import TypeVar

T = TypeVar("T")


def for_each(cases: Iterable[T], named: Callable[[T], str]) -> Callable[[Callable[[T], None]], Callable[[], None]]:
    """Let a test that takes one case run for all; `named` says which one failed."""
    listed = tuple(cases)
    assert listed

    def made(test: Callable[[T], None]) -> Callable[[], None]:
        def of_all() -> None:
            failed = {named(case): error for case in listed if (error := _failing(test, case))}
            assert failed == {}

        functools.update_wrapper(of_all, test)
        del of_all.__wrapped__  # type: ignore[attr-defined]  # else its argument would be taken for a fixture
        return of_all

    return made


def _failing(test: Callable[[T], None], case: T) -> str:
    """Why a case fails, "" where it does not."""
    try:
        test(case)
    except Exception as error:
        return f"{type(error).__name__}: {error}"
    return ""
