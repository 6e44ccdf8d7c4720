"""What is not read: asked back where it can be two things, otherwise refused with a sentence that says what to do."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from calc.language.given import Given
from calc.language.kinds import COST
from calc.language.quantities import (
    ANGLE,
    COUNT,
    DIAMETER,
    FEED,
    LENGTH,
    RADIUS,
    RATIO,
    ROUGHNESS,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
    Kind,
    View,
    X,
    Z,
)
from calc.language.reading import Ambiguous, NotANumber, ReadingError, WrongUnit, read
from calc.language.reading.errors import shortened
from calc.language.translating import Language
from tests.language.quantities.strategies import kinds, texts_for, views

MM, INCH = View("mm"), View("inch")


def refusal(text: str, kind: Kind = LENGTH, view: View = MM) -> ReadingError:
    with pytest.raises(ReadingError) as caught:
        read(text, kind, view)
    return caught.value


@pytest.mark.parametrize(
    ("text", "kind", "candidates"),
    [
        ("1,500", LENGTH, ("1.500", "1500")),
        ("1,234", LENGTH, ("1.234", "1234")),
        ("-1,234", LENGTH, ("-1.234", "-1234")),
        ("12,345mm", LENGTH, ("12.345mm", "12345mm")),
        ("Ø1,500", DIAMETER, ("Ø1.500", "Ø1500")),
        ("2,500", SPINDLE_SPEED, ("2.500", "2500")),
        ("2,500 rpm", SPINDLE_SPEED, ("2.500 rpm", "2500 rpm")),
        ("1,500 ±0.1", LENGTH, ("1.500 ±0.1", "1500 ±0.1")),
        ("1:1,500", RATIO, ("1:1.500", "1:1500")),
        ("1.500,25", LENGTH, ("1500.25",)),
        ("1,500.25", LENGTH, ("1500.25",)),
        ("1,500,000", LENGTH, ("1500000",)),
        ("1.500.000", LENGTH, ("1500000",)),
        ("1'500", LENGTH, ("1500",)),
        ("1’500.5", SPINDLE_SPEED, ("1500.5",)),
        ("1 500", LENGTH, ("1500", "1.500")),
        ("1\u202f500", LENGTH, ("1500", "1.500")),
        ("1 500 000", LENGTH, ("1500000",)),
        ("3 1", LENGTH, ("31", "3.1")),
        ("3 1 mm", LENGTH, ("31 mm", "3.1 mm")),
        ("1'6", LENGTH, ("1'6\"",)),
        ("1ft 6", LENGTH, ('1ft 6"',)),
        ("7°30", ANGLE, ("7°30'",)),
        ("7°30'15", ANGLE, ("7°30'15\"",)),
        ("1:30", TIME, ("1min 30s", "1h 30min")),
        ("60 +0.1", DIAMETER, ("60 +0.1/0", "60.1")),
        ("60-0.05", DIAMETER, ("60 0/-0.05", "59.95")),
        ("60mm +0.1", DIAMETER, ("60mm +0.1/0", "60.1mm")),
        ("Ø60 +0.1", DIAMETER, ("Ø60 +0.1/0", "Ø60.1")),
        ("30 H7/g6", DIAMETER, ("30 H7", "30 g6")),
        ("Ø30H7/g6", DIAMETER, ("Ø30 H7", "Ø30 g6")),
        ("3 - 1/4", LENGTH, ("3-1/4", "3 0/-1/4", "2.75")),
        ("3 -1/4", LENGTH, ("3-1/4", "3 0/-1/4", "2.75")),
    ],
)
def test_what_can_be_two_things_is_asked_back_with_what_to_type(
    text: str, kind: Kind, candidates: tuple[str, ...]
) -> None:
    error = refusal(text, kind)
    assert isinstance(error, Ambiguous)
    assert error.candidates == candidates
    assert all(candidate in error.message.say() for candidate in candidates)
    assert all(read(candidate, kind, MM) is not None for candidate in candidates)


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        ("5 mm", SURFACE_SPEED, "“mm” is a length; this field wants a surface speed, such as m/min."),
        ("60 rpm", DIAMETER, "“rpm” is a spindle speed; this field wants a diameter, such as mm."),
        ("7.5°", LENGTH, "“°” is an angle; this field wants a length, such as mm."),
        ("5mm", ANGLE, "“mm” is a length; this field wants an angle, such as 7.5°."),
        ("5 mm", COUNT, "“mm” is a length; this field wants a plain number without a unit."),
        ("0.2 mm/rev", LENGTH, "“mm/rev” is a feed; this field wants a length, such as mm."),
        ("5 furlongs", LENGTH, "“furlongs” is not a unit that is known here; this field wants a length, such as mm."),
        ("1:10", LENGTH, "“1:10” is a ratio; this field wants a length, such as mm."),
        ("R30", DIAMETER, "“R30” is a radius; this field wants a diameter: type Ø60."),
        ("R1.5in", DIAMETER, "“R1.5in” is a radius; this field wants a diameter: type Ø3in."),
        ("Ø60", RADIUS, "“Ø60” is a diameter; this field wants a radius: type R30."),
        ("Ø60", LENGTH, "“Ø60” is a diameter; this field wants a length: type 60."),
        ("Ø60", Z, "“Ø60” is a diameter; this field wants a Z coordinate: type 60."),
        ("R30 +0.1/0", DIAMETER, "“R30 +0.1/0” is a radius; this field wants a diameter."),
        ("Z5", X, "Z does not belong before an X coordinate. Type the number alone."),
        ("Ø7", ANGLE, "Ø does not belong before an angle. Type the number alone."),
        (
            "Rz 6.3",
            ROUGHNESS,
            "Rz is measured differently from Ra. Type the number alone if this field asks for Rz.",
        ),
    ],
)
def test_a_wrong_unit_or_mark_is_told_with_what_the_field_wants(text: str, kind: Kind, sentence: str) -> None:
    error = refusal(text, kind)
    assert isinstance(error, WrongUnit)
    assert error.message.say() == sentence


def test_an_inch_page_asks_for_its_own_units() -> None:
    error = refusal("5 mm", SURFACE_SPEED, INCH)
    assert error.message.say(INCH) == "“mm” is a length; this field wants a surface speed, such as ft/min."


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("abc", "“abc” is not a number"),
        ("-", "“-” is not a number"),
        (".", "has no place in a number"),
        ("mm", "a unit without a number"),
        ("about 5", "does not begin with a number"),
        ("/2", "does not begin with a number"),
        ("1/0", "divides by zero"),
        ("3 1/0", "divides by zero"),
        ("1/", "below the line is missing"),
        ("1.5/2", "whole numbers above and below"),
        ("1/2.5", "whole numbers above and below"),
        ("1/2/3", "“/3” is left over"),
        ("5 5/4", "between 0 and 1"),
        ("3.5 1/4", "decimals and a fraction"),
        ("--5", "two signs"),
        ("1..2", "more than one decimal mark"),
        ("1,2,3", "more than one decimal mark"),
        ("1e999", "too large or too small"),
        ("1e-999", "too large or too small"),
        ("-1e-300", "too large or too small"),
        ("9" * 30 + "e299", "too large or too small"),
        ("1e" + "9" * 30, "too large or too small"),
        ("NaN", "there is no number"),
        ("-nan mm", "there is no number"),
        ("inf", "is infinite"),
        ("-Infinity", "is infinite"),
        ("∞", "is infinite"),
        ("1\x002", "hidden character"),
        ("1\u202e2", "hidden character"),
        ("<b>60</b>", "“<” has no place in a number"),
        ("60€", "“€” has no place in a number"),
        ("3²", "“²” has no place in a number"),
        ("{typed}", "“{” has no place in a number"),
        ("600 h7", "up to 500 mm"),
        ("24 v5", "class v5 cannot stand here"),
        ("24 H01", "class H01 cannot stand here"),
        ("24 zc8", "class zc8 cannot stand here"),
        ("60 +", "a limit of size is missing"),
        ("60 ±", "a number is missing"),
        ("60 +0.1/0.05", "put + or - before each limit"),
        ("5 mm 3", "a second number, 3"),
        ("5 mm mm", "more than one unit"),
        ("1' 13\"", "must be below 12"),
        ("1.5' 6\"", "only the last number"),
        ("1' 6mm", "do not go together"),
        ("9" * 41, "too long"),
        ("x" * 201, "too long"),
    ],
)
def test_what_is_no_number_is_refused_with_its_own_sentence(text: str, part: str) -> None:
    error = refusal(text)
    assert isinstance(error, NotANumber)
    assert part in error.message.say()
    assert error.text == text


def test_the_parts_of_an_angle_have_their_limits() -> None:
    assert "must be below 60" in refusal("7°75'", ANGLE).message.say()
    assert "only the last number" in refusal("7.5°30'", ANGLE).message.say()
    assert "in one unit" in refusal("7.5° ±0.01 rad", ANGLE).message.say()


def test_a_ratio_to_nothing_divides_by_zero() -> None:
    assert "divides by zero" in refusal("1:0", RATIO).message.say()


def test_a_count_is_whole() -> None:
    assert "not a whole number" in refusal("2.5", COUNT).message.say()


def test_an_error_becomes_the_fault_of_its_field() -> None:
    fault = refusal("abc").fault("radius")
    assert (fault.field, fault.message.say()) == (
        "radius",
        "“abc” is not a number. Type one such as 25.4 or 1-1/2.",
    )


def test_typed_text_is_carried_as_a_value_and_never_as_part_of_the_sentence() -> None:
    message = refusal("<script>{0}</script>").message
    assert "script" not in message.text
    assert "<script>" in str(message.values["typed"])


def test_a_sentence_shows_the_beginning_of_what_was_typed() -> None:
    assert len(refusal("a" * 100_000).message.say()) < 200
    assert shortened("a" * 33) == "a" * 32 + "…"
    assert shortened("a" * 32) == "a" * 32


def test_what_may_have_been_meant_by_a_size_keeps_its_class() -> None:
    error = answer("1,500 g6", DIAMETER, View())
    assert isinstance(error, Ambiguous)
    assert (error.text, error.candidates) == ("1,500 g6", ("1.500 g6", "1500 g6"))
    found = answer(error.candidates[0], DIAMETER, View())
    assert isinstance(found, Given)
    assert found.nominal == 1.5


@given(kinds, views, st.text())
def test_any_text_gives_a_value_nothing_or_a_sentence(kind: Kind, view: View, text: str) -> None:
    assert_answered(text, kind, view)


@example(LENGTH, View(), ":0R1")
@given(kinds, views, st.text("0123456789.,'\"/-+±: °eEdmsinftØRXZ%µ²½\u00a0\u2212", max_size=24))
def test_any_mix_of_the_signs_of_numbers_gives_a_value_nothing_or_a_sentence(kind: Kind, view: View, text: str) -> None:
    assert_answered(text, kind, view)


@given(st.data(), kinds, views)
def test_every_candidate_says_one_thing_or_is_asked_again(data: st.DataObject, kind: Kind, view: View) -> None:
    text = data.draw(
        st.one_of(texts_for(kind), st.from_regex(r"[Ø]?-?\d{1,3}[,. ']\d{1,3}( [+-]0\.\d)?", fullmatch=True))
    )
    try:
        read(text, kind, view)
    except ReadingError as error:
        for candidate in error.candidates:
            assert_answered(candidate, kind, view)


def answer(text: str, kind: Kind, view: View) -> Given | ReadingError | None:
    try:
        return read(text, kind, view)
    except ReadingError as error:
        return error


def assert_answered(text: str, kind: Kind, view: View) -> None:
    answered = answer(text, kind, view)
    if isinstance(answered, ReadingError):
        sentence = answered.message.say(view)
        assert sentence.endswith(".")
        assert "{" not in sentence or "{" in text
        assert answered.text == text
    else:
        assert answered is None or isinstance(answered, Given)


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("de", "„mm/min“ ist eine Schnittgeschwindigkeit; gefragt ist hier ein Vorschub, etwa mm/U."),
        ("es", "«mm/min» es una velocidad de corte; este campo pide un avance, como mm/rev."),
    ],
)
def test_what_a_unit_measures_is_said_in_the_readers_language(language: Language, said: str) -> None:
    assert refusal("300 mm/min", FEED).message.say(View(language=language)) == said


def test_a_price_is_wanted_without_the_example_of_a_unit() -> None:
    assert refusal("5 kg", COST).message.say() == "“kg” is a mass; this field wants a cost."
    assert refusal("5 kg", COST).message.say(View(language="de")).endswith("gefragt ist hier ein Preis.")


@pytest.mark.parametrize("language", ["de", "es"])
def test_points_between_thousands_are_asked_back_where_a_comma_is_the_decimal_mark(language: Language) -> None:
    with pytest.raises(Ambiguous) as refused:
        read("1.500,25", LENGTH, View(language=language))
    said = refused.value.message.say(View(language=language))
    assert "1.500,25" in said
    assert "1500,25" in said
