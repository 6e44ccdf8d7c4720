"""How much code there is, room by room: lines without docstrings, comments, blanks and imports.

    python -m tests.bench.code_size                   what stands in the checkout
    python -m tests.bench.code_size REVISION          beside it what stood at that revision of the repository

Moving code between rooms leaves the sum as it is; a second way to the same number shows as growth.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = ("calc", "server", "tests", "deploy")


def code_lines(source: str) -> int:
    """The lines of a module that hold code.

    >>> code_lines('import math\\n\\n# a comment\\ndef half(x):\\n    "Half of it."\\n    return x / 2\\n')
    2
    """
    tree = ast.parse(source)
    lines = source.splitlines()
    left_out = {number for node in ast.walk(tree) for number in _not_counted(node)}
    numbers = (number for number in range(1, len(lines) + 1) if number not in left_out)
    return sum(1 for number in numbers if lines[number - 1].strip() and not lines[number - 1].lstrip().startswith("#"))


def _not_counted(node: ast.AST) -> Iterator[int]:
    """The lines of an import, and of the docstring of what may have one."""
    if isinstance(node, (ast.Import, ast.ImportFrom)):
        yield from range(node.lineno, (node.end_lineno or node.lineno) + 1)
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
    if isinstance(node, documented) and ast.get_docstring(node, clean=False) is not None:
        text = node.body[0]
        yield from range(text.lineno, (text.end_lineno or text.lineno) + 1)


def room_of(path: str) -> str:
    """The room that a module belongs to: `calc/contour`, or the folder itself for what stands in none.

    >>> room_of("calc/contour/solving/given.py"), room_of("server/app.py")
    ('calc/contour', 'server')
    """
    parts = PurePosixPath(path).parts
    return "/".join(parts[:2]) if len(parts) > 2 else parts[0]


def standing() -> Iterator[tuple[str, str]]:
    """The name and the text of every module in the checkout."""
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*.py")):
            yield path.relative_to(ROOT).as_posix(), path.read_text("utf-8")


def stood(revision: str) -> Iterator[tuple[str, str]]:
    """The name and the text of every module at a revision."""
    for name in _git("ls-tree", "-r", "--name-only", revision, "--", *FOLDERS).splitlines():
        if name.endswith(".py"):
            yield name, _git("show", f"{revision}:{name}")


def _git(*words: str) -> str:
    return subprocess.run(["git", *words], cwd=ROOT, check=True, capture_output=True, text=True).stdout


def counted(modules: Iterator[tuple[str, str]]) -> Counter[str]:
    """Code lines by room and, under its name alone, of each top folder."""
    sizes: Counter[str] = Counter()
    for name, source in modules:
        lines, room = code_lines(source), room_of(name)
        sizes[room] += lines
        if "/" in room:
            sizes[f"{name.partition('/')[0]} in all"] += lines
    return sizes


def main(revision: str | None) -> None:
    """Print the table."""
    now, then = counted(standing()), counted(stood(revision)) if revision else Counter[str]()
    for room in sorted(now | then):
        before = f"{then[room]:8d}" if revision else ""
        print(f"{room:28s}{before}{now[room]:8d}")


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else None)
