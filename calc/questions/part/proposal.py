"""Operations to start from: what a lead would write down for a print and a stock, in order, each with its reason."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from calc.contour import Arc, Chain, Line, Point
from calc.cutting.machine import available_power
from calc.cutting.materials import Material, material
from calc.language.messages import Message, Value
from calc.language.problems import Fault, Missing
from calc.machining.finding import Found
from calc.machining.job import Contour, Cut
from calc.machining.whole import turned_contour
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.part.called import Called, Knurled, Proposed, Reasoned
from calc.questions.part.choosing import (
    KNURLED,
    SAME,
    Side,
    Suited,
    cut_to_start,
    edge_of,
    is_level,
    is_upright,
    over_the_axis,
    small_first,
    suited_to,
    tools_for,
    with_nose,
    within_power,
    without_grooves,
)
from calc.questions.part.close_sizes import CLOSE, Close, cut_on_axis
from calc.questions.part.drilled_first import drilled_first, flat_bottom
from calc.questions.part.ends import ends_of, own_half, rows_of_bore, rows_of_end, shared_arc
from calc.questions.part.held import turning_tool
from calc.questions.part.hole_made import HoleMade, hole_made
from calc.questions.part.job import End, Grooving, Job, Operation, Print, Reamer, Setup, Tap, Turning
from calc.questions.part.not_started import without_speed
from calc.questions.part.parted import SECOND_FACE, blade_of, is_parted, left_behind, nothing_to_hold
from calc.questions.part.proposed_grooves import face_runs, grooved_by, grooves_of, undercut_runs
from calc.questions.part.proposed_threads import threading
from calc.questions.part.reasons import Reason
from calc.questions.part.shares import dish_of
from calc.questions.part.undercuts import without_fillets, without_undercuts
from calc.tool.catalogue import pairs

ALLOWANCE_Z, ALLOWANCE_X = 0.1, 0.3
"""mm: what roughing leaves along Z and, of a radius, along X (common practice, no source)."""

TOUCHES_ALL = 0.1
"""mm: a round insert that is no smaller than the dish's arc by as much touches all of it at once, and chatters."""

DISH_ALLOWANCE = 0.3
"""mm: the same along Z in a dish (common practice, no source)."""


def propose(
    job: Job, threads: tuple[Called, ...] = (), close: tuple[Close, ...] = (), knurls: tuple[Knurled, ...] = ()
) -> Proposed:
    """Operations for a job's print, stock, machine and material; setups that it has already are not looked at.

    `close` are the sizes with limits: those are measured before the finish; `knurls` stand on rows of the outside.

    Raises `Missing` without a material. Source: the order of common practice.
    """
    if job.material is None:
        raise Missing(Fault("part.material", Message("Speeds and feeds need the material.")))
    work = material(job.material)
    hole = hole_made(job, work, close, threads)
    made: list[_Maker] = []
    for end in ends_of(job):
        made.append(_Maker(job, work, threads, close, knurls, end, hole, made[:1]))
    kept = [without_speed(each.found, work) for each in made]
    setups = tuple(
        Setup(one.end, tuple(operation for operation, _ in found)) for one, (found, _) in zip(made, kept, strict=True)
    )
    reasons = tuple(tuple(reason for _, reason in found) for found, _ in kept)
    open_points = (point for one, (_, out) in zip(made, kept, strict=True) for point in (*one.open_points, *out))
    return Proposed(setups, reasons, tuple(open_points))


