"""How the project is written: small pieces, each public one explained, nothing that ties it to where it was made."""

from __future__ import annotations

import ast
import hashlib
import importlib
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path

import calc
from calc.language.quantities import View
from calc.language.working import Formula, NotAFormula, all_formulas
from tests.house.sources import FOLDERS, ROOT, Function, code_lines, functions, modules, name_of, texts, tree

MOST_LINES = 350
MOST_CODE = 30
# What may be longer, with its reason.
LONG_FUNCTIONS = {
    "server/sheets/migrations/versions/0001_sheets.py:upgrade": "the tables as they were made, never changed again",
}
BARE = {"float", "int", "str", "bool", "None", "Sequence", "tuple", "list", "Mapping", "dict", "Iterable", "Literal"}

for _found in pkgutil.walk_packages(calc.__path__, "calc."):
    importlib.import_module(_found.name)

FORMULAS = [formula for formula in all_formulas() if formula.name.startswith("calc.")]


def test_no_module_is_longer_than_somebody_reads_at_once() -> None:
    lengths = {name_of(path): len(path.read_text("utf-8").splitlines()) for path in modules(*FOLDERS)}
    assert [name for name, length in lengths.items() if length > MOST_LINES] == []


def test_no_function_is_longer_than_a_screen() -> None:
    found = {
        f"{name_of(path)}:{function.name}": code_lines(path, function)
        for path in modules(*FOLDERS)
        for function in functions(path)
    }
    assert {name for name, length in found.items() if length > MOST_CODE} <= LONG_FUNCTIONS.keys()


def public_functions(path: Path) -> Iterator[Function]:
    return (node for node in tree(path).body if isinstance(node, Function) and not node.name.startswith("_"))


def bare_arguments(function: Function) -> list[str]:
    """The arguments whose type says nothing of what they mean: numbers, texts, lists of them."""
    arguments = [*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs]
    return [argument.arg for argument in arguments if argument.annotation and _is_bare(argument.annotation)]


def _is_bare(annotation: ast.expr) -> bool:
    names = {node.id for node in ast.walk(annotation) if isinstance(node, ast.Name)}
    return names <= BARE and not names.isdisjoint({"float", "int", "str", "bool"})


def test_a_public_function_says_what_it_does_and_what_a_bare_number_or_text_given_to_it_means() -> None:
    """By an example that runs, or by naming the argument. A type of our own, such as Point, says it by itself."""
    found = [
        f"{name_of(path)}:{function.name} {words}"
        for path in modules("calc")
        for function in public_functions(path)
        if (words := unexplained(function))
    ]
    assert found == []


def unexplained(function: Function) -> str:
    """What a function's docstring leaves unsaid, in words; "" where it says all."""
    told = ast.get_docstring(function) or ""
    missing = [name for name in bare_arguments(function) if not re.search(rf"\b{name}\b", told)]
    if not told:
        return "says nothing"
    return f"does not say {', '.join(missing)}" if missing and ">>> " not in told else ""


def test_a_module_says_at_its_top_what_it_is_for() -> None:
    summaries = {
        name_of(path): (ast.get_docstring(tree(path)) or "").partition("\n\n")[0] for path in modules("calc", "server")
    }
    assert [name for name, summary in summaries.items() if not summary.endswith((".", ":", "?"))] == []


def test_a_formula_has_a_source_a_meaning_kinds_and_a_line_for_readers_of_both_systems() -> None:
    assert len(FORMULAS) > 100
    assert [(formula.name, words) for formula in FORMULAS for words in lacking(formula)] == []


def lacking(formula: Formula[...]) -> Iterator[str]:
    """What a formula lacks, in words."""
    if len(formula.source) <= 3:
        yield "no source"
    if not formula.means or formula.means.endswith("."):
        yield "no meaning in a few words"
    if len(formula.body.parameters) != formula.arity:
        yield "parameters without a kind"
    if not all(kind.name for kind in (formula.body.result, *formula.body.parameters)):
        yield "a kind without a name"
    for units in ("mm", "inch"):
        try:
            if not formula.layout(View(units)).plain.formula:
                yield f"no line in {units}"
        except NotAFormula as error:
            yield f"{units}: {error}"


