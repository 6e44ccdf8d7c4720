"""The record of a run: lines as people write them, its trend against a general library, and when it meets a limit."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.special import stdtrit

from calc.measuring.run_of_parts import BadLine, read_record, trend_of

RUNS = st.lists(st.floats(-0.05, 0.05), min_size=4, max_size=40)


@given(RUNS, st.floats(-0.01, 0.01))
def test_the_line_and_its_spread_are_those_of_a_general_library(noise: list[float], slope: float) -> None:
    parts = [1.0 + 3.0 * number for number in range(len(noise))]
    sizes = [25.0 + slope * part + off + 0.001 * (-1.0) ** part for part, off in zip(parts, noise, strict=True)]
    assume(float(np.ptp(sizes)) > 1e-6)
    found = trend_of(parts, sizes)
    (slope, start), spread = np.polyfit(parts, sizes, 1, cov=True)
    assert found.slope == pytest.approx(slope, abs=1e-10)
    assert found.start == pytest.approx(start, abs=1e-9)
    factor = stdtrit(len(parts) - 2, 0.975)
    assert found.slope_spread == pytest.approx(factor * math.sqrt(spread[0, 0]), rel=1e-3, abs=1e-8)


def test_95_of_100_parts_to_come_lie_within_the_band() -> None:
    random = np.random.default_rng(7)
    inside = 0
    for _ in range(2000):
        parts = np.arange(1.0, 13.0)
        found = trend_of(parts.tolist(), (25.0 + 0.001 * parts + random.normal(0.0, 0.003, 12)).tolist())
        inside += abs(25.02 + random.normal(0.0, 0.003) - found.at(20.0)) <= found.band(20.0)
    assert inside / 2000 == pytest.approx(0.95, abs=3.0 * math.sqrt(0.95 * 0.05 / 2000))


@pytest.mark.parametrize(
    ("text", "parts", "sizes"),
    [
        ("24.01\n24.02", (1, 2), (24.01, 24.02)),
        ("24,01\n24,02", (1, 2), (24.01, 24.02)),
        ("1;24,01\r\n5;24,02\r\n", (1, 5), (24.01, 24.02)),
        ("part,size\n1,24.01\n2,24.02", (1, 2), (24.01, 24.02)),
        ('"part","size"\n"3","24.01"', (3,), (24.01,)),
        ("7\t24.01\n\n8\t24.02", (7, 8), (24.01, 24.02)),
    ],
)
def test_lines_are_read_as_tables_write_them(text: str, parts: tuple[float, ...], sizes: tuple[float, ...]) -> None:
    record = read_record(text)
    assert (record.parts, record.sizes, record.events) == (parts, sizes, ())


def test_what_happened_parts_the_run() -> None:
    record = read_record("1;24.01\n2;24.02\nnew edge\n3;24.00\ncorrected X -0.01\n4;24.01\n5;24.02")
    assert [(event.words, event.before) for event in record.events] == [("new edge", 3.0), ("corrected X -0.01", 4.0)]
    assert record.since.parts == (4.0, 5.0)


@pytest.mark.parametrize(
    ("text", "number"),
    [("24.01\n24..02", 2), ("2;24.01\n1;24.02", 2), ("1;2;24.01", 1), ("1;1e9", 1), ("1;99999", 1), ("0;24.01", 1)],
)
def test_a_line_that_cannot_be_read_is_named(text: str, number: int) -> None:
    with pytest.raises(BadLine) as caught:
        read_record(text)
    assert caught.value.number == number


def test_a_run_longer_than_a_record_is_refused() -> None:
    with pytest.raises(BadLine, match="at most 500"):
        read_record("24.01\n" * 501)


def test_inches_are_held_in_mm() -> None:
    assert read_record("1.0", 25.4).sizes == (25.4,)
