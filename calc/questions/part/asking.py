"""From the declared fields of the page to a `Job`: contours solved, the bar as an area, tools read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import cast

from calc.answer.feature import Unfinished
from calc.contour import Bounds, Chain, Point, Side
from calc.contour.solving import solve
from calc.contour.solving.habits import Habits
from calc.contour.text import ContourGiven
from calc.cutting.material_data import Material
from calc.cutting.materials import material
from calc.language.messages import Caution, Message, Quantity, Value, in_a_row
from calc.language.problems import Fault, Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import DIAMETER
from calc.machining.job import Cut, Where
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import Stock, stock_of
from calc.questions.operations.contour_plan.plan import LONGEST_BACK
from calc.questions.operations.strategies import CUT_FIELDS, ROUGHING, led_cut
from calc.questions.part.declared import TURNED, BarInputs, HoldingInputs, OperationRow, PartInputs
from calc.questions.part.job import (
    End,
    Jaws,
    Job,
    Kind,
    Operation,
    Print,
    Setup,
    Steady,
    Travel,
)
from calc.questions.part.knurl_blank import at_the_blank, knurls_of
from calc.questions.part.left_on import rests_of, to_the_far_end, turned_print
from calc.questions.part.proposing import proposed_text
from calc.questions.part.shown import part_drawing
from calc.questions.part.starting import feed_asked, speed_asked
from calc.questions.part.tools_asked import tool_of
from calc.questions.part.turnable import require_turnable, with_both_faces
from calc.questions.part.turret import places_in
from calc.questions.shapes.contour_dimensions import groove_dimensions
from calc.questions.shapes.contour_settled import settled
from calc.questions.shapes.contour_side import drawing
from calc.questions.shapes.contour_solved import blanks_solved
from calc.shapes.chosen import sound

FIELDS: Mapping[str, str] = {
    "cut.feed": "feed",
    "cut.depth": "depth",
    "cut.surface_speed": "surface_speed",
    "from": "from_row",
    "to": "to_row",
    "tool": "insert",
    "tool.nose_radius": "nose_radius",
    "tool.diameter": "size",
    "tool.width": "size",
    "tool.pitch": "size",
    "tool.part_chamfer": "part_chamfer",
    "tool.bar_chamfer": "bar_chamfer",
    "tool.edge_lead": "edge_lead",
    "tool.over_diameter": "over_knurl",
    "tool.thread": "thread",
    "tool.size": "size",
    "tool.point_angle": "point_angle",
    "depth": "hole_depth",
    **{f"cut.{name}": name for name in CUT_FIELDS},
}
"""What an operation's fields are called in its row."""

SURFACES_OF: Mapping[str, Where] = {"outside": "outside", "inside": "bore", "face": "face"}
STEADY_WIDTH = 20.0
"""mm: a steady rest of which nothing is known is so wide (common practice, no source)."""

RIGHT: Side = "right"
LEFT: Side = "left"


def job_of(inputs: PartInputs) -> Job:
    """What is asked, ready to run. Raises `Missing` and what contours and tools raise, at the fields of the page."""
    outside, inside = prints_of(inputs)
    stock = _bar_around(outside, inputs.bar)
    work = material(inputs.bar.material) if inputs.bar.material else None
    setups = tuple(_setups(inputs.plan.operations, inputs.holding, work))
    places_in([operation for setup in setups for operation in setup.operations])
    job = Job(outside, stock, setups, inside, inputs.machine, inputs.bar.material)
    if not setups:
        asked = Message("Add the first operation: what it does, with which tool.")
        if job.material is None:
            asked = in_a_row(asked, Message("With the material given, operations are proposed."))
        offered, left_open = _offers(job, inputs)
        fault = Fault("operations", in_a_row(asked, *left_open) if left_open else asked, offered)
        raise Unfinished(fault, drawing=part_drawing(job), solved=job.solved)
    return job


def _bar_around(outside: Print, bar: BarInputs) -> Stock:
    """The bar as an area; until it is known the print is shown without it."""
    try:
        return bar_stock(bar, outside.chain.bounds)
    except Missing as missing:
        raise Unfinished(
            *missing.faults, drawing=drawing(outside.chain, RIGHT, None), solved=outside.solved
        ) from missing