@dataclass
class _Maker:
    """Writes down the operations of one end; `before` is the one of the end before, whose tools are taken again."""

    job: Job
    work: Material
    threads: tuple[Called, ...]
    close: tuple[Close, ...]
    knurls: tuple[Knurled, ...]
    end: End
    hole: HoleMade
    before: list[_Maker] = field(default_factory=list)
    found: list[Reasoned] = field(default_factory=list)
    open_points: list[Message] = field(default_factory=list)
    suited: Suited = field(init=False)

    def __post_init__(self) -> None:
        self.suited = suited_to(2.0 * self.job.stock.bounds[3])
        first, last = rows_of_end(self.job.outside, self.end)
        low, high = dish_of(self._seen(self.job.outside.chain), self.end)
        has_dish = high >= low
        behind = (max(first, high + 1), last) if has_dish and self.end == "first" else (first, last)
        turned = self._has_outside(self.end)
        if self.end == "second":
            self.open_points += nothing_to_hold(self.job)
        outside = self._tools(self.job.outside, behind, "outside") if turned else []
        roughing = self._roughing_tools(outside, behind) if turned else []
        outside = _of_one_holder(outside, roughing)
        self._face(roughing, ALLOWANCE_Z if outside else 0.0)
        if self.end == "first":
            self.found += drilled_first(self.job, self.work, self.hole)
            self.open_points += flat_bottom(self.job, self.hole)
        if turned:
            self._rough(roughing, behind)
        if has_dish and first <= low <= last:
            self._dish(low, high)
        if self.job.inside is not None:
            self._bore(self.job.inside)
        self._measure(self.job.outside, behind, "outside")
        self._finish(outside, behind)
        self._grooves((first, last), reached=bool(outside) and outside[0].reaches)
        self._threads()
        self._knurls((first, last))
        if self.end == "first":
            self._part_off()

    def _has_outside(self, end: End) -> bool:
        """Whether rows of the outside are turned from an end; the second may be turned round for its bore alone."""
        first, last = rows_of_end(self.job.outside, end)
        return first <= last

    def _seen(self, chain: Chain) -> Chain:
        return self._contour(chain, "outside").chain

    def _contour(self, chain: Chain, side: Side) -> Contour:
        """A chain of the print as it is seen from the end that is worked on, with the side on which the tool stands."""
        contour = Contour(chain, "left" if side == "bore" else "right")
        return contour if self.end == "first" else turned_contour(contour, self.job.length)

    def _add(self, operation: Operation, reason: str, **values: float | str) -> None:
        self.found.append((operation, Reason(reason, values)))

    def _row(self, print_: Print, index: int) -> int:
        return print_.numbers[index]

    def _tools(self, print_: Print, share: tuple[int, int], place: Side) -> list[Found]:
        hole = None
        if place == "bore":
            hole = print_.chain.bounds.r_min if self.hole.drill is None else self.hole.drill / 2.0
        found = tools_for(self._seen(self._without_grooves(print_, share, place)), place, hole)
        if place == "outside":
            found = small_first(found, self.suited.circle)
        if hole is not None and print_.chain.end.r < SAME:
            found = over_the_axis(found, hole)
        tools = [operation.tool for one in self.before for operation, _ in one.found]
        again = {tool.holder for tool in tools if isinstance(tool, Turning)}
        return sorted(found, key=lambda each: not (each.reaches and each.holder in again))

    def _roughing_tools(self, finishing: list[Found], share: tuple[int, int]) -> list[Found]:
        """The tools that reach the outside but for undercuts and fillets: those that finish, where it has none."""
        chain = self._without_grooves(self.job.outside, share, "outside")
        plain = without_fillets(without_undercuts(chain, "outside"))
        if plain == chain:
            return finishing
        return small_first(tools_for(self._seen(plain), "outside", None), self.suited.circle)

    def _without_grooves(self, print_: Print, share: tuple[int, int], place: Side) -> Chain:
        turned = self._blanks() if place == "outside" else frozenset[int]()
        seen = self._seen(print_.chain)
        turned |= {first for first, _ in undercut_runs(seen, place)}
        left = without_grooves(print_.chain, share, place, turned, face_runs(seen) if place == "outside" else [])
        arc = shared_arc(print_.chain) if place == "outside" else None
        return left if arc is None else own_half(left, print_.chain.elements[arc], self.end)

    def _blanks(self) -> frozenset[int]:
        """The elements of the outside that are turned to the blank of a knurl."""
        rows = {each.row for each in self.knurls}
        return frozenset(index for index, row in enumerate(self.job.outside.numbers) if row in rows)

    def _cut(self, operation: str, tool: Turning, keep: tuple[float, float] | None = None) -> Cut:
        cut = cut_to_start(self.work, operation, tool.tool.nose, keep, edge_of(tool))
        return within_power(cut, tool.tool.nose, self.work, available_power(self.job.machine, None))

    def _face(self, tools: list[Found], keep: float) -> None:
        """The face, with what is to `keep` (mm) for the finish that goes over it; none where there is no more."""
        front = self._front()
        if not tools or front <= keep + SAME:
            return
        tool = with_nose((tools if tools[0].reaches else self._facing())[0], self.suited.rough_nose, "outside")
        cut = self._cut("rough", tool, (keep, 0.0))
        first, last = rows_of_end(self.job.outside, self.end)
        row = self._row(self.job.outside, first if self.end == "first" else last)
        kept = {"keep": keep} if keep else {}
        self._add(Operation("face", tool, cut, row, row), "face-to-finish" if keep else "face", front=front, **kept)

    def _facing(self) -> list[Found]:
        """The tools for a face alone, where none reaches all that is turned from its end."""
        face = Chain((Line(Point(0.0, 0.0), Point(0.0, self.job.stock.bounds[3])),))
        return small_first(tools_for(face, "outside", None), self.suited.circle)

    def _front(self) -> float:
        """How far the stock stands in front of the end's face, mm."""
        if self.end == "first":
            return self.job.stock.bounds[2]
        behind = -self.job.stock.bounds[0] - self.job.length
        return SECOND_FACE if is_parted(self.job) else behind

    def _rough(self, tools: list[Found], share: tuple[int, int]) -> None:
        rows = self._rows(share) if tools else (0, 0)
        only_faces = all(is_upright(each) for each in self.job.outside.chain.elements[share[0] : share[1] + 1])
        for number, found in enumerate(() if only_faces else tools[: 1 if tools and tools[0].reaches else 2]):
            tool = with_nose(found, self.suited.rough_nose, "outside")
            operation = Operation("rough", tool, self._cut("rough", tool, (ALLOWANCE_Z, ALLOWANCE_X)), *rows)
            if number:
                self._add(operation, "rough-rest", tool=found.insert)
            else:
                self._add(operation, "rough", x=ALLOWANCE_X, z=ALLOWANCE_Z)
        if not tools:
            said = Message(
                "No common tool reaches the outside from the {end} end: see its steepest walls.", {"end": self.end}
            )
            self.open_points.append(said)

    def _rows(self, share: tuple[int, int]) -> tuple[int, int]:
        return self._row(self.job.outside, share[0]), self._row(self.job.outside, share[1])

    def _finish(self, tools: list[Found], share: tuple[int, int]) -> None:
        rows = self._rows(share) if tools else (0, 0)
        for found in tools[: 1 if tools and tools[0].reaches else 2]:
            tool = with_nose(found, self.suited.finish_nose, "outside")
            self._add(Operation("finish", tool, self._cut("finish", tool), *rows), "finish", nose=tool.tool.nose)

    def _dish(self, low: int, high: int) -> None:
        """A dish before the face: a round insert along its contour, then over it once."""
        outside = self.job.outside
        arcs = [each for each in outside.chain.elements[low : high + 1] if isinstance(each, Arc)]
        hollow = min((each.radius for each in arcs if each.curvature < 0.0), default=math.inf)
        names = [(pair.inserts[0], pair.holder_name) for pair in pairs("outside")]
        rounds = [(name, insert.nose, holder) for (name, insert), holder in names if insert.shape.angle is None]
        most = min(hollow - TOUCHES_ALL, self.suited.circle / 2.0)
        fitting = [each for each in rounds if each[1] is not None and each[1] <= most]
        if not fitting:
            self.open_points.append(Message("No common round insert fits into the dish: choose its tool."))
            return
        name, _, holder = fitting[0]
        tool = turning_tool(ToolInputs(insert=name, holder=holder))
        rows = self._row(outside, low), self._row(outside, high)
        rough = self._cut("rough", tool, (DISH_ALLOWANCE, 0.0))
        self._add(Operation("rough", tool, rough, *rows), "dish", nose=tool.tool.nose)
        self._add(Operation("finish", tool, self._cut("finish", tool), *rows), "dish-finish")

    def _bore(self, inside: Print) -> None:
        share = rows_of_bore(inside.chain, self.end)
        if share is None or (self.end == "first" and self.hole.how in ("tap", "drill")):
            return
        if self.end == "first" and self.hole.how == "ream" and self.hole.limits is not None:
            size, width = self.hole.size, self.hole.limits.width
            operation = Operation("ream", Reamer(size), cut_on_axis("ream", self.work, size))
            self._add(operation, "ream", d=self.hole.limits.nominal, w=width)
            return
        found = self._tools(inside, share, "bore")
        if not found:
            self.open_points.append(Message("No common bar goes into the bore: choose its tool."))
            return
        self._bored(inside, share, with_nose(found[0], self.suited.finish_nose, "bore"))

    def _bored(self, inside: Print, share: tuple[int, int], tool: Turning) -> None:
        whole = share == (0, len(inside.chain) - 1)
        rows = (None, None) if whole else (self._row(inside, share[0]), self._row(inside, share[1]))
        keep = self._cut("bore", tool, (ALLOWANCE_Z, ALLOWANCE_X))
        self._add(Operation("bore", tool, keep, *rows), "bore", x=ALLOWANCE_X)
        self._measure(inside, share, "bore")
        finish = replace(self._cut("bore", tool), feed=self._cut("finish", tool).feed)
        self._add(Operation("bore", tool, finish, *rows), "bore-finish")

    def _measure(self, print_: Print, share: tuple[int, int], where: Side) -> None:
        """A stop before the finish for each close size of a share."""
        indices = range(share[0], share[1] + 1)
        level = [index for index in indices if is_level(print_.chain.elements[index])]
        rows = {self._row(print_, index) for index in level}
        for each in self.close:
            row = each.row if each.row in rows else each.row + 1  # a face or the start gives the size of what follows
            if each.where == where and row in rows and each.width <= CLOSE:
                stop = Operation("measure", None, Cut(), row, row, where=where)
                self._add(stop, "measure", d=each.nominal, width=each.width)

    def _grooves(self, share: tuple[int, int], *, reached: bool) -> None:
        """Outside and in the bore; an undercut that no tool of the finish reaches is named as they are."""
        first_end = self.end == "first"
        prints: list[tuple[Print, Side, tuple[int, int]]] = [(self.job.outside, "outside", share)]
        if self.job.inside is not None and first_end:
            prints.append((self.job.inside, "bore", (0, len(self.job.inside.chain) - 1)))
        for print_, side, of in prints:
            seen = self._contour(print_.chain, side)
            for groove in grooves_of(seen.chain, side, of, first_end=first_end):
                if side == "outside" and groove.run[0] in self._blanks():
                    continue
                found = grooved_by(groove, print_, seen)
                if isinstance(found, Message):
                    self.open_points.append(found)
                else:
                    self.found.append(found)
        if not reached:
            self._undercuts_left(share)

    def _undercuts_left(self, share: tuple[int, int]) -> None:
        for first, last in undercut_runs(self._seen(self.job.outside.chain), "outside"):
            if share[0] <= first and last <= share[1]:
                rows: dict[str, Value] = {"row": self._row(self.job.outside, first)}
                self.open_points.append(Message("No common tool gets into the undercut of row {row}: choose it.", rows))

    def _threads(self) -> None:
        first, last = rows_of_end(self.job.outside, self.end)
        for each in self.threads:
            numbers = self.job.outside.numbers
            at = numbers.index(each.first) if each.where == "outside" and each.first in numbers else 0
            if not (first <= at <= last if each.where == "outside" else self.end == "first"):
                continue
            if each is self.hole.thread:
                tap = Operation("tap", Tap(each.designation), Cut(), each.first, each.last)
                self._add(tap, "tap", thread=each.designation)
                continue
            print_ = self.job.outside if each.where == "outside" or self.job.inside is None else self.job.inside
            self.found.append(threading(each, print_, self._seen(print_.chain)))

    def _knurls(self, share: tuple[int, int]) -> None:
        numbers = self.job.outside.numbers
        for each in self.knurls:
            if share[0] <= numbers.index(each.row) <= share[1]:
                self._add(Operation("knurl", each.roll, KNURLED, each.row, each.row), "knurl")

    def _part_off(self) -> None:
        if not is_parted(self.job):
            return
        width, rest = blade_of(self.job, self.hole.drill), left_behind(self.job)
        operation = Operation("part-off", Grooving(width), Cut(along_z=rest))
        if rest > 0.0:
            self._add(operation, "part-off-to-face", width=width, rest=rest)
        else:
            self._add(operation, "part-off", width=width)


def _of_one_holder(finishing: list[Found], roughing: list[Found]) -> list[Found]:
    """The tools that finish, those in the roughing tool's holder first where they reach."""
    holder = roughing[0].holder if roughing else ""
    return sorted(finishing, key=lambda each: not (each.reaches and each.holder == holder))
