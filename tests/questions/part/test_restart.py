"""A restart after a broken edge: the stock that stands, the passes that still run, words and pictures from there."""

from __future__ import annotations

from itertools import pairwise, takewhile

import pytest
import shapely

from calc.answer.feature import Answer
from calc.language.problems import Problem
from calc.language.quantities import View
from calc.questions.part.asking import job_of
from calc.questions.part.declared import PartInputs
from calc.questions.part.done import PartDone
from calc.questions.part.examples import EXAMPLES, SLEEVE, STEM
from calc.questions.part.feature import FEATURE
from calc.questions.part.restart import RestartInputs, restarted
from calc.questions.part.results import PartResults
from calc.questions.part.run import run
from server.query import read_query


def inputs_of(texts: dict[str, str]) -> PartInputs:
    found = read_query(texts.items(), PartInputs).inputs(PartInputs)
    assert isinstance(found, PartInputs)
    return found


def asked(operation: str, number: str = "") -> Answer[PartResults]:
    return FEATURE.answer(inputs_of({**STEM, "restart_operation": operation, "restart_pass": number}))[0]


@pytest.fixture(scope="module")
def stem() -> PartDone:
    return run(job_of(inputs_of(dict(STEM))))


def test_the_stock_that_stands_is_that_after_the_pass_before(stem: PartDone) -> None:
    left = restarted(stem, RestartInputs(restart_operation=2.0, restart_pass=3.0))
    number, rough = left.to_run[0]
    assert number == 2
    assert rough.before is stem.operations[1].passes[1].stock
    assert [each.name for each in rough.passes] == [each.name for each in stem.operations[1].passes[2:]]
    taken = sum(each.volume for _, one in left.to_run for each in one.passes)
    assert rough.before.volume - stem.operations[-1].after.volume == pytest.approx(taken, rel=1e-6)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_pass_is_reached_through_air_from_where_the_tool_waits(name: str) -> None:
    """Independently: the nose, buffered, along each rapid move of the way there meets no stock that stands."""
    done = run(job_of(inputs_of(dict(EXAMPLES[name]))))
    for number, one in enumerate(done.operations, 1):
        for index in range(1, len(one.passes) + 1):
            left = restarted(done, RestartInputs(restart_operation=float(number), restart_pass=float(index)))
            first = left.to_run[0][1]
            moves = first.passes[0].tool_pass.moves
            assert moves[0].elements[0].start == one.passes[0].tool_pass.moves[0].elements[0].start
            for a, b in pairwise(moves):
                assert a.elements[-1].end.distance_to(b.elements[0].start) < 1e-9
            outline = first.passes[0].outline
            for move in takewhile(lambda each: each.kind == "rapid", moves):
                if outline is not None:
                    for line in move.elements:
                        nose = shapely.LineString([line.start, line.end]).buffer(outline.nose - 1e-3)
                        assert nose.intersection(first.before.whole).area < 1e-3


def test_the_page_begins_there(stem: PartDone) -> None:
    answer = asked("2", "3")
    rows = [each.operation for each in answer.tables["to_run"]]
    assert rows[0] == f"2 {stem.operations[1].passes[2].name}"
    assert rows[-1].startswith("3 finish")
    assert all(each.tool in {"T1", "T2"} for each in answer.tables["to_run"])
    assert any("Restart in operation 2" in each.say() for each in answer.notes)
    assert any("change the edge" in each.say() for each in answer.notes)
    assert answer.pictures is not None
    pictures = answer.pictures()
    assert pictures[0].label == "what stands"
    assert len(pictures) == len(rows) + 1
    assert answer.words is not None
    words = answer.words(View())
    assert "operation 1" not in words
    assert words.index("operation 2") < words.index("operation 3")
    assert answer.results.total_time == pytest.approx(stem.total_time)  # the part's own numbers stay


def test_without_a_restart_nothing_changes() -> None:
    answer = FEATURE.answer(inputs_of(dict(SLEEVE)))[0]
    assert answer.tables["to_run"] == []
    assert answer.pictures is not None
    assert answer.pictures()[0].label == "the stock"


@pytest.mark.parametrize(
    ("operation", "number", "field"),
    [
        ("9", "", "restart_operation"),
        ("2", "99", "restart_pass"),
        ("", "2", "restart_operation"),
    ],
)
def test_what_is_none_is_refused_at_its_field(operation: str, number: str, field: str) -> None:
    with pytest.raises(Problem) as caught:
        asked(operation, number)
    assert caught.value.faults[0].field == field