def prints_of(inputs: PartInputs) -> tuple[Print, Print | None]:
    """Outside and bore as they are turned. Raises `Missing` without an outside, and what contours raise."""
    if inputs.outside is None:
        text = "Give the outside of the print: its first face, cylinder, line or arc."
        raise Missing(Fault("outside", Message(text)))
    bore = None if inputs.inside is None else _print(inputs.inside, LEFT, inputs.bar)
    drawn, bore = with_both_faces(_print(inputs.outside, RIGHT, inputs.bar), bore, inputs.bar.stock_bore / 2.0)
    outside = turned_print(drawn, RIGHT, rests_of(inputs.later, "outside"))
    outside = at_the_blank(outside, knurls_of(inputs.outside, drawn))
    if outside.chain.bounds.z_min >= 0.0:
        text = "The outside must run from Z zero to negative Z, into the part."
        raise OutOfRange(Fault("outside", Message(text)))
    require_turnable(drawn, bore)
    inside = _inside(inputs, bore)
    return outside, inside and to_the_far_end(inside, outside)


def _inside(inputs: PartInputs, bore: Print | None) -> Print | None:
    """The bore as it is turned. Raises `Missing` where something is to be left in a bore that is not given."""
    rests = rests_of(inputs.later, "inside")
    if bore is not None:
        return turned_print(bore, LEFT, rests)
    if rests:
        raise Missing(Fault("inside", Message("Something is left in the bore: give the bore of the print.")))
    return None


def _offers(job: Job, inputs: PartInputs) -> tuple[tuple[str, ...], tuple[Message, ...]]:
    """Operations to start from and what they leave open, none where none can be proposed.

    What is missing for them is asked for anyway.
    """
    try:
        text, left_open = proposed_text(job, inputs.outside, inputs.inside)
    except Problem:
        return (), ()
    return (text,), left_open


def _print(given: ContourGiven, side: Side, bar: BarInputs) -> Print:
    """The likeliest contour with these dimensions, as the page of the contour draws it first."""
    found = settled(given, _habits(side, bar)).solutions[0]
    try:
        chain = sound(Chain(found.contour, found.names))
    except Problem as problem:
        raise problem.renamed(given.field) from problem
    sizes = tuple(groove_dimensions(found, given))
    return Print(chain, tuple(each.of + 1 for each in found.elements), blanks_solved(found, given), sizes=sizes)


def _habits(side: Side, bar: BarInputs) -> Habits:
    return Habits(side, None if bar.bar_diameter is None else bar.bar_diameter / 2.0)


def several_contours(inputs: PartInputs) -> Iterator[Caution]:
    """That a contour's dimensions mean more than the one that is taken."""
    for spec, side in ((inputs.outside, RIGHT), (inputs.inside, LEFT)):
        if spec is None:
            continue
        count = len(solve(spec.start, spec.elements, habits=_habits(side, inputs.bar)).solutions)
        if count > 1:
            where = "outside" if side == RIGHT else "bore"
            text = (
                "{count} contours have the dimensions of the {where}; the likeliest is drawn. Give one dimension "
                "more, or check every point."
            )
            values: dict[str, Value] = {"count": count, "where": where}
            yield Caution(Message(text, values), 2, "outside")


def bar_stock(bar: BarInputs, print_: Bounds) -> Stock:
    """The bar as an area around a print. Raises `Missing` without its diameter, `Impossible` where the part is larger.

    >>> bar_stock(BarInputs(bar_diameter=20.0, face_stock=1.0, stock_length=31.0), Bounds(-30.0, 0.0, 0.0, 9.0)).bounds
    (-30.0, 0.0, 1.0, 10.0)
    """
    if bar.bar_diameter is None:
        raise Missing(Fault("bar_diameter", Message("Give the bar's diameter.")))
    needed, long, face = 2.0 * print_.r_max, -print_.z_min, bar.face_stock
    if bar.bar_diameter < needed * (1.0 - 1e-9):
        values = {"bar": Quantity(bar.bar_diameter, DIAMETER, brief=True), "needed": Quantity(needed, DIAMETER)}
        raise Impossible(Fault("bar_diameter", Message("The bar {bar} is smaller than the part, {needed}.", values)))
    bore = bar.stock_bore
    if bore >= bar.bar_diameter:
        raise Impossible(Fault("stock_bore", Message("The bore takes the whole bar away.")))
    if bar.stock_length is not None and bar.stock_length < (long + face) * (1.0 - 1e-9):
        text = "The stock is shorter than the part and its face stock."
        raise Impossible(Fault("stock_length", Message(text)))
    back = -long - LONGEST_BACK if bar.stock_length is None else face - bar.stock_length
    return stock_of(Bar(bar.bar_diameter / 2.0, face, back, bore / 2.0).area())


