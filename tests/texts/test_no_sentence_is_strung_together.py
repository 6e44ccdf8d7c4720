"""No text for people is strung together from English pieces: a translator would not see it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

from jinja2 import nodes

from server.rendering import environment
from server.settings import STATIC, TEMPLATES
from tests.texts.gathered import NOT_SHOWN, ROOT

WORDS = re.compile(r"[A-Za-z]{2,}[:,;.]? | [A-Za-z]{2,}|^[A-Za-z]{2,}: ")
"""A word with a space beside it."""

NONE = re.compile(r"<|=\"|\\|^/|~|\(\?P|url\(|attachment;|^HX-")
"""What no sentence has: markup, patterns, addresses, rows as they are typed, headers."""

RAISED = ("Error", "Formula")
"""What a programmer reads."""

ALLOWED = {
    "calc/shapes/rounding.py: the radius at corner … must be at most … mm": "raised for programs alone",
    "calc/language/reading/sentences.py: … coordinate": "a noun whose two forms are both in the catalogue",
    "calc/questions/cutting/material_rows.py: … HB": "the unit of hardness, alike in every language",
    "calc/contour/row_words.py: word …: …": "names the place to a program; the page has a sentence of its own",
    "server/row_texts.py: row …: …": "names the place to a program; the page has a sentence of its own",
    "calc/measuring/run_of_parts.py: line …: …": "names the place to a program; the page says the line and the reason",
    "server/shop/store.py: based on …, current is …": "never shown: the page has both changes joined",
    "server/shop/keeping.py: … of … …, … removed that can be brought back": "for whoever runs the server",
    "calc/cutting/material_data.py: hardness-rule: …": "the name of a source in a table",
    "calc/cutting/own_material.py: … kc …": "a material as it is typed, in every language",
    "calc/language/reading/amounts.py: …min …s": "a time as it is typed",
    "calc/questions/shapes/shoulder.py: DIN 509 - … …": "a designation",
    "calc/threads/designation.py: Rd …": "a designation",
    "calc/threads/on_print.py: DIN 509 - … …": "a designation",
    "calc/threads/series.py: ACME …-…": "a designation",
    "calc/threads/series.py: Rd …": "a designation",
    "calc/threads/series.py: Tr …x…": "a designation",
    "calc/threads/series.py: Tr …x… P…": "a designation",
    "server/sheets/counting.py: … min": "a time with its unit, alike in every language",
    "server/sheets/showing.py: … UTC": "the name of the time scale",
}
"""What may stand, with the reason."""


def strung(tree: ast.AST) -> Iterator[str]:
    """Texts of several pieces with words in them, `…` for what is put in.

    >>> list(strung(ast.parse('f"Row {n} is wrong", "depth of " + name, "%s left" % n, " or ".join(names)')))
    ['Row … is wrong', 'depth of …', '%s left', ' or ']
    """
    for node in _read_by_people(tree):
        text = _pieces(node)
        if WORDS.search(text) and not NONE.search(text):
            yield text


def _read_by_people(node: ast.AST) -> Iterator[ast.AST]:
    """All nodes but those of errors that a programmer raises."""
    yield node
    raised = node.exc.func if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) else None
    if raised is None or not ast.unparse(raised).endswith(RAISED):
        for each in ast.iter_child_nodes(node):
            yield from _read_by_people(each)


def _pieces(node: ast.AST) -> str:
    """The text of one that is put together; "" for any other."""
    if isinstance(node, ast.JoinedStr):
        return "".join(str(each.value) if isinstance(each, ast.Constant) else "…" for each in node.values)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        return "".join(_text(side) or "…" for side in (node.left, node.right))
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mod):
        return _text(node.left)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in ("join", "format"):
        return _text(node.func.value)
    return ""


def _text(node: ast.AST) -> str:
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def test_no_code_strings_words_for_people_together() -> None:
    found = set()
    for path in sorted((*ROOT.glob("calc/**/*.py"), *ROOT.glob("server/**/*.py"))):
        where = path.relative_to(ROOT).as_posix()
        if not NOT_SHOWN.search(where):
            found |= {f"{where}: {text}" for text in strung(ast.parse(path.read_text("utf-8")))}
    assert found - ALLOWED.keys() == set()
    assert ALLOWED.keys() - found == set(), "allowed, and no longer there"


WORD = re.compile(r"[A-Za-z]{3,}")
SILENT = re.compile(r"<(script|style)\b.*?(</\1>|$)|<[^<>]*>|[\w-]+=\"[^\"]*\"|&\w+;", re.S)
NAMES = frozenset({"Chuckside", "UTC"})
FOR_PROGRAMMERS = frozenset({"docs.html"})


def test_no_template_says_a_word_without_the_catalogue() -> None:
    made = environment(TEMPLATES, STATIC)
    found = {}
    for name in set(made.list_templates()) - FOR_PROGRAMMERS:
        read = made.parse((TEMPLATES / name).read_text("utf-8"))
        words = {word for text in _shown(read) for word in WORD.findall(SILENT.sub(" ", text))} - NAMES
        if words:
            found[name] = words
    assert found == {}


def _shown(read: nodes.Template) -> Iterator[str]:
    """What stands between the tags of a template, and its words joined by `~`."""
    pieces = (each for out in read.find_all(nodes.Output) for each in out.nodes)
    yield "".join(each.data if isinstance(each, nodes.TemplateData) else "¦" for each in pieces)
    for row in read.find_all(nodes.Concat):
        yield from (each.value for each in row.nodes if isinstance(each, nodes.Const) and WORDS.search(str(each.value)))
