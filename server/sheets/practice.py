"""Practising a step: the givens with fresh numbers, an answer judged, hints from the working that ran.

All of it follows from the step, the seed and what was typed, so a link holds a whole attempt and nothing is kept.
"""

from __future__ import annotations

import math
import random
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calc.answer.feature import Answer
from calc.language.fields import Spec, flat, specs
from calc.language.given import Given
from calc.language.limited import Limited, aimed, limited
from calc.language.messages import Phrase
from calc.language.problems import Problem
from calc.language.quantities import View
from calc.language.reading import ReadingError, read
from calc.language.translating import Language, has_comma
from calc.language.worded import worded_specs
from calc.language.working import Step as WorkingStep
from calc.threads.series import beside
from server.links import address
from server.sheets.addresses import Question, question_at
from server.sheets.existing import sizes_of
from server.sheets.part_practice import drawn_from
from server.typed import ambiguity, asks_back

_NOTHING = "This part has no operation to practise."
MOST_ASKED = 4
TRIES = 80
SPREAD = 0.35  # fresh numbers lie within this part of the step's own
THREAD = "designation"
HINTS = 3  # the formula, the same with numbers in, the value
# Given by tool, machine and standard, not by the print: another number would make no other case, only an odd one.
STANDING = (
    *(
        "nose_radius",
        "insert_width",
        "point_angle",
        "max_rpm",
        "chuck_limit",
        "exponent",
        "entering_angle",
        "jaw_count",
    ),
    *("bar_length", "density", "modulus", "yield_strength", "hardness", "ring_diameter", "flutes"),
)
_PLAIN = re.compile(r"(?=.)(?P<whole>\d*)(?:[.,](?P<decimals>\d+))?")
# An answer is right within half a percent; a length within a hundredth of a millimetre, an angle within a minute or so,
# where that is less. Rounded to the decimals that were typed it is right within two percent.
CLOSE = {"length": 0.011, "angle": math.radians(0.02)}
CLOSE_PART, ROUNDED_PART = 0.005, 0.02


@dataclass(frozen=True, slots=True)
class Case:
    """The numbers of one attempt: the question, its answer and working, and which results are asked for."""

    question: Question
    answer: Answer[Any]
    working: tuple[WorkingStep, ...]
    asked: tuple[Spec, ...]
    seed: int | None

    @property
    def view(self) -> View:
        """The conventions of the step."""
        return self.question.query.view

    def expected(self, spec: Spec) -> float:
        """The value that is asked for, internal units."""
        if self.is_guessed:
            given = flat(self.inputs)[spec.name]
            return 0.0 if given is None else float(given)
        return float(aimed(flat(self.answer.results)[spec.name]))

    @property
    def is_guessed(self) -> bool:
        """Whether the answer is given, and what led to it is asked for."""
        return bool(self.question.feature.guessed)

    @property
    def inputs(self) -> Any:
        """What was given, as the question takes it."""
        return self.question.query.inputs(self.question.feature.inputs)

    def allowed(self, spec: Spec) -> Limited | None:
        """The limits of a result that a standard's class gives; None where they come from limits of what was given."""
        has_own = self.is_guessed or any(limited(value) for value in flat(self.inputs).values())
        return None if has_own else limited(flat(self.answer.results)[spec.name])


@dataclass(frozen=True, slots=True)
class Verdict:
    """How an answer fared: "right", "near" (the right number in another convention), "wrong", "unread"."""

    kind: str
    words: str


def case_of(step_address: str, seed: int | None, language: Language = "en") -> Case | str:
    """The case of a step, with its own numbers or with those of a seed; a sentence when it cannot be practised.

    The same seed gives the same numbers to everybody.

    >>> first, again = (case_of("/dish?radius=75&depth=4.5", 17) for _ in range(2))
    >>> first.question.parameters == again.question.parameters, first.asked[0].name
    (True, 'mouth_diameter')
    """
    question = question_at(step_address, language)
    if not isinstance(question, str) and question.feature.version:
        drawn = drawn_from(question)
        question = question_at(drawn[(seed or 0) % len(drawn)], language) if drawn else _NOTHING
    if isinstance(question, str):
        return question
    own = _solved(question, None)
    if own is None or not own.asked:
        return "This step has no numbers to practise on: its page has no answer."
    return own if seed is None else _fresh(own, seed)


def _solved(question: Question, seed: int | None) -> Case | None:
    if question.query.faults:
        return None
    feature = question.feature
    try:
        answer, working = feature.answer(question.query.inputs(feature.inputs))
    except Problem:
        return None
    return Case(question, answer, tuple(working), _asked(question, answer), seed)


