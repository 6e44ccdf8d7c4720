"""The holder as a question: what its designation says, and whether an insert belongs in it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.language.checks import require
from calc.language.fields import Declared, flag, result, word
from calc.language.messages import Caution, Message, Phrase, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import ANGLE, DIAMETER, LENGTH
from calc.tool.holder import Holder, misfits, read_holder
from calc.tool.holder.formulas import end_cutting_angle, point_out_in_x, point_out_in_z
from calc.tool.insert import Position, nose_of, read_insert

NO_END_ANGLE = 1e-9


class HolderInputs(Declared):
    """The designation of a holder or a bar, and of an insert to go into it."""

    holder: str = nouns.HOLDER.needed(hint="such as PCLNR 2525M12, MCLNR 16-4D or S16R-SDUCR11")
    insert: str | None = nouns.INSERT.given(blank="the holder alone")
    next_insert: str | None = word("Insert that replaces it", hint="for what the change does to X and Z", blank="none")


class HolderResults(Declared):
    """What the designation gives (mm, rad); None for what it leaves open."""

    entering_angle: float | None = result(ANGLE, "Entering angle", "κ")
    end_angle: float | None = result(ANGLE, "End cutting angle", "κ₂", hint="between the feed and the second edge")
    style: str = word("Style")
    hand: str = word("Hand")
    shape: str = word("Takes inserts of shape")
    clearance: str = word("Clearance")
    insert_code: str | None = word("Insert size")
    insert_size: float | None = result(DIAMETER, "Inscribed circle of its insert", "d")
    shank_height: float | None = result(LENGTH, "Shank height")
    shank_width: float | None = result(LENGTH, "Shank width")
    bar_diameter: float | None = result(DIAMETER, "Bar diameter")
    length: float | None = result(LENGTH, "Overall length")
    fits: bool | None = flag("The insert fits")
    point_out_x: float | None = result(
        LENGTH, "Tool point farther out in X", "dX", hint="per side, toward the work; negative: farther back"
    )
    point_out_z: float | None = result(
        LENGTH, "Tool point farther out in Z", "dZ", hint="toward the work; negative: farther back"
    )


def solve(inputs: HolderInputs) -> Answer[HolderResults]:
    """What the designation says. Raises Missing for a blank one, OutOfRange where a position is wrong.

    >>> found = solve(HolderInputs(holder="PCLNR 2525M12", insert="CNMG 120408")).results
    >>> round(math.degrees(found.entering_angle)), round(math.degrees(found.end_angle)), found.fits
    (95, 5, True)
    """
    require(inputs)
    holder = read_holder(inputs.holder)
    against = tuple(misfits(read_insert(inputs.insert, "insert"), holder)) if inputs.insert else None
    results = _results(holder, None if against is None else not against, _moved(inputs, holder))
    return Answer(
        results=results,
        headline="entering_angle" if results.entering_angle is not None else "style",
        cautions=tuple(Caution(message, 3, "fits") for message in against or ()),
        notes=(*_notes(holder), *_change_notes(results)),
        tables={"positions": holder.positions},
    )


def _results(holder: Holder, fits: bool | None, moved: tuple[float, float] | None) -> HolderResults:
    return HolderResults(
        entering_angle=holder.style.angle,
        end_angle=_end_angle(holder),
        style=Phrase("{letter}: {words}", letter=holder.style.letter, words=holder.style.words),
        hand={"R": "right hand", "L": "left hand", "N": "neutral"}[holder.hand],
        shape=Phrase("{letter}: {words}", letter=holder.shape.letter, words=holder.shape.words),
        clearance=Phrase("{letter}: {words}", letter=holder.clearance.letter, words=holder.clearance.words),
        insert_code=holder.insert_code or None,
        insert_size=holder.insert_size,
        shank_height=holder.shank_height,
        shank_width=holder.shank_width,
        bar_diameter=holder.bar_diameter,
        length=holder.length,
        fits=fits,
        point_out_x=moved and moved[0],
        point_out_z=moved and moved[1],
    )


def _moved(inputs: HolderInputs, holder: Holder) -> tuple[float, float] | None:
    """How the tool point moves in X and Z when the insert is replaced; None without. Raises Missing, Impossible."""
    if inputs.next_insert is None:
        return None
    if inputs.insert is None:
        raise Missing(Fault("insert", Message("Give the insert that is in the holder now.")))
    now, after = read_insert(inputs.insert, "insert"), read_insert(inputs.next_insert, "next_insert")
    if (now.shape.letter, now.size) != (after.shape.letter, after.size):
        raise Impossible(Fault("next_insert", Message(_OTHER_SEAT)))
    for against in misfits(after, holder):
        raise Impossible(Fault("next_insert", against))
    kappa, epsilon = holder.style.angle, holder.shape.angle
    if kappa is None or epsilon is None:
        raise Impossible(Fault("next_insert", Message("A round insert's tool point does not move like that.")))
    noses = nose_of(inputs.insert, "exact", "insert"), nose_of(inputs.next_insert, "exact", "next_insert")
    return point_out_in_x(*noses, epsilon, kappa), point_out_in_z(*noses, epsilon, kappa)


def _change_notes(found: HolderResults) -> Iterator[Message]:
    if found.point_out_x is None or found.point_out_z is None:
        return
    values: dict[str, Value] = {
        "diameter": Quantity(2.0 * abs(found.point_out_x), LENGTH),
        "outside": "smaller" if found.point_out_x >= 0.0 else "larger",
        "bore": "larger" if found.point_out_x >= 0.0 else "smaller",
        "z": Quantity(abs(found.point_out_z), LENGTH),
        "deeper": "deeper" if found.point_out_z >= 0.0 else "less deep",
    }
    yield Message(_WITHOUT_OFFSET, values)


def _end_angle(holder: Holder) -> float | None:
    """None for round inserts and where shape and style leave no angle."""
    kappa, epsilon = holder.style.angle, holder.shape.angle
    if kappa is None or epsilon is None or math.pi - kappa - epsilon < NO_END_ANGLE:
        return None
    return end_cutting_angle(kappa, epsilon)


def _notes(holder: Holder) -> Iterator[Message]:
    if holder.insert_code == "":
        yield Message("The designation ends before the insert's size, so that only shape and clearance are checked.")
    if holder.style.neutral is False and holder.hand == "N":
        values = {"style": holder.style.letter}
        yield Message("A neutral holder of style {style} is unusual: check the letter for the hand.", values)
    if holder.is_bar and holder.bar_diameter:
        yield Message(
            "A bar cuts with the end of its head, fed along its own axis: that is the feed of its entering angle."
        )


_OTHER_SEAT = "An insert of another shape or size sits differently in its pocket: touch the tool off again."
_WITHOUT_OFFSET = (
    "Without new offsets outside work comes out {diameter} {outside} on the diameter, a bore as much {bore}, and "
    "shoulders {z} {deeper}: set the nose radius and touch off, or correct both and measure. An indexed insert repeats "
    "only within its tolerance class."
)

FEATURE = Feature(
    path="nose-radius/holder",
    page="/holder",
    title="Holder",
    summary="What each letter and number on a holder or boring bar means, its angles, and whether an insert fits it.",
    solve=solve,
    rows={"positions": Rows(Position, "Position by position", "Position by position")},
    supporting=("end_angle", "style", "shape", "fits", "insert_code"),
    example={"holder": "SDJCR 2020K11", "insert": "DCMT 11T304"},
)
