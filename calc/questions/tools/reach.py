"""Does it reach: an insert in a holder on a dish, held against every element of the contour."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calc.answer.drawing import Drawing, Nose, Outline
from calc.answer.feature import Answer, Feature, Rows
from calc.language.checks import require
from calc.language.fields import Declared, flag, result, word
from calc.language.kinds import MARGIN
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Missing
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS
from calc.machining.reach.angles import USUAL_MARGIN
from calc.machining.reach.examine import Cutter, Reach, bar_bore, examine, places_of_interest
from calc.machining.reach.findings import CheckRow, Finding, row_of
from calc.machining.reach.formulas import diameter_off_centre, pip_diameter
from calc.machining.reach.slopes import PassingRow, SlopeRow, passing_rows, slope_rows
from calc.machining.reach.work import Work, dish_work
from calc.questions.tools.reach_asked import (
    HoldInputs,
    ReachInputs,
    cutter_asked,
    dish_inputs,
    require_bar,
    require_nose,
)
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.shapes.dish.sketch import blank_drawing, dish_drawing
from calc.tool.holder import Holder, misfits, read_holder
from calc.tool.insert import Insert, read_insert
from calc.tool.point import STEPS

VERDICTS = {"passes": "passes", "tight": "is tight", "stops": "is stopped"}


class ReachResults(Declared):
    """Whether the tool reaches, and the numbers that decide it (mm, rad)."""

    verdict: str = word("This tool")
    reaches: bool = flag("It reaches")
    stopped_by: str | None = word("Stopped by")
    margin_ahead: float | None = result(MARGIN, "Spare ahead of the nose")
    margin_behind: float | None = result(MARGIN, "Spare behind the nose")
    free_angle: float = result(ANGLE, "Free for the insert", hint="between the steepest walls")
    entering_angle: float | None = result(ANGLE, "Entering angle", "κ")
    included_angle: float | None = result(ANGLE, "Included angle", "ε")
    nose_radius: float = result(RADIUS, "Nose radius", "r")
    tool_point: str | None = word("Tool point", hint="where both axes touch the nose; controls differ")
    point_beyond_axis: float | None = result(LENGTH, "Tool point beyond the axis")
    insert_beyond_axis: float | None = result(LENGTH, "Insert beyond the axis")
    edge_in_use: float | None = result(LENGTH, "Edge in use", "l_a")
    least_bore_flank: float | None = result(
        DIAMETER, "Smallest bore for its flank", hint="not known for a bar whose tilt is blank"
    )
    least_bore_bar: float | None = result(DIAMETER, "Smallest bore for the bar", hint="without room for chips")
    fits: bool | None = flag("The insert fits the holder")
    pip_diameter: float | None = result(DIAMETER, "Pip left on the axis")
    mouth_turned: float | None = result(DIAMETER, "The mouth comes out at")


ROWS = {
    "checks": Rows(CheckRow, "Checks, each at its worst place", "Checks"),
    "slopes": Rows(SlopeRow, "Edges against slopes", "Edges against slopes"),
    "passing": Rows(PassingRow, "Inserts that pass by their angles", "What would pass"),
}


def solve(inputs: ReachInputs) -> Answer[ReachResults]:
    """Hold the tool against the dish. Raises `Problem` for what is missing, cannot be, or disagrees.

    >>> from calc.questions.tools.reach_asked import HoldInputs
    >>> seat = {"radius": 75.0, "depth": 4.5}
    >>> solve(ReachInputs(insert="CNMG 120408", holder="PCLNR 2525M12", **seat)).results.stopped_by
    'the dish'
    >>> along = HoldInputs(mount="along")
    >>> solve(ReachInputs(insert="RCMT 1204M0", holder="SRDCN 2525M12", hold=along, **seat)).results.verdict
    'passes'
    """
    require(inputs)
    insert = read_insert(inputs.insert, "insert") if inputs.insert else None
    holder = read_holder(inputs.holder) if inputs.holder else None
    dish, cutter = _asked(inputs, insert, holder)
    bar = inputs.stock.bar_diameter
    require_bar(bar, dish)
    require_nose(cutter)
    work = dish_work(dish, None if bar is None else bar / 2)
    work = work.reversed() if inputs.hold.travel == "out" else work
    reach = examine(work, cutter, inputs.stock.pass_depth, inputs.hold.tilt)
    against = list(misfits(insert, holder)) if insert and holder else None
    results = reach_results(inputs.hold, cutter, reach, dish, holder, fits=None if against is None else not against)
    return Answer(
        results=results,
        headline="verdict",
        contour=dish.cut,
        cautions=tuple(reach_cautions(reach, against or [], results, inputs.hold)),
        notes=tuple(reach_notes(insert, holder, cutter)),
        sentences={"Checks": tuple(reach_remarks(reach))},
        tables=reach_tables(work, reach, cutter),
        drawing=lambda: _drawing(dish, work, reach, bar),
    )


def _asked(inputs: ReachInputs, insert: Insert | None, holder: Holder | None) -> tuple[Dish, Cutter]:
    """Dish and cutter; what is missing of both is asked for at once."""
    missing: list[Fault] = []
    try:
        cutter = cutter_asked(inputs, insert, holder)
    except Missing as problem:
        missing += problem.faults
    try:
        dish = solve_dish(dish_inputs(inputs))
    except Missing as problem:
        missing += problem.faults
    if missing:
        raise Missing(*missing)
    return dish, cutter


def reach_results(
    hold: HoldInputs, cutter: Cutter, reach: Reach, dish: Dish | None, holder: Holder | None, *, fits: bool | None
) -> ReachResults:
    """The results for a tool on a part; what belongs to a dish alone is None without one.

    `fits` says whether insert and holder belong together, None where that is not known.
    """
    angles = {finding.check: finding.angle for finding in reach.findings}
    stop = reach.stopped_by
    number = reach.tool.point_number
    height = hold.above_centre if dish else None
    point_beyond, insert_beyond = _beyond_axis(reach, dish) if dish else (None, None)
    return ReachResults(
        verdict=VERDICTS["stops" if fits is False else reach.verdict],
        reaches=stop is None and fits is not False,
        stopped_by=_stopped_by(stop, fits=fits),
        margin_ahead=angles.get("edge ahead of the nose"),
        margin_behind=angles.get("edge behind the nose"),
        free_angle=reach.opening.width,
        entering_angle=cutter.hold.entering_angle if cutter.hold else None,
        included_angle=cutter.shape.angle,
        nose_radius=cutter.nose,
        tool_point=None if number is None else str(number),
        point_beyond_axis=point_beyond,
        insert_beyond_axis=insert_beyond,
        edge_in_use=reach.used_edge,
        least_bore_flank=None if reach.least_hollow is None else 2 * reach.least_hollow,
        least_bore_bar=bar_bore(holder),
        fits=fits,
        pip_diameter=pip_diameter(height) if height and dish and not dish.hole_radius else None,
        mouth_turned=diameter_off_centre.at("at the mouth")(dish.bowl.mouth_diameter, height)
        if height and dish
        else None,
    )


def _stopped_by(stop: Finding | None, *, fits: bool | None) -> str | None:
    if fits is False:
        return "the holder's seat"
    return (stop.element or stop.check) if stop else None


def _beyond_axis(reach: Reach, dish: Dish) -> tuple[float | None, float | None]:
    """How far (mm) tool point and insert stand beyond the axis when the nose cuts it; None with a hole."""
    if dish.hole_radius or not len(reach.ride.places):
        return None, None
    end = min(reach.ride.centres, key=lambda centre: centre.r)
    beyond = max(0.0, -reach.tool.outline(end).bounds.r_min)
    number = reach.tool.point_number
    point = None if number is None else max(0.0, -(end.r + STEPS[number].r * reach.tool.nose))
    return point, beyond


def reach_cautions(reach: Reach, against: list[Message], results: ReachResults, hold: HoldInputs) -> Iterator[Caution]:
    """What stops the tool or comes near, worst first: seat, slopes, bodies, height, the axis."""
    yield from (Caution(message, 3, "fits") for message in against)
    sloped = any(finding.verdict == "stops" and finding.angle is not None for finding in reach.findings)
    for finding in reach.findings:
        follows = sloped and finding.check == "insert"
        if finding.message is not None and not follows:
            yield Caution(finding.message, 3 if finding.verdict == "stops" else 2, "verdict")
    height = hold.above_centre
    if height and results.pip_diameter and results.mouth_turned is not None:
        message = _height_message(height, results.pip_diameter, results.mouth_turned)
        yield Caution(message, 2, "above_centre")
    if results.insert_beyond_axis:
        values: dict[str, Value] = {"insert": Quantity(results.insert_beyond_axis, LENGTH)}
        text = "With the nose on the axis the insert reaches {insert} past it: retract along Z, never along X."
        yield Caution(Message(text, values), 1, "insert_beyond_axis")


def _height_message(height: float, pip: float, mouth: float) -> Message:
    values: dict[str, Value] = {
        "height": Quantity(abs(height), LENGTH, brief=True),
        "side": "above" if height > 0 else "below",
        "pip": Quantity(pip, DIAMETER),
        "mouth": Quantity(mouth, DIAMETER),
    }
    text = (
        "The tool stands {height} {side} the centre: a pip of {pip} stays on the axis and chips the nose, and the "
        "mouth comes out at {mouth}. Set the height first."
    )
    return Message(text, values)


def reach_notes(insert: Insert | None, holder: Holder | None, cutter: Cutter) -> Iterator[Message]:
    """What was left out because a designation does not say it."""
    yield from insert.notes if insert else ()
    if holder is None:
        yield Message("Without a holder's designation only the insert is checked against the part.")
    elif cutter.shank is None:
        yield Message(
            "The holder's designation does not give its shank, so only the insert is checked against the part."
        )
    if cutter.thickness is None:
        yield Message("Without the insert's thickness its flank is not checked.")


def reach_remarks(reach: Reach) -> Iterator[Message]:
    """How the checks are to be taken."""
    values: dict[str, Value] = {"margin": Quantity(USUAL_MARGIN, ANGLE, brief=True)}
    yield Message("An edge within {margin} of a wall is called tight (common practice, no source).", values)
    yield from reach.remarks
    if reach.tool.holder:
        yield Message(
            "The outline of the holder is simplified, from the usual widths and offsets of its size: a seat under "
            "the insert and a straight shank. Where it is tight, check with the holder in hand."
        )


def reach_tables(work: Work, reach: Reach, cutter: Cutter) -> dict[str, tuple[object, ...]]:
    """The checks, the slopes and the inserts that would pass."""
    hand, along = (cutter.hold.hand, cutter.hold.along) if cutter.hold else ("R", False)
    return {
        "checks": tuple(map(row_of, reach.findings)),
        "slopes": tuple(slope_rows(reach.tool, work)),
        "passing": tuple(passing_rows(reach.opening, hand, along=along)),
    }


def tool_drawn(drawing: Drawing, work: Work, reach: Reach) -> Drawing:
    """The drawing of a part with the tool where it is stopped, else at both ends of its path."""
    places = list(places_of_interest(work, reach))
    outlines = []
    for place in places:
        if place is places[-1]:
            outlines += [Outline("holder", chain) for chain in reach.tool.holder_outlines(place)]
        outlines.append(Outline("insert", reach.tool.outline(place)))
    number = reach.tool.point_number
    noses = tuple(
        Nose(place, reach.tool.nose, place.moved(STEPS[number], reach.tool.nose))
        for place in places
        if number is not None
    )
    return replace(
        drawing,
        description="Section with the insert and a simple outline of its holder, where it is stopped or at both ends.",
        outlines=tuple(outlines),
        noses=noses,
        details=(),
        dimensions=tuple(each for each in drawing.dimensions if not each.detail),
    )


def _drawing(dish: Dish, work: Work, reach: Reach, bar: float | None) -> Drawing:
    drawing = dish_drawing(dish, bar_radius=None if bar is None else bar / 2)
    return tool_drawn(replace(drawing, title="The tool on the dish"), work, reach)


FEATURE = Feature(
    path="nose-radius/reach",
    page="/reach",
    title="Reach",
    summary="Does it reach? An insert in its holder against every slope of a dish, on both sides of the axis.",
    solve=solve,
    rows=ROWS,
    supporting=("stopped_by", "margin_ahead", "margin_behind", "tool_point"),
    blank=blank_drawing(),
    example={
        "insert": "CNMG 120408",
        "holder": "PCLNR 2525M12",
        "radius": "75",
        "depth": "4.5",
        "break_kind": "radius",
        "break_size": "0.8",
        "bar_diameter": "60",
        "pass_depth": "1",
    },
)
