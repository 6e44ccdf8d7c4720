"""What a question is answered whose computing was stopped. It costs its asker a sentence; everybody else nothing."""

from __future__ import annotations

import os

from calc.language.messages import Phrase

USUAL = 5.0
SECONDS = float(os.environ.get("CHUCKSIDE_SECONDS") or USUAL)
"""How long anybody waits, from the arrival of the question, time in the queue included; slow machines need more."""

MOST_STARTING = 20.0
"""Seconds more that a heavy question may wait while the first process loads what computes; none has them later."""


class Stopped(Exception):
    """A question without an answer: its sentence, and after how many seconds it may be asked again."""

    def __init__(self, sentence: str, wait: int) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.wait = wait


def too_long() -> Stopped:
    """It was computed for nearly all the time there is."""
    return Stopped(
        Phrase(
            "This question was stopped: it takes more than {seconds} s to compute. Ask for less at once: fewer or "
            "shorter elements, or fewer passes.",
            seconds=f"{SECONDS:.0f}",
        ),
        10,
    )


def too_large() -> Stopped:
    """It needed more memory than one question may have."""
    return Stopped(
        "This question was stopped: it needs more memory than one question may have. Ask for less at once: fewer or "
        "shorter elements, or fewer passes.",
        10,
    )


def too_busy() -> Stopped:
    """It hardly came to be computed: others were before it."""
    return Stopped("The server is busy with other people's questions just now. Ask again in a few seconds.", 5)


def still_starting() -> Stopped:
    """What computes was not loaded yet: the machine is slow, or has a lot to do."""
    return Stopped("The server has just started and is still loading. Ask again in a few seconds.", 5)


def broken_off() -> Stopped:
    """Its process ended without a word."""
    return Stopped("The calculation broke off. Ask again; if it happens again, ask for less.", 5)
