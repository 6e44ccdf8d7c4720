"""How much code there is, room by room: lines without docstrings, comments, blanks and imports.

    python -m tests.bench.code_size                   what stands in the checkout
    python -m tests.bench.code_size REVISION          beside it what stood at that revision of the repository, and how
                                                      much of `calc` the questions of that revision take, then and now

Moving code between rooms leaves the sum as it is; a second way to the same number shows as growth.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
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


def imported(modules: Mapping[str, str], begin: Iterable[str]) -> set[str]:
    """The modules among `modules` (name, text) that those of `begin` need, themselves too.

    >>> texts = {"calc/a.py": "from calc import b\\nimport math", "calc/b.py": "x = 1", "calc/c.py": "y = 2"}
    >>> sorted(imported(texts, ["calc/a.py"]))
    ['calc/a.py', 'calc/b.py']
    """
    found, open_ = set[str](), list(begin)
    while open_:
        name = open_.pop()
        if name not in found:
            found.add(name)
            open_ += _needs(modules, name)
    return found


def _needs(modules: Mapping[str, str], name: str) -> Iterator[str]:
    """What a module imports of the others, with the packages that those stand in."""
    for node in ast.walk(ast.parse(modules[name])):
        if isinstance(node, ast.ImportFrom) and node.module and not node.level:
            dotted = [node.module, *(f"{node.module}.{each.name}" for each in node.names)]
        else:
            dotted = [each.name for each in node.names] if isinstance(node, ast.Import) else []
        for path in (each.replace(".", "/") for each in dotted):
            yield from (each for each in (f"{path}.py", f"{path}/__init__.py") if each in modules)


def questions(modules: Mapping[str, str]) -> dict[str, str]:
    """The module that declares each question of `calc`, by the question's path."""
    declared = ((name, _path_of(text)) for name, text in modules.items() if "Feature(" in text)
    return {path: name for name, path in declared if path}


def _path_of(source: str) -> str:
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "Feature":
            return next((ast.literal_eval(each.value) for each in node.keywords if each.arg == "path"), "")
    return ""


def same_abilities(then: Mapping[str, str], now: Mapping[str, str]) -> tuple[int, int, int]:
    """How many questions of `then` still stand, and the code lines that they need of `calc`, then and now."""
    asked, standing_now = questions(then), questions(now)
    kept = asked.keys() & standing_now.keys()
    return len(kept), _needed(then, (asked[path] for path in kept)), _needed(now, (standing_now[path] for path in kept))


def _needed(modules: Mapping[str, str], begin: Iterable[str]) -> int:
    """The code lines of the modules of `begin` and of all that these need."""
    return sum(code_lines(modules[name]) for name in imported(modules, begin))


def _of_calc(modules: Iterator[tuple[str, str]]) -> dict[str, str]:
    return {name: text for name, text in modules if name.startswith("calc/")}


def main(revision: str | None) -> None:
    """Print the table."""
    now, then = counted(standing()), counted(stood(revision)) if revision else Counter[str]()
    for room in sorted(now | then):
        before = f"{then[room]:8d}" if revision else ""
        print(f"{room:28s}{before}{now[room]:8d}")
    if revision:
        kept, was, are = same_abilities(_of_calc(stood(revision)), _of_calc(standing()))
        print(f"{f'calc for the same {kept} questions':28s}{was:8d}{are:8d}   {are / was:.1%}")


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else None)
