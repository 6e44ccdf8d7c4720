"""How the questions are declared: one name with one meaning, nothing written twice."""

from __future__ import annotations

import ast
import dataclasses
import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal, get_args, get_origin, get_type_hints

from calc.language.fields import Spec, give, specs
from calc.language.reading.units import UNITS, accepted
from server.catalogue import FEATURES
from server.sheets.model import Sheet
from tests.house.sources import modules, name_of, tree

# Names that questions declare in more than one way, each with its reason.
PLAIN = "the plain word for one dimension of what is turned or measured"
OWN_WAYS = {
    **dict.fromkeys(("angle", "height", "included_angle", "large_diameter", "length", "over", "small_diameter"), PLAIN),
    **dict.fromkeys(("bar_length", "size", "tilt", "travel"), "of a gauge on its page, of other things elsewhere"),
    "depth": "the API calls both the dish's depth and the depth of a cut so",
    "designation": "the API calls what is written on the box or the print so, of inserts and of threads",
    "diameter": "the API calls the one diameter of a question so",
    "form": "the form of a knurl, as its standard names it",
    "material": "how a part expands is told by its group alone",
    "nose_radius": "a force and a chip are found for a sharp corner too; a nose is traced only when it is round",
    "radius": "the API calls the one radius of a question so: of a dish, a crown, a corner",
    "roughing": "a dish is roughed along its own arc or faced level by level",
    "shape": "tools are tried on a contour of one's own, speed and force also on the plain shapes",
    "side": "a link without a side keeps the one that its page has always begun with",
    "spread": "the API calls the half width at 95 % so, of whatever is read",
    "surface": "what is hollow and what is crowned is asked of a finish, of a gauge and of points",
    "tolerance": "a diameter is allowed one for a caution; a fitted curve needs the one of its points",
    "where": "outside and inside are asked of many shapes, in the words of each",
}


def declared(spec: Spec) -> tuple[object, ...]:
    """What of a declaration is the same wherever the name stands: label, kind, range, choices and the one taken."""
    kind = spec.kind.name if spec.kind else ""
    start = spec.start if spec.role == "choice" else ""
    return spec.role, spec.label, kind, spec.least, spec.above, spec.most, tuple(spec.choices.items()), start


def ways() -> dict[str, set[tuple[object, ...]]]:
    """Every input's name with the ways in which it is declared."""
    found: dict[str, set[tuple[object, ...]]] = defaultdict(set)
    for feature in FEATURES:
        for spec in specs(feature.inputs):
            found[spec.name].add(declared(spec))
    return found


def test_a_name_has_one_declaration() -> None:
    several = {name for name, each in ways().items() if len(each) > 1}
    assert several - OWN_WAYS.keys() == set()


def test_every_exception_is_one() -> None:
    several = {name for name, each in ways().items() if len(each) > 1}
    assert OWN_WAYS.keys() - several == set()


def test_what_a_field_starts_with_is_the_same_wherever_it_starts_with_anything() -> None:
    found: dict[str, set[object]] = defaultdict(set)
    for feature in FEATURES:
        for spec in specs(feature.inputs):
            if spec.role == "quantity" and spec.start is not None:
                found[spec.name].add(spec.start)
    # A dish is cut from the face: what is left for the finish lies along Z; a shaft's along X.
    assert {name for name, starts in found.items() if len(starts) > 1} == {"allowance_x", "allowance_z"}


FROM_TABLES = {"centre_hole_size", "centre_size", "form", "knurl_form", "operation", "rubber", "size", "tool"}
"""Choices whose codes are the rows of a table of data, so that a new row needs no change of code."""


def classes(of: type[Any]) -> Iterator[type[Any]]:
    """A class of declared inputs, those of its parts and of its rows."""
    yield of
    for item in dataclasses.fields(of):
        if "part" in item.metadata:
            yield from classes(item.metadata["part"][0])
        elif "spec" in item.metadata and item.metadata["spec"].rows:
            yield from classes(item.metadata["spec"].rows.row)


def typed_choices() -> Iterator[tuple[str, Any, tuple[str, ...]]]:
    """Each choice: its class and name, its type, its codes."""
    asked: list[type[Any]] = [Sheet, *(feature.inputs for feature in FEATURES)]
    every = {each for of in asked for each in classes(of)}
    for of in sorted(every, key=lambda each: each.__name__):
        hints = get_type_hints(of)
        for item in dataclasses.fields(of):
            if "spec" in item.metadata and item.metadata["spec"].role == "choice":
                yield f"{of.__name__}.{item.name}", hints[item.name], tuple(item.metadata["spec"].choices)


