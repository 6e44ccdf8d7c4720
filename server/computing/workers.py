"""At most two processes that answer heavy questions, each started when it is first needed, each ended at once when its
question has no more time or nobody waits for it any more.

A thread minds each process: it takes the next question from the queue, hands it over and waits. Ending a question is
killing its process; the thread then sees the pipe closed, and starts another one for the next question.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import queue
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from dataclasses import dataclass, field
from functools import cache
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any, NamedTuple

from server.computing.refused import MOST_STARTING, Stopped, broken_off, still_starting, too_busy, too_large, too_long

MOST = 2
QUEUE = 48
IDLE_SECONDS = 300.0
NO_MEMORY = "MemoryError"
NEARLY_ALL = 0.6  # of its time: a question that was computed for less than this had to wait for others

Reply = tuple[int, list[tuple[bytes, bytes]], bytes]


class Broken(RuntimeError):
    """A question met a fault of the program; its trace is in the log."""


class _Starting:
    """How long the first process has been starting: no question is charged for it. Once it is there this stands still.

    A later one is forked from what the first start has loaded, so a question's time holds it.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._at_once = 0
        self._since = self._before = 0.0
        self.over = False

    def total(self) -> float:
        """Seconds up to now."""
        with self._lock:
            running = self._at_once and not self.over
            return self._before + (time.monotonic() - self._since if running else 0.0)

    @contextlib.contextmanager
    def counted(self) -> Iterator[None]:
        """One start; those at once are counted once, until the first of them is over."""
        with self._lock:
            if not self._at_once:
                self._since = time.monotonic()
            self._at_once += 1
        done = False
        try:
            yield
            done = True
        finally:
            with self._lock:
                self._at_once -= 1
                if not self.over and (done or not self._at_once):
                    self._before += time.monotonic() - self._since
                    self.over = done


@dataclass(eq=False)
class Job:
    """One question on its way: what is asked, until when, and what becomes of it."""

    name: str
    arguments: tuple[Any, ...]
    deadline: float
    future: Future[Reply] = field(default_factory=Future)
    arrived: float = field(default_factory=time.monotonic)
    begun: float = 0.0
    stopped: bool = False
    starting: _Starting | None = None
    started_before: float = 0.0

    def charge(self, starting: _Starting) -> None:
        """From now on the time in which the first process starts is not this question's."""
        self.starting, self.started_before = starting, starting.total()

    def left(self) -> float:
        """Seconds that it still has, 0 at the least."""
        uncharged = self.starting.total() - self.started_before if self.starting else 0.0
        return max(0.0, self.deadline + min(uncharged, MOST_STARTING) - time.monotonic())

    def in_time(self) -> bool:
        """Whether there is still time, and somebody who waits."""
        return not self.stopped and self.left() > 0.0

    def why(self) -> Stopped:
        """Why it was stopped at its deadline."""
        if self.starting and not self.starting.over:
            return still_starting()
        computed = time.monotonic() - self.begun if self.begun else 0.0
        return too_long() if computed >= NEARLY_ALL * (self.deadline - self.arrived) else too_busy()


def answering(templates: Path, static: Path) -> Any:
    """What answers questions, made in the process that needs it."""
    from server.answering import Answering  # noqa: PLC0415 - in the other process alone

    return Answering(templates, static)


class _Running(NamedTuple):
    """A process and the pipe to it."""

    process: BaseProcess
    connection: Connection

    def end(self) -> None:
        """Kill it and see it gone."""
        self.process.kill()
        self.process.join()
        with contextlib.suppress(OSError):
            self.connection.close()


class Workers:
    """The processes of one server, and the queue before them."""

    def __init__(
        self, templates: Path, static: Path, most: int = MOST, made_by: Callable[[Path, Path], Any] = answering
    ) -> None:
        self._starting = _Starting()
        self._most, self._made_with = most, (made_by, templates, static)
        self._begin()

    def _begin(self) -> None:
        """A queue, and the minders that take from it."""
        self._waiting: queue.Queue[Job | None] = queue.Queue(QUEUE)
        self._minders = [_Minder(self._waiting, self._starting, *self._made_with) for _ in range(self._most)]

    def submit(self, job: Job) -> None:
        """Put a question into the queue. Raises `Stopped` when it is full."""
        for minder in self._minders:
            minder.begin()
        job.charge(self._starting)
        try:
            self._waiting.put_nowait(job)
        except queue.Full:
            raise too_busy() from None

    def stop(self, job: Job) -> None:
        """End a question: its time is over, or nobody waits for it."""
        job.stopped = True
        for minder in self._minders:
            minder.end(job)

    def processes(self) -> list[int]:
        """The ids of the processes that run now."""
        return [pid for minder in self._minders if (pid := minder.pid)]

    def close(self) -> None:
        """End everything; a later question begins anew, with nothing that what is ending still takes from or ends."""
        ending = self._minders
        self._begin()
        for minder in ending:
            minder.close()