# Addresses that may stand in a file: this machine, examples, the shop's own network, and names that only look like one.
ADDRESSES = re.compile(
    r"https?://(?:127\.0\.0\.1|localhost|0\.0\.0\.0|\[::1?\]|\{|[a-z0-9.-]+\.(?:example|local|invalid|test)\b|"
    r"www\.w3\.org/|192\.168\.|10\.|\[fd|[a-z0-9.-]+\.home\.arpa\b|[a-z]+(?=[:/\"'\s`<]|$))"
)
MACHINE = re.compile(r"(?<![\w.])/(?:home|root|Users|work|tmp/[a-z]+)/[\w.]+")
LEFT_OPEN = re.compile(r"\b(?:TODO|FIXME|XXX|HACK|WIP)\b")


def test_a_file_holds_no_address_of_another_host_no_path_of_a_machine_and_no_note_to_do() -> None:
    assert [(name_of(path), words) for path in texts() for words in strange(path)] == []


def strange(path: Path) -> Iterator[str]:
    """What a file holds that belongs to another place."""
    told = path.read_text("utf-8")
    yield from (each for each in re.findall(r"https?://[^\s\"'`<>)]*", told) if not ADDRESSES.match(each))
    yield from MACHINE.findall(told)
    yield from () if path == Path(__file__) else LEFT_OPEN.findall(told)


# Names of products for this job, of makers, and of tools to write with, which no file has; as digests, so that this one
# has none either.
UNNAMED = frozenset(
    {
        "01140820db52",
        "031542ee2e1a",
        "063de0773639",
        "0944e8246553",
        "15ce8a065881",
        "1d181bed801a",
        "2645a36c613b",
        "2d6f582ab271",
        "3ea125d0bff3",
        "487b91042c7c",
        "4b9b8ac6551a",
        "50f08e64c5a6",
        "585acef91cf0",
        "60965168ce76",
        "69a11ff2a38f",
        "6f4c691ff4a1",
        "7d3194f79e64",
        "9091e943243d",
        "94a168d2da57",
        "984f7b4489f9",
        "9cbd1b708d99",
        "a370801d0f89",
        "a3f429d73eab",
        "a5cef46d2d38",
        "b0e6592a78fd",
        "bac1240bc26c",
        "c690c6c8148b",
        "c70eca6b0f88",
        "c7e2067e8509",
        "c857d09db23e",
        "d298391b0743",
        "e365c7d095a4",
        "e7a513bec6d5",
        "f98366d48217",
    }
)


def words(path: Path) -> set[str]:
    return {word.lower() for word in re.findall(r"[A-Za-z][A-Za-z-]{3,}", path.read_text("utf-8"))}


def test_no_file_names_a_product_for_this_job() -> None:
    used = {(digest(word), name_of(path)) for path in texts() for word in words(path)}
    assert [name for digested, name in used if digested in UNNAMED] == []


def digest(word: str) -> str:
    return hashlib.sha256(word.encode()).hexdigest()[:12]


# How the project speaks: odd English on the left, what people say in the trade on the right.
WORDS = {
    r"\bas good as 0\b": "practically zero",
    r"\bgives? way\b": "deflects",
    r"\b(?:least|kept|has) in hand\b": "margin",
    r"\breckon": "calculated, treated as",
    r"\b(?:is|are) told\b(?! apart| from)": "shown, given, reported",
    r"\btells (?!\S+(?: \S+)? (?:apart|from)\b)": "shows, gives, says",
    r"\bstands? proud\b": "material left",
    r"\bno (?:free )?way (?:leads|through)\b": "no clear path",
    r"\bway of the (?:nose|tool|data)\b": "path, flow",
}
SPOKEN = ("calc/", "server/", "templates/", "static/", "README.md", "DEVELOPERS.md")


def test_texts_and_docstrings_are_in_the_words_of_the_trade() -> None:
    found = [
        f"{name_of(path)}: “{match[0]}”, rather: {better}"
        for path in texts()
        if name_of(path).startswith(SPOKEN) and "/vendor/" not in name_of(path)
        for odd, better in WORDS.items()
        for match in re.finditer(odd, path.read_text("utf-8"))
    ]
    assert found == []


def test_a_lock_names_no_index() -> None:
    for lock in (ROOT / "deploy").glob("*.lock"):
        assert "://" not in lock.read_text("utf-8")
