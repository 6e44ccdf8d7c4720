"""Which room may open the door to which, and that the map names every room."""

from __future__ import annotations

import ast
import re
import subprocess
import sys

from tests.house.sources import ROOT, imported, modules, name_of, tree

OWN = {"calc"}
# What the calculation package needs beside the standard library; each is named in DEVELOPERS.md with its reason.
NEEDED = {"numpy", "shapely"}
TESTS_ONLY = {"mpmath", "scipy", "sympy", "pint", "hypothesis", "pytest", "httpx", "playwright", "yaml"}
FAR_AWAY = ("server", "fastapi", "starlette", "jinja2", "pydantic", "uvicorn", "sqlalchemy", "segno", "http", "socket")


def first(name: str) -> str:
    return name.partition(".")[0]


FAR_FROM_PURE = {"time", "datetime", "secrets", "socket", "urllib", "http", "os", "subprocess"}


def imports_of(*folders: str) -> set[tuple[str, str]]:
    """Every module of the folders with each package that it imports."""
    return {(name_of(path), first(name)) for path in modules(*folders) for name in imported(path)}


def test_the_calculation_imports_nothing_but_its_own_the_library_and_arrays() -> None:
    allowed = OWN | NEEDED | sys.stdlib_module_names
    assert [found for found in sorted(imports_of("calc")) if found[1] not in allowed] == []


def test_what_is_served_imports_no_tests_and_none_of_their_references() -> None:
    refused = {*TESTS_ONLY, "tests", "deploy"}
    assert [found for found in sorted(imports_of("calc", "server")) if found[1] in refused] == []


def test_the_calculation_asks_neither_clock_nor_chance_nor_network() -> None:
    assert [found for found in sorted(imports_of("calc")) if found[1] in FAR_FROM_PURE] == []
    used = {
        (name_of(path), ast.unparse(node))
        for path in modules("calc")
        for node in ast.walk(tree(path))
        if _names(node, "random")
    }
    assert {found for found in used if found[1] != "random.Random(1)"} == set(), "the same numbers for every caller"


def _names(node: ast.AST, module: str) -> bool:
    return isinstance(node, ast.Call) and ast.unparse(node.func).startswith(f"{module}.")


def test_the_calculation_can_be_had_alone() -> None:
    """In an interpreter of its own, every module of it, without anything of the web."""
    code = (
        "import importlib, pkgutil, sys, calc\n"
        "for found in pkgutil.walk_packages(calc.__path__, 'calc.'): importlib.import_module(found.name)\n"
        f"print(*sorted(name for name in {FAR_AWAY!r} if name in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout.split(), done.stderr) == (0, [], "")


def test_the_dish_and_its_plan_are_there_before_arrays_and_areas_are_loaded() -> None:
    """A script that asks for one formula pays for no more than that."""
    code = "import sys, calc.questions.shapes.dish, calc.questions.shapes.taper, calc.questions.cutting.spindle; " + (
        "print(*sorted(name for name in ('numpy', 'shapely') if name in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []


def test_the_server_is_made_before_areas_and_the_database_are_loaded() -> None:
    code = "import sys, server.app; print(*sorted(n for n in ('shapely', 'sqlalchemy', 'alembic') if n in sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []


LOWER = ("language", "contour", "answer", "tool", "cutting", "shapes")
FLOORS = (*LOWER, "machining", "threads", "measuring", "questions")


def test_a_room_uses_only_rooms_below_its_own() -> None:
    upward = [
        f"{name_of(path)} -> {name}"
        for path in modules("calc")
        for name in imported(path)
        if name.startswith("calc.") and _floor(name.split(".")[1]) > _floor(path.relative_to(ROOT / "calc").parts[0])
    ]
    assert upward == []


def _floor(room: str) -> int:
    return FLOORS.index(room) if room in FLOORS else 0


def test_every_room_has_its_floor() -> None:
    assert {path.name for path in (ROOT / "calc").iterdir() if path.is_dir()} - {"__pycache__"} == set(FLOORS)


def rooms() -> list[str]:
    """Every folder with something of ours in it; tables and the steps of a history belong to the room around them."""
    roots = ("calc", "server", "templates", "static", "deploy", "tests")
    found = {path.parent for root in roots for path in (ROOT / root).rglob("*") if path.is_file()}
    apart = {"__pycache__", "vendor", "data", "materials", "pictures", "versions", ".venv"}
    inner = (name_of(path) for path in found if apart.isdisjoint(path.relative_to(ROOT).parts))
    return sorted(name for name in inner if "/" in name)


def on_the_map() -> set[str]:
    """The folders and modules that the map names, and the folders that these stand in."""
    roots = "calc|server|templates|static|tests|deploy"
    named = re.findall(rf"`((?:{roots})/[a-z_/]*)(?:\.py)?`", _map())
    return {name.rstrip("/") for name in named} | {name.rstrip("/").rpartition("/")[0] for name in named}


def _map() -> str:
    return (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("\n## The data flow")[0]


def doors(room: str) -> set[str]:
    """The rooms whose tests stand in `room`: tests/contour/solving has those of calc/contour/solving."""
    inner = room.removeprefix("tests/")
    return {f"calc/{inner}", f"server/{inner}", inner}


def test_every_room_is_on_the_map() -> None:
    mapped = on_the_map()
    assert [room for room in rooms() if room not in mapped and doors(room).isdisjoint(mapped)] == []


def test_the_map_names_nothing_that_is_not_there() -> None:
    named = re.findall(r"`((?:calc|server|templates|static|tests|deploy)/[a-z_0-9/.*]*)`", _map())
    assert len(named) > 40
    assert [name for name in named if not list(ROOT.glob(name.rstrip("/")))] == []


def test_the_top_of_the_house_holds_what_it_should_and_no_more() -> None:
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    rooms = {"server", "calc", "templates", "static", "tests", "deploy"}
    assert found - {"__pycache__"} == {"README.md", "DEVELOPERS.md", "pyproject.toml"} | rooms
