"""Proposed operations as the rows of the page: typed texts with their units, each with its reason as a code."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from calc.contour.text import ContourGiven
from calc.language.limited import limited
from calc.language.messages import Message
from calc.language.quantities import DIAMETER, FEED, LENGTH, METRIC, SURFACE_SPEED, Kind
from calc.questions.part.called import Called
from calc.questions.part.close_sizes import Close
from calc.questions.part.job import Countersink, Drill, Grooving, Job, Operation, Reamer, Roll, Tap, Threading, Turning
from calc.questions.part.knurl_blank import knurls_of
from calc.questions.part.proposal import propose

AWAY = str.maketrans("*~", "∗∼")


def proposed_text(
    job: Job, outside: ContourGiven | None, inside: ContourGiven | None
) -> tuple[str, tuple[Message, ...]]:
    """The operations that are proposed for a job, as the text of the page's list, and what they leave open.

    Raises what `propose` does.
    """
    called = (*_called(outside, "outside"), *_called(inside, "bore"))
    knurls = knurls_of(outside, job.outside.drawn or job.outside)
    found = propose(job, called, (*_close(outside, "outside"), *_close(inside, "bore")), knurls)
    rows = [
        {"end": "" if setup.end == "first" else setup.end, **_texts(operation), "why": reason.code}
        for setup, reasons in zip(found.setups, found.reasons, strict=True)
        for operation, reason in zip(setup.operations, reasons, strict=True)
    ]
    texts = ("~".join(f"{name}:{text.translate(AWAY)}" for name, text in row.items() if text) for row in rows)
    return "*".join(texts), found.open_points


def _close(given: ContourGiven | None, where: Literal["outside", "bore"]) -> Iterator[Close]:
    """The diameters of a contour that have limits, each with the number of its row."""
    if given is None:
        return
    for field, value in given.typed.items():
        _, row, name = field.split(".")
        limits = limited(value) if name == "x" else None
        if limits is not None:
            number = sum(each <= int(row) for each in given.rows)
            yield Close(number, where, 2.0 * limits.value, 2.0 * (limits.upper - limits.lower))


def _called(given: ContourGiven | None, where: str) -> Iterator[Called]:
    """The threads that rows of the print bear."""
    for row, designation in (given.threads if given is not None else {}).items():
        number = sum(each <= row for each in given.rows) if given is not None else 0
        yield Called(designation, number, number, "bore" if where == "bore" else "outside")


def _texts(operation: Operation) -> dict[str, str]:
    cut, tool = operation.cut, operation.tool
    named: dict[str, str] = {"kind": operation.kind}
    if operation.where in ("bore", "face"):
        named["where"] = "inside" if operation.where == "bore" else "face"
    if isinstance(tool, Turning):
        named |= {"insert": tool.insert, "holder": tool.holder}
        named |= {} if tool.insert else {"nose_radius": _say(tool.tool.nose, LENGTH)}
    elif isinstance(tool, Drill | Reamer | Countersink):
        named["size"] = _say(tool.diameter, LENGTH)
        named["drill_material"] = tool.made_of if isinstance(tool, Drill) and tool.made_of != "HSS" else ""
    elif isinstance(tool, Grooving):
        named["size"] = _say(tool.width, LENGTH)
    elif isinstance(tool, Roll):
        named |= {"size": _say(tool.pitch, LENGTH), "knurl_form": tool.form, "over_knurl": _say(tool.over, DIAMETER)}
    elif isinstance(tool, Tap | Threading):
        named["thread"] = tool.designation
    named |= {"surface_speed": _say(cut.surface_speed, SURFACE_SPEED), "feed": _say(cut.feed, FEED)}
    named |= {"depth": _say(cut.depth, LENGTH), "hole_depth": _say(operation.depth, LENGTH)}
    named |= {"allowance_z": _say(cut.along_z or None, LENGTH), "allowance_x": _say(cut.along_x or None, LENGTH)}
    for name, row in (("from_row", operation.first), ("to_row", operation.last)):
        named[name] = "" if row is None else str(row)
    return named


def _say(value: float | None, kind: Kind) -> str:
    """A number with its unit, which holds on any page; "" without one."""
    return "" if value is None else kind.say(value, METRIC, brief=True)