def _setups(rows: tuple[OperationRow, ...], holding: HoldingInputs, work: Material | None) -> Iterator[Setup]:
    """A setup for each run of operations on one end."""
    end: End = "first"
    held: list[Operation] = []
    for number, row in enumerate(rows):
        if row.use == "off":
            continue
        if row.end != end and held:
            yield _setup(end, held, holding)
            held = []
        end = row.end
        held.append(_operation(row, work, f"operations.{number}"))
    if held:
        yield _setup(end, held, holding)


def _setup(end: End, operations: Sequence[Operation], holding: HoldingInputs) -> Setup:
    travel = None
    if holding.travel_x is not None or holding.travel_z is not None:
        travel = Travel(z_min=holding.travel_z, r_max=holding.travel_x)
    setup = Setup(end, tuple(operations), travel=travel, turning_at=_turning_at(holding))
    if end == "second":
        bored, deep = holding.second_soft_bore, holding.second_soft_depth
        jaws = Jaws(holding.second_jaw_diameter, holding.jaw_length, bored, deep)
        return replace(setup, length_out=holding.second_length_out, jaws=jaws)
    return replace(
        setup,
        length_out=holding.first_length_out,
        jaws=Jaws(holding.first_jaw_diameter, holding.jaw_length, collet=_collet(holding)),
        tailstock_diameter=holding.tailstock_diameter,
        steady=_steady(holding),
    )


def _steady(holding: HoldingInputs) -> Steady | None:
    if holding.steady_z is None:
        return None
    width = STEADY_WIDTH if holding.steady_width is None else holding.steady_width
    return Steady(holding.steady_z, width, holding.steady_diameter)


def _turning_at(holding: HoldingInputs) -> Point | None:
    """Where the turret turns. Raises `Missing` where only one coordinate is given."""
    x, z = holding.turret_x, holding.turret_z
    if x is not None and z is not None:
        return Point(z, x)
    if x is None and z is None:
        return None
    field = "turret_x" if x is None else "turret_z"
    raise Missing(Fault(field, Message("Give both X and Z of where the turret indexes.")))


def _collet(holding: HoldingInputs) -> tuple[float, float] | None:
    """The range of the collet. Raises `Missing` where one of its ends is not given."""
    low, high = holding.collet_from, holding.collet_to
    if low is not None and high is not None:
        return low, high
    if low is None and high is None:
        return None
    text = "Give the smallest and the largest diameter that the collet holds."
    raise Missing(Fault("collet_from" if low is None else "collet_to", Message(text)))


def _require_cut(row: OperationRow, work: Material | None, field: str) -> None:
    """Raise `Missing` for an operation that does nothing yet, or turns without a speed or a feed."""
    missing = [] if row.kind else [Fault(f"{field}.kind", Message("Say what this operation does."))]
    if row.kind in TURNED and not row.surface_speed:
        missing.append(speed_asked(row, work, f"{field}.surface_speed"))
    if row.kind in TURNED and not row.feed:
        missing.append(feed_asked(row, work, f"{field}.feed"))
    if missing:
        raise Missing(*missing)


def _operation(row: OperationRow, work: Material | None, field: str) -> Operation:
    kind = cast("Kind", row.kind)
    _require_cut(row, work, field)
    cut = led_cut(row, Cut(row.depth, row.feed, row.surface_speed, row.allowance_z, row.allowance_x))
    first, last = (None if each is None else round(each) for each in (row.from_row, row.to_row))
    tool = tool_of(row, field)
    return Operation(
        kind,
        tool,
        cut,
        first,
        last,
        depth=row.hole_depth,
        where=SURFACES_OF.get(row.where),
        name=row.name or "",
        field=field,
        place=None if row.turret is None else round(row.turret),
        stick_out=row.stick_out,
        strategy=ROUGHING[row.roughing],
    )


def at_the_page(name: str) -> str:
    """The page's field of what the plan calls `operations.2.cut.feed`.

    >>> at_the_page("operations.2.cut.feed"), at_the_page("part.inside"), at_the_page("operations.1.kind")
    ('operations.2.feed', 'inside', 'operations.1.kind')
    """
    if name.startswith("part."):
        return name.removeprefix("part.")
    words = name.split(".", 2)
    if len(words) < 3 or words[0] != "operations":
        return name
    return ".".join([*words[:2], FIELDS.get(words[2], words[2])])
