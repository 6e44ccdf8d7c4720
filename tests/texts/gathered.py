"""The texts that people read, with where each stands: in code, in declarations, in data, in templates, in scripts."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import nodes

from calc.answer.feature import Feature
from calc.cutting.grades import grades
from calc.language.fields import specs
from calc.language.messages import Phrase
from calc.language.quantities import KINDS
from calc.language.reading.sentences import noun
from calc.language.reading.units import UNITS
from server.catalogue import FEATURES, GROUPS
from server.families import FAMILIES
from server.rendering import environment, script_names, script_texts
from server.settings import STATIC, TEMPLATES

ROOT = Path(__file__).resolve().parents[2]
_LISTED = tomllib.loads((Path(__file__).parent / "words.toml").read_text("utf-8"))

SAID_BY = frozenset({"Message", "Phrase"})
"""What makes a text of its first argument."""

NOT_SAID_BY = frozenset({"TypeVar", "ParamSpec", "cast", "compile", "fullmatch", "setdefault", "Thread", "match"})
"""What takes names, patterns and types as text."""

WORDS = re.compile(r"[A-Za-z]{2,}.* .*[a-z]{2,}|[a-z]{2,} [a-zA-Z]|^[A-Z][a-z]{2,}$|^[A-Z][a-z]+ ")
"""How a literal looks that may be words for people: several words, or one that begins as a sentence does."""

CODE = re.compile(r"[<_~|{}]|^[/#&?]|\\|list\[|ndarray")
"""What no text for people has: markup, names, addresses."""

WORD = re.compile("[a-z]{2}")
"""What every text has that is no symbol, number or designation alone; places for values aside."""

NO_TEXTS = frozenset(_LISTED["none"])
"""Literals that look like words and are none: names of headers, classes and formats, keys of sources."""

NOT_SHOWN = re.compile(
    r"server/shop/(schema|api|json_entries)|server/(docs|schema|settings|api|contour_json|contour_api|contour_chain|contour_plan_api|bodies|json_bodies|"
    r"connections|headers|old_names|guarding|__main__|assets|exports|curve_api|part_reading|nose_path_api|"
    r"tool_finder_api|part_api|part_tools|part_proposal_api|app|posting|answers|rendering|languages)\.py"
    r"|server/line/(?!unanswered)|server/computing/(?!refused)|server/sketch/(markup|boxes)|calc/language/(working/|translating)"
    r"|server/sheets/(database|schema|access_log|store|tables|api|backup|keeping|migrating|model_schema|lanes|opening|"
    r"mounting|desk|keys|migrations/)"
    r"|calc/cutting/names|calc/contour/__init__|calc/machining/(words|contour_words|pass_words)|calc/questions/part/words"
)
"""Modules whose words are for programs and for those who run the server: the API, ISO 6983 words, logs."""

ALONE: tuple[str, ...] = tuple(_LISTED["alone"])
"""Words said by themselves where nothing tells them from names of fields."""

IN_DATA = frozenset({"title", "text", "condition", "words", "term", "means", "note", "source", "pitches_source", "why"})
"""Names in the tables of data that hold words for people."""

Text = tuple[str, str]


@cache
def gathered() -> dict[str, str]:
    """Every text with the file where it stands first."""
    found: dict[str, str] = {}
    for text, where in (
        *((text, "calc") for text in ALONE),
        *_declared(),
        *_in_code(),
        *_in_data(),
        *in_templates(),
        *_in_scripts(),
    ):
        bare = re.sub(r"\{\w+\}", "…", text)
        is_said = text in ALONE or where.startswith("templates/")
        if is_said or (WORD.search(bare) and not CODE.search(bare) and text not in NO_TEXTS):
            found.setdefault(text, where)
    return found


def _declared() -> Iterator[Text]:
    """What features, fields, results, families and kinds of quantity are called."""
    for feature in FEATURES:
        yield from _of_feature(feature)
    yield from ((title, "server/catalogue.py") for title in GROUPS)
    for family in FAMILIES:
        yield from ((text, "server/families.py") for text in (family.title, *(words for words, _ in family.members)))
    kinds = (work.title.message.values["kind"] for work in grades().values() if isinstance(work.title, Phrase))
    yield from ((str(kind), "calc/cutting/data/names") for kind in kinds)
    of_fields = (spec.kind for feature in FEATURES for spec in specs(feature.inputs) if spec.kind is not None)
    names = {*UNITS, *(kind.name for kind in (*KINDS, *of_fields))}
    yield from ((noun(name), "calc/language/reading/sentences.py") for name in sorted(names))


def _of_feature(feature: Feature[Any, Any]) -> Iterator[Text]:
    where = feature.path
    yield from (
        (text, where) for text in (feature.title, feature.summary, *feature.leads_to.values(), *feature.examples)
    )
    yield from ((text, where) for rows in feature.rows.values() for text in (rows.caption, rows.group))
    for declared in (feature.inputs, feature.results, *(rows.row for rows in feature.rows.values())):
        yield from ((text, where) for text in texts_of(declared))


def texts_of(declared: type[Any]) -> Iterator[str]:
    """The texts of a declared class, those of its rows too."""
    for spec in specs(declared):
        yield from (spec.label, spec.hint, spec.blank, spec.because, spec.brief, spec.group, *spec.choices.values())
        if spec.rows is not None:
            yield spec.rows.one
            yield from texts_of(spec.rows.row)


def _in_code() -> Iterator[Text]:
    """The literals of calc and server that are words for people."""
    for path in sorted((*ROOT.glob("calc/**/*.py"), *ROOT.glob("server/**/*.py"))):
        where = path.relative_to(ROOT).as_posix()
        if not NOT_SHOWN.search(where):
            yield from ((text, where) for text in literals(ast.parse(path.read_text("utf-8"))))


def literals(tree: ast.AST) -> Iterator[str]:
    """The literals under a node that are said, or that look like words and are no documentation and no error's.

    >>> list(literals(ast.parse('def f():\\n    "No text."\\n    return Message("ok"), "in words"')))
    ['ok', 'in words']
    """
    if isinstance(tree, ast.Expr) and isinstance(tree.value, ast.Constant):
        return
    if isinstance(tree, ast.JoinedStr):
        yield from (
            text for part in tree.values if isinstance(part, ast.FormattedValue) for text in literals(part.value)
        )
        return
    if isinstance(tree, ast.Compare):
        return
    if isinstance(tree, ast.Assign) and ast.unparse(tree.targets[0]) == "__all__":
        return
    if isinstance(tree, ast.Call) and _name(tree) in NOT_SAID_BY:
        return
    if (
        isinstance(tree, ast.Raise)
        and isinstance(tree.exc, ast.Call)
        and _name(tree.exc).endswith(("Error", "Formula"))
    ):
        return
    if isinstance(tree, ast.Call) and _name(tree) in SAID_BY and tree.args:
        yield from (each.value for each in ast.walk(tree.args[0]) if _is_text(each))  # type: ignore[attr-defined]
    if _is_text(tree) and WORDS.search(tree.value):  # type: ignore[attr-defined]
        yield tree.value  # type: ignore[attr-defined]
    for each in ast.iter_child_nodes(tree):
        yield from literals(each)


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _name(call: ast.Call) -> str:
    return ast.unparse(call.func).rpartition(".")[2]


def _in_data() -> Iterator[Text]:
    for path in sorted((*ROOT.glob("calc/**/*.toml"), ROOT / "server/terms.toml")):
        where = path.relative_to(ROOT).as_posix()
        if "/names/" in where:
            continue
        read = tomllib.loads(path.read_text("utf-8"))
        skipped = {"source"} if "/materials/" in where else set()
        every = path.name in ("sources.toml", "iso1832.toml", "iso5608.toml")
        yield from ((text, where) for text in (_all(read) if every else _named(read, skipped)))


def _named(data: Any, skipped: set[str]) -> Iterator[str]:
    if isinstance(data, dict):
        for name, value in data.items():
            if isinstance(value, str):
                yield from (value,) if name in IN_DATA - skipped and re.search("[a-z]{2}", value) else ()
            else:
                yield from _all(value) if name == "titles" else _named(value, skipped)
    elif isinstance(data, list):
        yield from (text for each in data for text in _named(each, skipped))


def _all(data: Any) -> Iterator[str]:
    values: Iterable[Any] = data.values() if isinstance(data, dict) else data if isinstance(data, list) else ()
    yield from (data,) if isinstance(data, str) else (text for value in values for text in _all(value))


def in_templates() -> Iterator[Text]:
    """What templates say by `_`."""
    made = environment(TEMPLATES, STATIC)
    for name in made.list_templates():
        read = made.parse((TEMPLATES / name).read_text("utf-8"))
        for call in read.find_all(nodes.Call):
            if isinstance(call.node, nodes.Name) and call.node.name == "_":
                first = call.args[0]
                assert isinstance(first, nodes.Const), f"templates/{name}: `_` takes a literal"
                yield first.value, f"templates/{name}"


def _in_scripts() -> Iterator[Text]:
    """What scripts say by `words`."""
    yield from ((text, "static") for name in script_names(STATIC) for text in script_texts(STATIC, name))