def test_a_choice_has_the_type_of_its_codes_so_that_a_mistyped_comparison_is_a_type_error() -> None:
    found = {name: (hint, codes) for name, hint, codes in typed_choices()}
    assert len(found) > 100
    plain = {name for name, (hint, _) in found.items() if hint is str}
    assert {name.partition(".")[2] for name in plain} == FROM_TABLES
    lists = {name: (get_args(hint), codes) for name, (hint, codes) in found.items() if name not in plain}
    assert [name for name in lists if get_origin(found[name][0]) is not Literal] == []
    assert [name for name, (typed, codes) in lists.items() if set(typed) != set(codes)] == []


def test_a_starting_value_has_its_reason_beside_it() -> None:
    started = [spec for each in FEATURES for spec in specs(each.inputs) if spec.role == "quantity" and spec.start]
    assert len(started) > 10
    assert [spec.name for spec in started if not spec.because] == []


def test_beside_every_spindle_limit_stands_what_decides_it() -> None:
    limits = [spec for each in FEATURES for spec in specs(each.inputs) if spec.name == "max_rpm"]
    assert len(limits) > 10
    for spec in limits:
        assert all(word in spec.help for word in ("chuck", "machine", "bar feeder", "balance", "length"))


ODD_REQUESTS = re.compile(
    r"^Give the (?:a|an|at|by|from|in|inside|its|of|on|that|to|what|where|which|with)\b", re.IGNORECASE
)


def test_a_label_is_a_name_that_can_be_asked_for() -> None:
    """It begins with a capital, and "Give the ..." with it is English: not "Give the at surface speed"."""
    labels = {(feature.path, spec.label) for feature in FEATURES for spec in specs(feature.inputs) if not spec.rows}
    odd = [each for each in sorted(labels) if each[1][0].islower() or ODD_REQUESTS.match(give(each[1]).say())]
    assert odd == []


def test_no_label_leaks_the_name_of_a_constant() -> None:
    told = {
        (feature.path, words)
        for feature in FEATURES
        for declared_ in (feature.inputs, feature.results, *(rows.row for rows in feature.rows.values()))
        for spec in specs(declared_)
        for words in (spec.label, spec.help, *spec.choices.values())
    }
    assert [each for each in sorted(told) if re.search(r"\b[A-Z]{3,}_[A-Z]|\bgives way\b|\breckon", each[1])] == []


def test_what_a_blank_means_is_declared_and_not_told_in_a_hint() -> None:
    every = {(feature.path, spec.name, spec.hint) for feature in FEATURES for spec in specs(feature.inputs)}
    assert [each for each in sorted(every) if "blank:" in each[2]] == []


def test_a_missing_value_is_never_taken_for_a_number() -> None:
    """`inputs.feed or 0.0` hides that the feed was forgotten; say what a blank means, or that it is needed."""
    found = [f"{name_of(path)}:{line} {text}" for path in modules("calc") for line, text in numbers_for_nothing(path)]
    assert found == []


def numbers_for_nothing(path: Path) -> Iterator[tuple[int, str]]:
    """Each place where a number stands in for a name or an attribute that may be None."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.BoolOp) and isinstance(node.op, ast.Or):
            standing_in = _is_number(node.values[-1]) and isinstance(node.values[0], (ast.Name, ast.Attribute))
        else:
            standing_in = isinstance(node, ast.IfExp) and _is_number_or_itself(node)
        if standing_in and isinstance(node, ast.expr):
            yield node.lineno, ast.unparse(node)


def _is_number_or_itself(node: ast.IfExp) -> bool:
    """Whether it says `0.0 if feed is None else feed`, either way round; `else feed.usual` says what is taken."""
    asked = ast.unparse(node.test).removesuffix(" is None").removesuffix(" is not None")
    number, itself = (node.orelse, node.body) if " is not None" in ast.unparse(node.test) else (node.body, node.orelse)
    return _is_number(number) and ast.unparse(itself) == asked


def test_a_number_that_stands_in_for_nothing_is_found_however_it_is_written(tmp_path: Path) -> None:
    found = {
        "a.feed or 0.0": True,
        "0.0 if a.feed is None else a.feed": True,
        "a.feed if a.feed is not None else 0.0": True,
        "0.0 if a.plane is None else a.plane.taper": False,
        "USUAL if a.feed is None else a.feed": False,
    }
    for number, (text, wrong) in enumerate(found.items()):
        path = tmp_path / f"one_{number}.py"
        path.write_text(f"x = {text}\n", "utf-8")
        assert bool(list(numbers_for_nothing(path))) is wrong, text


def _is_number(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, (int, float)) and not isinstance(node.value, bool)


def test_every_kind_of_a_field_knows_which_units_may_be_typed_in_it() -> None:
    """A unit that does not belong there is refused in words: each group of units that a field takes is there."""
    kinds = {spec.kind for feature in FEATURES for spec in specs(feature.inputs) if spec.kind}
    unknown = {(kind.name, group) for kind in kinds for group in accepted(kind) if group not in UNITS}
    assert unknown == set()
