"""The short part of the load script: no fault of the server, no broken JSON, enough answers. It looks at no clock."""

from __future__ import annotations

from pathlib import Path

from server.settings import Settings
from tests.bench.bench_steady import flooded
from tests.sheets.serving import served


def test_generated_requests_are_answered_or_refused_in_words(tmp_path: Path) -> None:
    with served(Settings(data=tmp_path / "data"), tmp_path / "log") as serving:
        tally = flooded(serving, 240)
    assert tally.faults == []
    assert tally.statuses.total() == 240
    assert tally.answered >= 0.5