@cache
def workers_for(templates: Path, static: Path) -> Workers:
    """The processes of this server, one set for each folder of templates."""
    return Workers(templates, static)


class _Minder:
    """One process and the thread that feeds it."""

    def __init__(self, waiting: queue.Queue[Job | None], starting: _Starting, *made_with: Any) -> None:
        self._waiting = waiting
        self._starting = starting
        self._made_with = made_with
        self._lock = threading.Lock()
        self._thread: threading.Thread | None = None
        self._running: _Running | None = None
        self._job: Job | None = None

    @property
    def pid(self) -> int | None:
        """The process's id while it runs."""
        running = self._running
        return running.process.pid if running else None

    def begin(self) -> None:
        """Run the thread, unless it runs."""
        with self._lock:
            if self._thread is None:
                self._thread = threading.Thread(target=self._mind, name="computing", daemon=True)
                self._thread.start()

    def end(self, job: Job) -> None:
        """Kill the process if it is at this question."""
        with self._lock:
            if self._job is job and self._running is not None:
                self._running.process.kill()

    def close(self) -> None:
        """End the process, and the thread after what is in the queue."""
        with self._lock:
            if self._running is not None:
                self._running.process.kill()
            if self._thread is not None:
                self._thread = None
                with contextlib.suppress(queue.Full):
                    self._waiting.put_nowait(None)

    def _mind(self) -> None:
        """Take one question after the other, until a None says that it is enough."""
        while True:
            try:
                job = self._waiting.get(timeout=IDLE_SECONDS if self._running else None)
            except queue.Empty:
                self._drop()
                continue
            if job is None:
                break
            if job.in_time() and job.future.set_running_or_notify_cancel():
                self._answer(job)
        self._drop()

    def _answer(self, job: Job) -> None:
        try:
            reply = self._asked(job)
        except (EOFError, OSError):
            self._drop()
            job.future.set_exception(job.why() if job.stopped else broken_off())
        except Stopped as stopped:
            self._drop()
            job.future.set_exception(stopped)
        except Exception as error:  # its asker hears of it at once, and the next question is answered
            self._drop()
            job.future.set_exception(error)
        else:
            if reply == NO_MEMORY:
                self._drop()  # what is left of it would be in the next question's way
            _deliver(job, reply)

    def _asked(self, job: Job) -> Reply | str:
        """What the process answers. Raises `EOFError`, `OSError` when it ended, `Stopped` at the deadline."""
        running = self._ready()
        job.begun = time.monotonic()
        with self._lock:
            self._job = job
        try:
            if not job.in_time():
                raise job.why()
            running.connection.send((job.name, job.arguments))
            if not running.connection.poll(job.left()):
                raise job.why()
            reply: Reply | str = running.connection.recv()
            return reply
        finally:
            with self._lock:
                self._job = None

    def _ready(self) -> _Running:
        """The process, started when there is none or the last one ended by itself."""
        if self._running is not None and not self._running.process.is_alive():
            self._drop()
        if self._running is None:
            with self._starting.counted():
                started = _started(*self._made_with)
            with self._lock:
                self._running = started
        return self._running

    def _drop(self) -> None:
        """End the process, if there is one."""
        with self._lock:
            running, self._running = self._running, None
        if running is not None:
            running.end()


def _started(*made_with: Any) -> _Running:
    """A new process: forked from one that has the modules and no threads; where the system cannot, started anew."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # its threads would cost 30 MB each and gain nothing here
    forking = "forkserver" in multiprocessing.get_all_start_methods()
    context: Any = multiprocessing.get_context("forkserver" if forking else "spawn")
    if forking:
        context.set_forkserver_preload(["server.computing.preloaded"])
    ours, theirs = context.Pipe()
    process = context.Process(target=_live, args=(theirs, *made_with), daemon=True)
    process.start()
    theirs.close()
    return _Running(process, ours)


def _live(connection: Connection, *made_with: Any) -> None:
    from server.computing.worker import live  # noqa: PLC0415 - in the other process alone

    live(connection, *made_with)


def _deliver(job: Job, reply: Reply | str) -> None:
    if isinstance(reply, str):
        job.future.set_exception(too_large() if reply == NO_MEMORY else Broken(reply))
    else:
        job.future.set_result(reply)
