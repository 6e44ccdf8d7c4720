"""Which rotation, feed direction and hand of tool cut a right-hand or a left-hand thread."""

from __future__ import annotations

from dataclasses import dataclass

from calc.language.fields import Declared, word
from calc.language.messages import Phrase

ROTATIONS = {"forward": "counter-clockwise (forward)", "reverse": "clockwise (reverse)"}
TOWARD = {"chuck": "toward the chuck", "away": "away from the chuck"}


@dataclass(frozen=True, slots=True)
class Setting:
    """One way to cut a thread: rotation, feed, whether the hand comes out right, tool, and the sign of the shim."""

    rotation: str
    feed: str
    tool: str
    pulling: bool


class SettingRow(Declared):
    """One way to cut this thread, in words."""

    rotation: str = word("Spindle, seen from the tailstock")
    feed: str = word("Feed")
    tool: str = word("Tool")
    shim: str = word("Shim")


def makes_left(rotation: str, feed: str) -> bool:
    """Whether a `rotation` ("forward", "reverse") and a `feed` ("chuck", "away") cut a left-hand thread.

    Forward turns counter-clockwise seen from the tailstock. Toward the chuck that winds a right-hand helix, outside and
    inside alike; turning either round makes the other hand. Source: geometry of the helix.

    >>> makes_left("forward", "chuck"), makes_left("forward", "away"), makes_left("reverse", "away")
    (False, True, False)
    """
    return (rotation == "forward") != (feed == "chuck")


def settings(*, left: bool, outside: bool) -> tuple[Setting, ...]:
    """The ways to cut a thread of this hand, the usual one first: a tool on its own side, then one that pulls.

    `left` and `outside` say which thread. The tool stands in front; face down it cuts the other way, so its hand
    changes with it. Inside the same bar that goes in pulls on the way out. Source: geometry.

    >>> [(way.rotation, way.feed, way.tool) for way in settings(left=False, outside=True)]
    [('forward', 'chuck', 'right-hand, face up'), ('reverse', 'away', 'right-hand, face down')]
    """
    found = []
    for rotation in ROTATIONS:
        for feed in TOWARD:
            if makes_left(rotation, feed) != left:
                continue
            face = "face up" if rotation == "forward" else "face down"
            pulling = feed == "away" and not outside
            turned_round = rotation == "reverse"
            hand = "left-hand" if turned_round != (feed == "away" and outside) else "right-hand"
            found.append(Setting(rotation, feed, Phrase("{hand}, {face}", hand=hand, face=face), pulling))
    return tuple(found)


def rows_of(ways: tuple[Setting, ...]) -> tuple[SettingRow, ...]:
    """The settings in words for a page.

    >>> rows_of(settings(left=True, outside=True))[0].rotation
    'counter-clockwise (forward)'
    """
    return tuple(
        SettingRow(
            rotation=ROTATIONS[way.rotation],
            feed=TOWARD[way.feed],
            tool=way.tool,
            shim="negative, the tool pulls" if way.pulling else "by the lead angle",
        )
        for way in ways
    )