def _asked(question: Question, answer: Answer[Any]) -> tuple[Spec, ...]:
    """The number to set and those beside it, as far as they are numbers that nobody gave; else what is guessed."""
    view = question.query.view
    if question.feature.guessed:
        return tuple(
            spec for spec in worded_specs(question.feature.inputs, view) if spec.name in question.feature.guessed
        )
    declared = {spec.name: spec for spec in worded_specs(question.feature.results, view)}
    values = flat(answer.results)
    names = dict.fromkeys([answer.headline, *question.feature.supporting])
    found = [
        declared[name]
        for name in names
        if name in declared and declared[name].kind is not None and values[name] is not None
        if not question.query.texts.get(name) and math.isfinite(aimed(values[name]))
    ]
    return tuple(found[:MOST_ASKED])


def _fresh(own: Case, seed: int) -> Case:
    """The first of the seed's draws that makes as sensible a case: solvable, the same results, no further cautions."""
    chance = random.Random(seed)
    for attempt in range(TRIES):
        spread = SPREAD * (1 - attempt / TRIES)
        found = _solved(_redrawn(own.question, chance, spread), seed)
        sensible = own.is_guessed or (found and len(found.answer.cautions) <= len(own.answer.cautions))
        if found and sensible and found.asked == own.asked:
            return found
    return Case(own.question, own.answer, own.working, own.asked, seed)


def _redrawn(question: Question, chance: random.Random, spread: float) -> Question:
    """The question with other numbers where the print gives some; tools, speeds and choices stay."""
    declared = specs(question.feature.inputs)
    group = [spec for spec in declared if spec.group == declared[0].group and spec.name not in STANDING]
    drawn = {spec.name for spec in group if spec.role == "quantity"}
    parameters = dict(question.parameters)
    for name, text in question.parameters:
        if name in drawn:
            sizes = sizes_of(question.feature.page, name, question.query.view.units, parameters)
            parameters[name] = _chosen(sizes, text, chance, spread) if sizes else _drawn(text, chance, spread)
    if question.feature.guessed:
        parameters = _mistaken(parameters, question.feature.guessed, chance)
    if THREAD in parameters and not any("measured" in name for name in parameters):
        parameters[THREAD] = _another(parameters[THREAD], chance)
    found = question_at(address(question.feature.page, parameters), question.query.view.language)
    return question if isinstance(found, str) else found


def _mistaken(parameters: dict[str, str], guessed: tuple[str, ...], chance: random.Random) -> dict[str, str]:
    """The parameters with one of the guessed inputs given and the others blank, in mm whatever the page has.

    >>> sorted(_mistaken({"nose_radius": "0.8", "x_off": "0.1"}, ("x_off", "height"), random.Random(2)))
    ['nose_radius', 'x_off']
    """
    name = chance.choice(guessed)
    low, high, both_ways = MISTAKES[name]
    value = chance.randint(low, high) * (chance.choice((1, -1)) if both_ways else 1)
    kept = {other: text for other, text in parameters.items() if other not in guessed}
    return kept | {name: f"{value / 100:.2f}mm"}


MISTAKES = {"nose_change": (5, 20, True), "x_off": (2, 20, True), "z_off": (2, 20, True), "height": (20, 60, False)}
"""Hundredths of a mm from the least to the most that something is off, and whether its sign can be seen."""


def _another(thread: str, chance: random.Random) -> str:
    """A standard thread beside this one; the same text for what is none.

    >>> _another("M24x2-6g", random.Random(1)), _another("CNMG 120408", random.Random(1))
    ('M18x2-6g', 'CNMG 120408')
    """
    try:
        return chance.choice(beside(thread) or (thread,))
    except Problem:
        return thread


def _drawn(text: str, chance: random.Random, spread: float) -> str:
    """Another number of the same kind: as many decimals, sixteenths for a multiple of a sixteenth, as typed otherwise.

    >>> [_drawn(text, random.Random(1), 0.3) for text in ("4.5", "60000", "2.9375", "7°30'")]
    ['3.5', '46800', '2.3125', "7°30'"]
    """
    shape = _PLAIN.fullmatch(text.strip())
    typed = float(text.replace(",", ".")) if shape else 0.0
    if shape is None or typed == 0:
        return text
    value = typed * (1 + chance.uniform(-spread, spread))
    decimals = len(shape["decimals"] or "")
    step = 10.0 ** (len(shape["whole"]) - 3 if decimals == 0 and typed >= 1000 else -decimals)
    if decimals >= 3 and typed * 16 % 1 == 0:
        step = 1 / 16
    return f"{max(step, round(value / step) * step):.{decimals}f}"


def _chosen(sizes: Sequence[float], text: str, chance: random.Random, spread: float) -> str:
    """Another one of the sizes that can be had, not far from the one that was typed; what is no plain number stays.

    >>> _chosen((38.0, 42.0, 45.0, 48.0, 90.0), "45", random.Random(3), 0.3)
    '42'
    """
    typed = float(text.replace(",", ".")) if _PLAIN.fullmatch(text.strip()) else 0.0
    if not typed:
        return text
    others = sorted((abs(size - typed), size) for size in sizes if size != typed)
    near = [size for away, size in others if away <= typed * spread] or [size for _, size in others[:2]]
    return f"{chance.choice(near):.10g}"


