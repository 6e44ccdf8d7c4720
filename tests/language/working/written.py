"""Formulas written to a file and imported, as a developer would write them."""

from __future__ import annotations

import importlib.util
import itertools
import sys
from pathlib import Path
from types import ModuleType

HEAD = '''"""A module of formulas."""

from __future__ import annotations

from math import acos, asin, atan, atan2, ceil, cos, exp, floor, hypot, log, pi, sin, sqrt, tan

from calc.language.quantities import *
from calc.language.working import formula, recording

H0: Length = 1.0

'''

_numbers = itertools.count()


def module(folder: Path, text: str, name: str = "") -> ModuleType:
    """The module of `text`, imported from a file of its own."""
    path = folder / f"{name or f'written_{next(_numbers)}'}.py"
    path.write_text(HEAD + text, encoding="utf-8")
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec
    assert spec.loader
    made = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = made
    try:
        spec.loader.exec_module(made)
    finally:
        del sys.modules[path.stem]
    return made


def formula_text(body: str, parameters: str, result: str, symbol: str = "y", name: str = "f") -> str:
    """The source of one formula."""
    return (
        f'@formula(source="a test", means="a value", result="{symbol}")\n'
        f'def {name}({parameters}) -> {result}:\n    """A value."""\n    return {body}\n'
    )
