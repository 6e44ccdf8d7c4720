"""A run of parts as a chart: when to change the edge, what to correct, and its tables as a file."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest
from starlette.testclient import TestClient

from calc.language.known import Known
from calc.language.problems import Problem
from calc.questions.measuring.part_run import FEATURE, RunInputs, solve

DRIFT = "\n".join(f"{part};{25.002 + 0.001 * part + 0.0002 * (-1) ** part:.4f}" for part in range(1, 11))
"""25.002 at the start, 0.001 larger with every part, read to 0.0002."""


def asked(sizes: str, **more: Any) -> Any:
    return solve(RunInputs(**{"sizes": sizes, "nominal": 25.0, "lower": 25.0, "upper": 25.021, **more}))


def test_the_trend_meets_the_limit_where_the_line_does() -> None:
    """25.002 + 0.001 n is above 25.021 from part 20 on; the band of 95 % meets it a part or two before."""
    found = asked(DRIFT).results
    assert found.meets_at in (19.0, 20.0)
    assert found.meets_at - 2.0 <= found.change_before <= found.meets_at
    assert isinstance(found.drift, Known)
    assert float(found.drift) == pytest.approx(0.1, abs=found.drift.spread)
    assert found.state == "all within limits"


def test_the_correction_takes_the_next_part_to_the_middle() -> None:
    """Part 11 is to be 25.013; the middle is 25.0105: 0.0025 on diameter, 0.00125 on the radius."""
    found = asked(DRIFT).results
    assert isinstance(found.x_change, Known)
    assert float(found.x_change) == pytest.approx(-0.00125, abs=1e-4)
    assert found.size_change is None
    length = asked(DRIFT, what="length").results
    assert float(length.size_change) == pytest.approx(-0.0025, abs=2e-4)
    assert length.x_change is None


def test_scatter_alone_proves_no_drift() -> None:
    answer = asked("25.010\n25.012\n25.009\n25.011\n25.010\n25.011")
    assert (answer.results.meets_at, answer.results.change_before) == (None, None)
    assert any("prove no drift" in note.say() for note in answer.notes)


def test_after_a_new_edge_the_trend_begins_anew() -> None:
    answer = asked(DRIFT + "\nnew edge\n11;25.003\n12;25.004\n13;25.005\n14;25.006")
    assert 28.0 <= answer.results.meets_at <= 30.0
    rows = {row.part: row for row in answer.tables["parts"]}
    assert rows[11.0].event == "new edge"
    assert rows[5.0].trend is None


def test_parts_out_of_limits_and_a_limit_close_ahead_are_cautioned() -> None:
    out = asked(DRIFT + "\n11;25.024")
    assert any("Out of limits: part 11" in caution.message.say() for caution in out.cautions)
    near = asked("\n".join(f"{part};{25.0055 + 0.001 * part + 0.0001 * (-1) ** part:.4f}" for part in range(1, 13)))
    assert any("change the edge or correct now" in caution.message.say() for caution in near.cautions)


def test_few_readings_and_no_limits_say_what_is_lacking() -> None:
    few = asked("25.01\n25.02")
    assert few.results.drift is None
    assert any("A trend needs 3 readings" in note.say() for note in few.notes)
    bare = asked(DRIFT, nominal=None, lower=None, upper=None)
    assert bare.results.state == "no limits were given"


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"sizes": ""}, "sizes"),
        ({"sizes": "part;size"}, "sizes"),
        ({"sizes": "1;25.x"}, "sizes"),
        ({"lower": 25.1, "upper": 25.0}, "lower"),
    ],
)
def test_what_cannot_be_is_said_at_its_field(given: dict[str, Any], field: str) -> None:
    with pytest.raises(Problem) as caught:
        asked(**{"sizes": DRIFT, **given})
    assert caught.value.faults[0].field == field


def test_the_page_takes_lines_and_gives_its_tables_as_a_file(client: TestClient) -> None:
    page = client.get("/part-run", params=FEATURE.example).text
    assert '<textarea id="sizes"' in page
    assert "Change the edge or correct before part" in page
    file = client.get("/part-run/tables.csv", params=FEATURE.example)
    assert file.headers["content-type"].startswith("text/csv")
    rows = list(csv.reader(io.StringIO(file.text)))
    assert rows[0] == ["Part after part"]
    assert rows[1][:2] == ["Part", "measured, mm"]
    assert [row[1] for row in rows[2:]] == ["25.004", "25.006", "25.008", "25.009", "25.012", "25.013"]
    back = solve(RunInputs(sizes="\n".join(f"{row[0]};{row[1]}" for row in rows[2:]), nominal=25.0)).tables["parts"]
    assert [row.size for row in back] == [25.004, 25.006, 25.008, 25.009, 25.012, 25.013]
