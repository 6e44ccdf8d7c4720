"""The processes: what they answer, and that each of them can be ended without harm to anybody else."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from server.computing import workers as computing
from server.computing.refused import MOST_STARTING, SECONDS, Stopped
from server.computing.workers import QUEUE, Broken, Job, Workers
from tests.computing.trials import Trials

SOON, LONG = 60.0, 600.0  # seconds; nothing waits for them unless something is wrong


@pytest.fixture
def workers() -> Iterator[Workers]:
    made = Workers(Path("templates"), Path("static"), made_by=Trials)
    yield made
    made.close()


def ask(workers: Workers, name: str, *arguments: Any, within: float = SOON) -> Job:
    job = Job(name, arguments, time.monotonic() + within)
    workers.submit(job)
    return job


def said(job: Job) -> list[str]:
    return job.future.result(SOON)[2].decode().split()


def test_no_process_is_started_before_it_is_needed(workers: Workers) -> None:
    assert workers.processes() == []
    assert said(ask(workers, "say", "hello"))[0] == "hello"
    assert len(workers.processes()) == 1


def test_a_process_answers_one_question_after_the_other_and_stands_back_behind_the_server(workers: Workers) -> None:
    answers = [said(ask(workers, "say", "hello")) for _ in range(6)]
    assert len({pid for _, pid, _ in answers}) <= 2
    assert str(os.getpid()) not in {pid for _, pid, _ in answers}
    assert {int(nice) for *_, nice in answers} == {os.nice(0) + 5}


def test_there_are_never_more_than_two(workers: Workers) -> None:
    jobs = [ask(workers, "wait", 0.2) for _ in range(5)]
    for job in jobs:
        assert job.future.result(SOON)[2] == b"waited"
    assert len(workers.processes()) == 2


@pytest.fixture
def begin_starting(monkeypatch: pytest.MonkeyPatch) -> threading.Event:
    """From now on a process starts only once this is set, as on a machine with a lot to do."""
    start, begin = computing._started, threading.Event()

    def late(*made_with: Any) -> Any:
        begin.wait(SOON)
        return start(*made_with)

    monkeypatch.setattr(computing, "_started", late)
    return begin


def pass_deadline(job: Job) -> None:
    while time.monotonic() < job.deadline:
        pass


def test_a_question_is_not_charged_for_the_first_start(workers: Workers, begin_starting: threading.Event) -> None:
    job = ask(workers, "say", "hello", within=0.3)
    pass_deadline(job)
    assert job.in_time()
    begin_starting.set()
    assert said(job)[0] == "hello"


def test_a_later_start_is_charged_however_long_it_takes(begin_starting: threading.Event) -> None:
    """Five seconds from its arrival are five seconds, on a machine as loaded as it may be."""
    workers = Workers(Path("templates"), Path("static"), most=1, made_by=Trials)
    begin_starting.set()
    said(ask(workers, "say", "hello"))
    begin_starting.clear()
    with pytest.raises(Stopped, match="broke off"):
        ask(workers, "die").future.result(SOON)
    jobs = [ask(workers, "say", "hello", within=0.05) for _ in range(3)]
    for job in jobs:
        pass_deadline(job)
        assert not job.in_time()
        assert "busy" in job.why().sentence
    begin_starting.set()
    assert said(ask(workers, "say", "next"))[0] == "next"
    workers.close()


def test_a_question_that_waited_for_the_first_start_in_vain_is_told_so() -> None:
    job, starting = Job("say", (), time.monotonic() + 1.0), computing._Starting()
    job.charge(starting)
    assert "just started" in job.why().sentence
    with starting.counted():
        pass
    assert "busy" in job.why().sentence


def test_a_start_that_fails_is_not_the_first_one() -> None:
    starting = computing._Starting()
    with pytest.raises(OSError, match="no process"), starting.counted():
        raise OSError("no process can be made here")
    job = Job("say", (), time.monotonic() + 0.01)
    job.charge(starting)
    with starting.counted():
        starting._since -= 5.0
        assert job.left() > 4.0


def test_a_process_that_cannot_be_started_is_an_error_at_once_and_the_next_question_is_answered(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    start, failures = computing._started, iter([RuntimeError("no process can be made here")])

    def failing_once(*made_with: Any) -> Any:
        for error in failures:
            raise error
        return start(*made_with)

    monkeypatch.setattr(computing, "_started", failing_once)
    alone = Workers(Path("templates"), Path("static"), most=1, made_by=Trials)
    with pytest.raises(RuntimeError, match="no process can be made here"):
        said(ask(alone, "say", "hello"))
    assert said(ask(alone, "say", "hello"))[0] == "hello"
    alone.close()


def test_nobody_waits_without_end_for_a_process_that_does_not_start() -> None:
    job, starting = Job("say", (), time.monotonic() + 0.3), computing._Starting()
    job.charge(starting)
    with starting.counted():
        starting._since -= MOST_STARTING + 1.0
        assert job.left() > MOST_STARTING - 1.0
        job.deadline = time.monotonic() - MOST_STARTING
        assert not job.in_time()


def test_two_starts_at_once_are_counted_once() -> None:
    starting = computing._Starting()
    with starting.counted(), starting.counted():
        starting._since -= 100.0
        assert 100.0 <= starting.total() < 200.0
    found = starting.total()
    assert 100.0 <= found < 200.0
    with starting.counted():  # the first one is over
        starting._since -= 100.0
        assert starting.total() == found
    assert starting.total() == found


def test_at_its_deadline_a_question_is_ended_and_its_process_with_it() -> None:
    workers = Workers(Path("templates"), Path("static"), most=1, made_by=Trials)
    said(ask(workers, "say", "hello"))  # the process is there
    before = workers.processes()
    job = ask(workers, "wait", LONG, within=0.3)
    with pytest.raises(Stopped, match=f"more than {SECONDS:.0f} s"):
        job.future.result(SOON)
    assert said(ask(workers, "say", "next"))[0] == "next"
    assert set(workers.processes()).isdisjoint(before)
    workers.close()


def test_a_question_that_waited_for_others_is_told_so(workers: Workers) -> None:
    busy = [ask(workers, "wait", 1.0) for _ in range(2)]
    job = ask(workers, "say", "hello", within=0.1)
    for each in busy:
        each.future.result(SOON)
    assert job.future.cancelled() or not job.future.done() or isinstance(job.future.exception(), Stopped)
    assert "busy" in job.why().sentence


def test_a_question_that_nobody_waits_for_is_ended(workers: Workers) -> None:
    job = ask(workers, "wait", LONG)
    while not job.begun:
        time.sleep(0)
    workers.stop(job)
    with pytest.raises(Stopped):
        job.future.result(SOON)
    assert said(ask(workers, "say", "next"))[0] == "next"


def test_a_question_that_is_ended_in_the_queue_is_never_begun(workers: Workers) -> None:
    busy = [ask(workers, "wait", 0.3) for _ in range(2)]
    job = ask(workers, "wait", LONG)
    workers.stop(job)
    for each in busy:
        each.future.result(SOON)
    said(ask(workers, "say", "next"))
    assert job.begun == 0.0


def test_a_question_that_takes_too_much_memory_is_told_so(workers: Workers) -> None:
    pytest.importorskip("resource")
    with pytest.raises(Stopped, match="memory"):
        ask(workers, "fill", 300).future.result(SOON)
    assert said(ask(workers, "say", "next"))[0] == "next"


def test_a_process_that_dies_is_followed_by_another(workers: Workers) -> None:
    with pytest.raises(Stopped, match="broke off"):
        ask(workers, "die").future.result(SOON)
    assert said(ask(workers, "say", "next"))[0] == "next"


def test_a_fault_of_the_program_is_one_here_too(workers: Workers, capfd: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(Broken, match="ValueError"):
        ask(workers, "fail").future.result(SOON)
    assert said(ask(workers, "say", "next"))[0] == "next"


def test_a_full_queue_takes_no_more(workers: Workers) -> None:
    busy = [ask(workers, "wait", 1.0) for _ in range(2)]
    for job in busy:
        while not job.begun:
            time.sleep(0)
    for _ in range(QUEUE):
        ask(workers, "say", "hello", within=0.0)
    with pytest.raises(Stopped, match="busy"):
        ask(workers, "say", "hello")
    for job in busy:
        job.future.result(SOON)


def test_after_closing_it_begins_anew(workers: Workers) -> None:
    said(ask(workers, "say", "hello"))
    workers.close()
    assert said(ask(workers, "say", "next"))[0] == "next"
