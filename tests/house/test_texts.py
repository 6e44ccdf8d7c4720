"""Every text that a page can say, read for what a practitioner stumbles over: names of code, odd requests."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from typing import Any

import pytest

from calc.answer.feature import Feature
from calc.cutting.finish import finish
from calc.cutting.tables import table
from calc.language.fields import specs
from calc.language.quantities import ROUGHNESS, View
from server.catalogue import FEATURES
from server.query import read_query
from tests.house.sources import ROOT, modules, name_of, tree

CODE = re.compile(r"\b[A-Za-z]+_[A-Z]{2,}\b|\b[A-Z]{2,}_[A-Z]+\b")
"""Names of constants and variables, which belong in code."""

SHOWN = {"title", "caption", "summary", "label", "hint", "blank", "because", "means", "source", "brief"}
"""Arguments whose texts are shown as they stand: of fields, lists, plots and formulas."""

ODD = re.compile(
    r"\b(?i:(?:give|enter) the (?:at|an?|the|by|its|of|on|what|where|which))\b"  # Give the At surface speed
    r"|`\w+` is (?:an?|the)\b"  # `H` is a time
    r"|\b(\w{2,}) \1\b"  # the the
    r"|\b(?:an (?=[bcdfgjkpqtvwz][a-z])|a (?=[aeio][a-z]))(?!one\b)"
    r"|\b[Rr]eckon|\bgives? way\b|\bproud\b"
    r"|\balong the way\b|\bapart by\b|\b(?:against|with) the clock\b|\bgravest\b|\bequal stretches\b|\bnobody knows\b"
    r"|\bbends out by itself\b|\bat least \S+ of:|\bfor the at\b|\b(?:power|torque) stands at$"
    r"|\b[Tt]hat far from\b|\bspeed to judge\b|\btells (?:it|the|its)\b|\bdoes not tell\b|\bas good as 0\b"
    r"|(?<!\.)\.\.(?!\.)|[a-z] [,.](?= |$)",
)
FINE = re.compile(r"\b(had had|that that)\b|\ba one\b")


def sentences() -> Iterator[tuple[str, str]]:
    """Each text given to a Message, shown as an argument, or bound to a constant, in calc and server."""
    for path in (*modules("calc"), *modules("server")):
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.Call) and ast.unparse(node.func) == "Message" and node.args:
                yield from ((f"{name_of(path)}:{node.lineno}", text) for text in texts(node.args[0]))
            if isinstance(node, ast.Call):
                shown = (each.value for each in node.keywords if each.arg in SHOWN)
                yield from ((f"{name_of(path)}:{node.lineno}", text) for value in shown for text in texts(value))
            if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]).lstrip("_").isupper():
                yield from ((f"{name_of(path)}:{node.lineno}", text) for text in texts(node.value) if " " in text)


def texts(node: ast.expr) -> Iterator[str]:
    yield from (each.value for each in ast.walk(node) if isinstance(each, ast.Constant) and isinstance(each.value, str))


@pytest.mark.parametrize(
    "text",
    [
        "Give the At surface speed.",
        "Give the an edge lasts.",
        "`H` is a time",
        "LARGEST_LOSS",
        "the the chuck",
        "a edge",
        "That far from the chuck",
        "the maker's list tells it",
        "at the speed to judge",
        "it springs back , and",
        "Reckon with the plain nose",
        "Power along the way",
        "numbers apart by spaces",
        "with the clock (reverse)",
        "Checks, gravest place each",
        "steadies in equal stretches",
        "Give at least 1 of: pieces off the axis.",
        "Largest power stands at",
    ],
)
def test_what_once_stood_on_a_page_is_found(text: str) -> None:
    assert ODD.search(text) or CODE.search(text)


def test_no_sentence_makes_a_practitioner_stumble() -> None:
    found = [(place, text) for place, text in sentences() if ODD.search(FINE.sub("", text))]
    assert found == []


def test_no_text_of_a_template_makes_a_practitioner_stumble() -> None:
    found = {path.name: ODD.search(of_people(path.read_text())) for path in (ROOT / "templates").rglob("*.html")}
    assert found
    assert [(name, odd.group()) for name, odd in found.items() if odd] == []


def of_people(template: str) -> str:
    """A template's own words: without comments, code and marks, each text in a line of its own."""
    return re.sub(r"(?s)\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}|<(script|style|svg)\b.*?</\1>|<[^>]+>|\s+", "\n", template)


NO_NOUN = re.compile(r"(?i)(?:at|by|between|cut|fed|from|held|in|is|it|made|of|on|over|the|to|top|allowed)\b")


def test_what_a_page_asks_for_has_a_noun_for_a_name() -> None:
    """The prompt is "Give the ...": the held at, the over both and the allowed on the diameter once stood there."""
    asked = {(feature.path, each.label) for feature in FEATURES for each in specs(feature.inputs) if each.required}
    assert len(asked) > 100
    assert [each for each in sorted(asked) if NO_NOUN.match(each[1])] == []


def test_no_caution_about_a_material_makes_a_practitioner_stumble() -> None:
    said = {row["text"] for row in table("cautions").values()}
    assert len(said) > 10
    assert [text for text in sorted(said) if ODD.search(FINE.sub("", text))] == []


def test_no_label_hint_or_choice_makes_a_practitioner_stumble() -> None:
    told = {
        (feature.path, words)
        for feature in FEATURES
        for each in (feature.inputs, feature.results, *(rows.row for rows in feature.rows.values()))
        for spec in specs(each)
        for words in (spec.label, spec.help, *spec.choices.values())
    }
    assert [each for each in sorted(told) if ODD.search(FINE.sub("", each[1])) or CODE.search(each[1])] == []


QUICK = [each for each in FEATURES if each.path.startswith(("speed-feed/", "nose-radius/fe", "nose-radius/fi"))]


@pytest.mark.parametrize("feature", QUICK, ids=lambda each: each.path)
def test_no_line_of_the_working_shows_the_name_of_a_constant(feature: Feature[Any, Any]) -> None:
    query = read_query(list(feature.example.items()), feature.inputs)
    _, steps = feature.answer(query.inputs(feature.inputs))
    lines = [str(step.plain(query.view)) for step in steps]
    assert lines
    assert [line for line in lines if CODE.search(line)] == []


def test_a_roughness_in_microinches_is_not_shown_as_the_limit_of_a_finer_grade() -> None:
    """A feed of 0.2 mm with a nose of 0.8 leaves 63.3 microinches, above the 63 of N7 (ISO 1302:1992): it is N8."""
    found = finish(0.2, 0.8)
    assert found.grade == "N8"
    assert ROUGHNESS.say(found.ra, View("inch")) == "63.3 µin"