def judge(case: Case, spec: Spec, typed: str) -> Verdict:
    """How an answer fares, in any unit and spelling that a field takes.

    >>> case = case_of("/dish?radius=75&depth=4.5", None)
    >>> mouth = case.asked[0]
    >>> [judge(case, mouth, text).kind for text in ("51.18", "2.015in", "25.59", "50")]
    ['right', 'right', 'near', 'wrong']
    """
    try:
        value = read(typed, spec.quantity, case.view)
    except ReadingError as error:
        return Verdict("unread", error.message.say(case.view))
    if value is None:
        return Verdict("unread", "")
    right = _right(case, spec, value)
    if right:
        return Verdict("right", right)
    if meant := _in_thousands(case, spec, typed):
        return Verdict("unread", meant)
    expected = case.expected(spec)
    mistaken = next(
        (words for meant, words in _conventions(spec, value, case.view) if is_close(spec, meant, expected)), ""
    )
    if mistaken:
        return Verdict("near", Phrase("The right number in another convention: {mistaken}", mistaken=mistaken))
    return Verdict("wrong", "Not yet: too large." if value > expected else "Not yet: too small.")


def _in_thousands(case: Case, spec: Spec, typed: str) -> str:
    """The question what a typed point means, where the number that it groups would be right; "" for another."""
    if not has_comma(case.view.language) or not asks_back(typed, spec.quantity):
        return ""
    both = ambiguity(typed)
    whole = read(both.candidates[1], spec.quantity, case.view)
    return both.message.say(case.view) if whole is not None and _right(case, spec, whole) else ""


def _right(case: Case, spec: Spec, value: Given) -> str:
    """The words for a right answer, "" for another."""
    expected, allowed = case.expected(spec), case.allowed(spec)
    shown = read(spec.quantity.text(expected, case.view), spec.quantity, case.view)  # as our pages show it
    if value == shown or is_close(spec, value, expected, value.slack):
        return "Right."
    if allowed is not None and allowed.lower <= value <= allowed.upper:
        return Phrase("Right: within its limits, {limits}.", limits=allowed.say(spec.quantity, case.view))
    return ""


def is_close(spec: Spec, value: float, expected: float, slack: float = 0.0) -> bool:
    """Whether a value is right as a shop would take it; `slack` is half of the last typed decimal.

    >>> length = case_of("/dish?radius=75&depth=4.5", None).asked[0]
    >>> is_close(length, 51.18, 51.176), is_close(length, 51.2, 51.176, 0.05), is_close(length, 0.0019, 0.00193, 5e-5)
    (True, False, True)
    """
    most = CLOSE.get(spec.quantity.dimension, math.inf)
    allowed = max(abs(expected) * CLOSE_PART, min(slack, abs(expected) * ROUNDED_PART))
    return abs(value - expected) <= max(min(most, allowed), 1e-9)


def _conventions(spec: Spec, value: Given, view: View) -> Iterator[tuple[float, str]]:
    """What the answer would be if its writer had meant another convention, with the words for it."""
    yield -value, "the sign is the other one."
    if spec.quantity.dimension == "length":
        if "diameter" in spec.name or (spec.quantity.role == "x" and view.x == "diameter"):
            yield value * 2, "that is the radius; the diameter is asked."
        elif "radius" in spec.name or spec.quantity.role == "x":
            yield value / 2, "that is the diameter; the radius is asked."
        yield value * 25.4, "the number is in inches; millimetres are asked."
        yield value / 25.4, "the number is in millimetres; inches are asked."
    if spec.quantity.dimension == "angle":
        yield value * 2, "that is the half angle; the included angle is asked."
        yield value / 2, "that is the included angle; the half angle is asked."
        yield math.pi / 2 - value, "it is measured from the other side: take it from 90°."
        yield math.radians(value), "the number is in radians."


def hints(case: Case, spec: Spec) -> tuple[WorkingStep, ...]:
    """The steps of the working that lead to a result: the one that gives it, after those that give its arguments.

    >>> case = case_of("/dish?radius=75&depth=4.5", None)
    >>> [step.value == case.expected(case.asked[0]) for step in hints(case, case.asked[0])][-1:]
    [True]
    """
    last = None if case.is_guessed else _step_with(case.working, case.expected(spec))
    if last is None:
        return ()
    before = (_step_with(case.working, argument) for argument in last.arguments)
    return tuple(dict.fromkeys([*(step for step in before if step is not None and step != last), last]))


def _step_with(working: tuple[WorkingStep, ...], value: float) -> WorkingStep | None:
    return next((step for step in working if math.isclose(step.value, value, rel_tol=1e-12, abs_tol=1e-15)), None)
