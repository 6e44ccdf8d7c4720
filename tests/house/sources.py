"""The project's own files, read once: texts and syntax trees."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = ("calc", "server", "tests", "deploy")
TEXTS = (".py", ".md", ".toml", ".html", ".css", ".js", ".yaml", ".service", ".ini", ".mako", "")
OURS = (*FOLDERS, "templates", "static", ".ci")


@cache
def modules(*folders: str) -> tuple[Path, ...]:
    """The Python files below the folders."""
    found = (path for folder in folders for path in (ROOT / folder).rglob("*.py"))
    return tuple(sorted(path for path in found if ".venv" not in path.parts))


@cache
def tree(path: Path) -> ast.Module:
    """The syntax tree of a module."""
    return ast.parse(path.read_text("utf-8"))


@cache
def texts() -> tuple[Path, ...]:
    """Every text file that somebody here wrote; locks and what others wrote are left out."""
    found = [path for folder in OURS for path in (ROOT / folder).rglob("*") if path.is_file()]
    found += [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "pyproject.toml"]
    return tuple(sorted(path for path in found if path.suffix in TEXTS and not _foreign(path)))


def _foreign(path: Path) -> bool:
    return not {"vendor", "__pycache__", ".venv"}.isdisjoint(path.parts) or path.name.startswith(".DS")


def name_of(path: Path) -> str:
    """A file as the documents call it."""
    return path.relative_to(ROOT).as_posix()


def imported(path: Path) -> Iterator[str]:
    """The full names of the modules that a module imports, wherever in it that stands."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{name_of(path)}: modules are named in full"
            yield node.module or ""


Function = ast.FunctionDef | ast.AsyncFunctionDef


def functions(path: Path) -> Iterator[Function]:
    """Every function of a module, methods and inner ones too."""
    return (node for node in ast.walk(tree(path)) if isinstance(node, Function))


@cache
def lines_of(path: Path) -> tuple[str, ...]:
    """The lines of a file."""
    return tuple(path.read_text("utf-8").splitlines())


def code_lines(path: Path, function: Function) -> int:
    """The lines of a function that hold code: neither docstring, nor comment, nor blank."""
    lines = lines_of(path)
    numbers = set(range(function.lineno, (function.end_lineno or 0) + 1))
    if ast.get_docstring(function) is not None:
        told = function.body[0]
        numbers -= set(range(told.lineno, (told.end_lineno or 0) + 1))
    return sum(1 for number in numbers if lines[number - 1].strip() and not lines[number - 1].lstrip().startswith("#"))
