"""Operations to start from: what a lead would write down for a print and a stock, in order, each with its reason."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from calc.contour import Arc, Chain
from calc.cutting.materials import Material, material
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Missing
from calc.language.quantities import DIAMETER, LENGTH, RADIUS
from calc.machining.blades import dips
from calc.machining.finding import Found
from calc.machining.job import Contour, Cut
from calc.machining.whole import turned_contour
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.part.called import Called, Knurled, Proposed
from calc.questions.part.choosing import (
    BLADES,
    KNURLED,
    SAME,
    Side,
    cut_to_start,
    is_level,
    level_width,
    tools_for,
    with_nose,
    without_grooves,
)
from calc.questions.part.close_sizes import CLOSE, Close, cut_on_axis, reamed_bore
from calc.questions.part.drilled_first import drilled_first
from calc.questions.part.ends import ends_of, rows_of_bore, rows_of_end
from calc.questions.part.held import turning_tool
from calc.questions.part.job import (
    End,
    Grooving,
    Job,
    Operation,
    Print,
    Reamer,
    Setup,
    Threading,
    Turning,
)
from calc.questions.part.parted import (
    SECOND_FACE,
    blade_of,
    drilled_to,
    hole_of,
    is_parted,
    left_behind,
)
from calc.questions.part.shares import dish_of
from calc.questions.part.undercuts import without_undercuts
from calc.tool.catalogue import pairs

ALLOWANCE_Z, ALLOWANCE_X = 0.1, 0.3
"""mm: what roughing leaves along Z and, of a radius, along X (common practice, no source)."""

DISH_ALLOWANCE = 0.3
"""mm: the same along Z in a dish (common practice, no source)."""

ROUGH_NOSE, FINISH_NOSE = 1.2, 0.8
"""mm: noses are no larger than this, so that little stays in sharp corners (common practice, no source)."""


def propose(
    job: Job, threads: tuple[Called, ...] = (), close: tuple[Close, ...] = (), knurls: tuple[Knurled, ...] = ()
) -> Proposed:
    """Operations for a job's print, stock, machine and material; setups that it has already are not looked at.

    `close` are the sizes with limits: those are measured before the finish; `knurls` stand on rows of the outside.

    Raises `Missing` without a material. Source: the order of common practice.
    """
    if job.material is None:
        raise Missing(Fault("part.material", Message("Speeds and feeds need the material.")))
    made = [_Maker(job, material(job.material), threads, close, knurls, end) for end in ends_of(job)]
    setups = tuple(Setup(each.end, tuple(operation for operation, _ in each.found)) for each in made)
    reasons = tuple(tuple(reason for _, reason in each.found) for each in made)
    return Proposed(setups, reasons, tuple(point for each in made for point in each.open_points))


@dataclass
class _Maker:
    """Writes down the operations of one end."""

    job: Job
    work: Material
    threads: tuple[Called, ...]
    close: tuple[Close, ...]
    knurls: tuple[Knurled, ...]
    end: End
    found: list[tuple[Operation, Message]] = field(default_factory=list)
    open_points: list[Message] = field(default_factory=list)

    def __post_init__(self) -> None:
        first, last = rows_of_end(self.job.outside, self.end)
        low, high = dish_of(self._seen(self.job.outside.chain), self.end)
        has_dish = high >= low
        behind = (max(first, high + 1), last) if has_dish and self.end == "first" else (first, last)
        turned = self._has_outside(self.end)
        outside = self._tools(self.job.outside, behind, "outside") if turned else []
        roughing = self._roughing_tools(outside, behind) if turned else []
        self._face(roughing, ALLOWANCE_Z if outside else 0.0)
        if self.end == "first":
            self.found += drilled_first(self.job, self.work, self.close)
        if turned:
            self._rough(roughing, behind)
        if has_dish and first <= low <= last:
            self._dish(low, high)
        if self.job.inside is not None:
            self._bore(self.job.inside)
        self._measure(self.job.outside, behind, "outside")
        self._finish(outside, behind)
        self._grooves((first, last))
        self._threads()
        self._knurls((first, last))
        if self.end == "first":
            self._part_off()

    def _has_outside(self, end: End) -> bool:
        """Whether rows of the outside are turned from an end; the second may be turned round for its bore alone."""
        first, last = rows_of_end(self.job.outside, end)
        return first <= last

    def _seen(self, chain: Chain) -> Chain:
        if self.end == "first":
            return chain
        return turned_contour(Contour(chain, "right"), self.job.length).chain

    def _add(self, operation: Operation, text: str, **values: Value) -> None:
        self.found.append((operation, Message(text, values)))

    def _row(self, print_: Print, index: int) -> int:
        return print_.numbers[index]

    def _tools(self, print_: Print, share: tuple[int, int], place: Side) -> list[Found]:
        hole = None
        if place == "bore":
            drilled = self._drilled()
            hole = (2.0 * print_.chain.bounds.r_min if drilled is None else drilled) / 2.0
        return tools_for(self._seen(self._without_grooves(print_, share, place)), place, hole)

    def _roughing_tools(self, finishing: list[Found], share: tuple[int, int]) -> list[Found]:
        """The tools that reach the outside but for its undercuts: those that finish, where it has none."""
        chain = self._without_grooves(self.job.outside, share, "outside")
        plain = without_undercuts(chain, "outside")
        return finishing if plain == chain else tools_for(self._seen(plain), "outside", None)

    def _without_grooves(self, print_: Print, share: tuple[int, int], place: Side) -> Chain:
        turned = self._blanks() if place == "outside" else frozenset[int]()
        return without_grooves(print_.chain, share, place, turned)

    def _blanks(self) -> frozenset[int]:
        """The elements of the outside that are turned to the blank of a knurl."""
        rows = {each.row for each in self.knurls}
        return frozenset(index for index, row in enumerate(self.job.outside.numbers) if row in rows)

    def _cut(self, operation: str, tool: Turning, keep: tuple[float, float] | None = None) -> Cut:
        return cut_to_start(self.work, operation, tool.tool.nose, keep)

    def _face(self, tools: list[Found], keep: float) -> None:
        """The face, with what is to `keep` (mm) for the finish that goes over it; none where there is no more."""
        front = self._front()
        if not tools or front <= keep + SAME:
            return
        tool = with_nose(tools[0], ROUGH_NOSE, "outside")
        cut = self._cut("rough", tool, (keep, 0.0))
        first, last = rows_of_end(self.job.outside, self.end)
        row = self._row(self.job.outside, first if self.end == "first" else last)
        text = "The stock stands {front} in front of the face: face it first, leaving {keep} for the finish."
        if keep == 0.0:
            text = "The stock stands {front} in front of the face: face it first, so that lengths have a clean zero."
        said = {name: Quantity(value, LENGTH, brief=True) for name, value in (("front", front), ("keep", keep))}
        self._add(Operation("face", tool, cut, row, row), text, **said)

    def _front(self) -> float:
        """How far the stock stands in front of the end's face, mm."""
        if self.end == "first":
            return self.job.stock.bounds[2]
        behind = -self.job.stock.bounds[0] - self.job.length
        return SECOND_FACE if is_parted(self.job) else behind

    def _drilled(self) -> float | None:
        return drilled_to(self.job, self.work, self.close)

    def _rough(self, tools: list[Found], share: tuple[int, int]) -> None:
        for number, found in enumerate(tools[: 1 if tools and tools[0].reaches else 2]):
            tool = with_nose(found, ROUGH_NOSE, "outside")
            cut = self._cut("rough", tool, (ALLOWANCE_Z, ALLOWANCE_X))
            rows = self._row(self.job.outside, share[0]), self._row(self.job.outside, share[1])
            if number:
                text = "What the first tool cannot reach, with {tool}: only what is left there is cut."
                self._add(Operation("rough", tool, cut, *rows), text, tool=found.insert)
            else:
                text = "Rough from this end to the largest diameter, {x} on the radius and {z} along Z left to finish."
                keep = {"x": Quantity(ALLOWANCE_X, LENGTH, brief=True), "z": Quantity(ALLOWANCE_Z, LENGTH, brief=True)}
                self._add(Operation("rough", tool, cut, *rows), text, **keep)
        if not tools:
            said = Message(
                "No common tool reaches the outside from the {end} end: see its steepest walls.", {"end": self.end}
            )
            self.open_points.append(said)

    def _finish(self, tools: list[Found], share: tuple[int, int]) -> None:
        for found in tools[: 1 if tools and tools[0].reaches else 2]:
            tool = with_nose(found, FINISH_NOSE, "outside")
            text = "Finish in one direction from the face, with a nose of {nose}."
            rows = self._row(self.job.outside, share[0]), self._row(self.job.outside, share[1])
            operation = Operation("finish", tool, self._cut("finish", tool), *rows)
            self._add(operation, text, nose=Quantity(tool.tool.nose, RADIUS, brief=True))

    def _dish(self, low: int, high: int) -> None:
        """A dish before the face: a round insert along its contour, then over it once."""
        outside = self.job.outside
        arcs = [each for each in outside.chain.elements[low : high + 1] if isinstance(each, Arc)]
        hollow = min((each.radius for each in arcs if each.curvature < 0.0), default=math.inf)
        names = [(pair.inserts[0], pair.holder_name) for pair in pairs("outside")]
        rounds = [(name, insert.nose, holder) for (name, insert), holder in names if insert.shape.angle is None]
        fitting = [each for each in rounds if each[1] is not None and each[1] <= hollow]
        if not fitting:
            self.open_points.append(Message("No common round insert fits into the dish: choose its tool."))
            return
        name, _, holder = fitting[0]
        tool = turning_tool(ToolInputs(insert=name, holder=holder))
        rows = self._row(outside, low), self._row(outside, high)
        nose = Quantity(tool.tool.nose, RADIUS, brief=True)
        rough = self._cut("rough", tool, (DISH_ALLOWANCE, 0.0))
        text = "The dish along its contour with a round insert, {nose}: no edge stands in the way."
        self._add(Operation("rough", tool, rough, *rows), text, nose=nose)
        text = "Over the dish once, from the mouth to the axis, with the same insert."
        self._add(Operation("finish", tool, self._cut("finish", tool), *rows), text)

    def _bore(self, inside: Print) -> None:
        share = rows_of_bore(inside.chain, self.end)
        if share is None:
            return
        reamed = reamed_bore(inside.chain, self.close)
        if reamed is not None and hole_of(self.job.stock) == 0.0:
            text = "Ream {d}: a straight bore whose limits are {w} apart, which a reamer for them makes in one pass."
            limits, cut = reamed.limits, cut_on_axis("ream", self.work, reamed.diameter)
            said = {"d": Quantity(limits.nominal, DIAMETER, brief=True), "w": Quantity(limits.width, LENGTH)}
            self._add(Operation("ream", Reamer(reamed.diameter), cut), text, **said)
            return
        found = self._tools(inside, share, "bore")
        if not found:
            self.open_points.append(Message("No common bar goes into the bore: choose its tool."))
            return
        self._bored(inside, share, with_nose(found[0], FINISH_NOSE, "bore"))

    def _bored(self, inside: Print, share: tuple[int, int], tool: Turning) -> None:
        whole = share == (0, len(inside.chain) - 1)
        rows = (None, None) if whole else (self._row(inside, share[0]), self._row(inside, share[1]))
        text = "Bore after the outside is roughed, so that the part is still stiff; {x} on the radius is left."
        keep = self._cut("bore", tool, (ALLOWANCE_Z, ALLOWANCE_X))
        self._add(Operation("bore", tool, keep, *rows), text, x=Quantity(ALLOWANCE_X, LENGTH, brief=True))
        self._measure(inside, share, "bore")
        finish = replace(self._cut("bore", tool), feed=self._cut("finish", tool).feed)
        self._add(Operation("bore", tool, finish, *rows), "Bore to size in one pass.")

    def _measure(self, print_: Print, share: tuple[int, int], where: Side) -> None:
        """A stop before the finish for each close size of a share."""
        indices = range(share[0], share[1] + 1)
        level = [index for index in indices if is_level(print_.chain.elements[index])]
        rows = {self._row(print_, index) for index in level}
        for each in self.close:
            row = each.row if each.row in rows else each.row + 1  # a face or the start gives the size of what follows
            if each.where == where and row in rows and each.width <= CLOSE:
                text = "Stop and measure: {size} allows {width}. Correct the offset by what is found, then finish."
                values: dict[str, Value] = {"size": Quantity(each.nominal, DIAMETER, brief=True)}
                values["width"] = Quantity(each.width, LENGTH, brief=True)
                stop = Operation("measure", None, Cut(), row, row, where=where)
                self._add(stop, text, **values)

    def _grooves(self, share: tuple[int, int]) -> None:
        prints: list[tuple[Print, Side]] = [(self.job.outside, "outside")]
        if self.job.inside is not None and self.end == "first":
            prints.append((self.job.inside, "bore"))
        for print_, where in prints:
            for first, last in dips(print_.chain, where):
                knurled = where == "outside" and first in self._blanks()
                if not knurled and (where == "bore" or share[0] <= first <= share[1]):
                    self._groove(print_, where, first, last)

    def _groove(self, print_: Print, where: Side, first: int, last: int) -> None:
        bottom = level_width(print_.chain.elements[first : last + 1])
        widths = [each for each in BLADES if each <= bottom - 0.5] or [each for each in BLADES if each <= bottom + SAME]
        rows = self._row(print_, first), self._row(print_, last)
        if not widths:
            text = "The groove of rows {first} to {last}, {width} wide at its bottom, is for a form tool: choose it."
            values: dict[str, Value] = {"first": rows[0], "last": rows[1], "width": Quantity(bottom, LENGTH)}
            self.open_points.append(Message(text, values))
            return
        width = max(each for each in widths if each <= 3.0 or each == min(widths))
        text = "A groove that no turning tool gets into: plunge with {width}, after its diameter is finished."
        operation = Operation("groove", Grooving(width), Cut(), *rows, where=where)
        self._add(operation, text, width=Quantity(width, LENGTH, brief=True))

    def _threads(self) -> None:
        first, last = rows_of_end(self.job.outside, self.end)
        for each in self.threads:
            outside = each.where == "outside"
            index = (
                self.job.outside.numbers.index(each.first) if outside and each.first in self.job.outside.numbers else 0
            )
            here = first <= index <= last if outside else self.end == "first"
            if here:
                text = "{thread} last of what is turned at this end, after its relief."
                operation = Operation(
                    "thread", Threading(each.designation), Cut(), each.first, each.last, where=each.where
                )
                self._add(operation, text, thread=each.designation)

    def _knurls(self, share: tuple[int, int]) -> None:
        numbers = self.job.outside.numbers
        for each in self.knurls:
            if share[0] <= numbers.index(each.row) <= share[1]:
                text = "The knurl is rolled on its blank when all beside it is turned; it takes nothing off."
                self._add(Operation("knurl", each.roll, KNURLED, each.row, each.row), text)

    def _part_off(self) -> None:
        if not is_parted(self.job):
            return
        width, rest = blade_of(self.job, self._drilled()), left_behind(self.job)
        cut = Cut(along_z=rest)
        text = "Part off last, {width} wide."
        if rest > 0.0:
            text = "Part off last, {width} wide, with {rest} left to face the second end."
        values: dict[str, Value] = {"width": Quantity(width, LENGTH, brief=True)}
        values["rest"] = Quantity(SECOND_FACE, LENGTH, brief=True)
        self._add(Operation("part-off", Grooving(width), cut), text, **values)
