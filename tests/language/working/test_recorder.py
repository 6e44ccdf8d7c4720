"""Calling, naming and recording formulas."""

from __future__ import annotations

import asyncio
import contextvars
import threading
from math import pi

import pytest

from calc.language.quantities import Diameter, Length, Radius, SpindleSpeed, SurfaceSpeed
from calc.language.working import NotAFormula, Step, all_formulas, formula, recording


@formula(source="common practice", means="spindle speed at a surface speed", result="n")
def spindle_speed(v: SurfaceSpeed, D: Diameter) -> SpindleSpeed:
    """The speed."""
    return v / (pi * D)


@formula(source="a test", means="a quotient", result="q")
def quotient(a: Length, b: Length = 2.0) -> Length:
    """A quotient."""
    return a / b


def steps_of_quotient(value: float) -> list[Step]:
    with recording() as steps:
        quotient(value)
    return steps


def test_a_bare_call_gives_what_the_function_gives() -> None:
    assert spindle_speed(220_000.0, 56.0) == spindle_speed.function(220_000.0, 56.0) == 220_000.0 / (pi * 56.0)


def test_a_recording_notes_formula_arguments_and_value_in_order_of_finishing() -> None:
    with recording() as steps:
        n = spindle_speed(220_000.0, quotient(112.0))
    assert [(step.formula, step.arguments, step.value, step.where) for step in steps] == [
        (quotient, (112.0, 2.0), 56.0, ""),
        (spindle_speed, (220_000.0, 56.0), n, ""),
    ]


def test_nothing_is_noted_outside_the_block() -> None:
    with recording() as steps:
        pass
    quotient(1.0)
    assert steps == []


@pytest.mark.parametrize(
    "step",
    [lambda: quotient(3.0, 4.0), lambda: quotient(b=4.0, a=3.0), lambda: quotient(3.0, b=4.0)],
    ids=["by place", "by name", "mixed"],
)
def test_arguments_are_noted_in_the_order_of_the_parameters_however_they_are_given(step: object) -> None:
    assert callable(step)
    with recording() as steps:
        step()
    assert steps[0].arguments == (3.0, 4.0)


def test_a_place_gives_its_name_and_symbols_to_the_step_and_leaves_the_formula_alone() -> None:
    at_mouth = spindle_speed.at("at the mouth", D="D_m", result="n_m")
    with recording() as steps:
        assert at_mouth(220_000.0, D=56.0) == spindle_speed(220_000.0, 56.0)
    assert (steps[0].formula, steps[0].where, steps[0].symbols) == (spindle_speed, "at the mouth", ("n_m", "v", "D_m"))
    assert (steps[1].where, steps[1].symbols) == ("", ("n", "v", "D"))
    assert str(steps[0].plain()).startswith("n_m = 1000 v / (π D_m) =")


def test_a_symbol_for_something_that_is_no_parameter_is_refused() -> None:
    with pytest.raises(NotAFormula, match="has no parameter d"):
        spindle_speed.at("at the mouth", d="D_m")


def test_an_inner_recording_keeps_its_steps_to_itself() -> None:
    with recording() as outer:
        quotient(1.0)
        inner = steps_of_quotient(2.0)
        quotient(3.0)
    assert [step.arguments[0] for step in outer] == [1.0, 3.0]
    assert [step.arguments[0] for step in inner] == [2.0]


def test_a_recording_ends_when_its_block_fails() -> None:
    with pytest.raises(ZeroDivisionError), recording() as steps:
        quotient(1.0, 0.0)
    quotient(1.0)
    assert steps == []


def test_threads_record_apart() -> None:
    barrier = threading.Barrier(4)
    seen: dict[int, list[float]] = {}

    def work(number: int) -> None:
        with recording() as steps:
            for _ in range(20):
                barrier.wait()
                quotient(float(number))
        seen[number] = [step.arguments[0] for step in steps]

    threads = [threading.Thread(target=work, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert seen == {number: [float(number)] * 20 for number in range(4)}


def test_tasks_record_apart() -> None:
    async def work(number: int) -> list[float]:
        with recording() as steps:
            for _ in range(5):
                quotient(float(number))
                await asyncio.sleep(0)
        return [step.arguments[0] for step in steps]

    async def everybody() -> list[list[float]]:
        return await asyncio.gather(*(work(number) for number in range(4)))

    assert asyncio.run(everybody()) == [[float(number)] * 5 for number in range(4)]


def test_a_calculation_in_a_copied_context_belongs_to_the_recording_around_it() -> None:
    with recording() as steps:
        contextvars.copy_context().run(quotient, 5.0)
    assert [step.arguments[0] for step in steps] == [5.0]


def test_the_registry_knows_the_formulas_of_modules_and_none_made_inside_functions() -> None:
    @formula(source="a test", means="a half", result="h")
    def half(R: Radius) -> Radius:
        return R / 2

    assert half(3.0) == 1.5
    known = all_formulas()
    assert quotient in known
    assert spindle_speed in known
    assert half not in known


def test_a_wrong_call_is_an_error_to_the_type_checker_too() -> None:
    # Strict type checking reports an "ignore" that is not needed: these lines hold the checker to it.
    at_mouth = spindle_speed.at("at the mouth")
    with pytest.raises(TypeError):
        spindle_speed(220_000.0)  # type: ignore[call-arg]
    with pytest.raises(TypeError):
        spindle_speed("fast", 56.0)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        at_mouth(220_000.0, d=56.0)  # type: ignore[call-arg]
