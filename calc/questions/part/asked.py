"""One operation with all that it is done on, and how its result is held against the print."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from calc.contour import Chain
from calc.cutting.limits import Case, Running, limits
from calc.cutting.materials import Material
from calc.language.messages import Caution, Message, Phrase
from calc.language.problems import Fault, Missing, OutOfRange
from calc.language.working import Step
from calc.machining.job import Contour, Where
from calc.machining.removal.judging import Judged, Place, worst_of
from calc.machining.removal.region import Regions, work_of
from calc.machining.removal.stock import Stock
from calc.machining.removal.sweep import Outline
from calc.machining.removal.taking import Removal, Taking, guard_of
from calc.machining.whole import turned_contour, turned_stock
from calc.questions.part.cores import with_tap_drills
from calc.questions.part.done import Hit, OperationDone, PassDone
from calc.questions.part.job import End, Job, Kind, Operation, Print, Setup

CALLED: Mapping[Kind, str] = {
    "face": "face, {end} end",
    "rough": "rough, {end} end",
    "finish": "finish, {end} end",
    "bore": "bore, {end} end",
    "groove": "groove, {end} end",
    "thread": "thread, {end} end",
    "centre": "centre, {end} end",
    "drill": "drill, {end} end",
    "counterbore": "counterbore, {end} end",
    "countersink": "countersink, {end} end",
    "ream": "ream, {end} end",
    "tap": "tap, {end} end",
    "knurl": "knurl, {end} end",
    "part-off": "part-off, {end} end",
    "measure": "measure, {end} end",
}
"""What an operation is called that nobody named."""


@dataclass(frozen=True)
class Asked:
    """One operation: its job and setup, the stock that it finds, the material, what stands around the work."""

    job: Job
    setup: Setup
    operation: Operation
    before: Stock
    work: Material | None
    around: Stock | None = None

    @property
    def end(self) -> End:
        """The end that is worked on."""
        return self.setup.end

    @property
    def name(self) -> str:
        """What the operation is called."""
        return self.operation.name or Phrase(CALLED[self.operation.kind], end=self.end)

    @property
    def material(self) -> str:
        """The material's name. Raises `Missing` without one."""
        if self.job.material is None:
            raise Missing(Fault("part.material", Message("This operation needs the material.")))
        return self.job.material

    @property
    def max_rpm(self) -> float | None:
        """The spindle's limit, 1/min."""
        return self.job.machine.max_rpm

    def needed(self, name: str, value: float | None) -> float:
        """A value of the cut that this kind of operation needs. Raises `Missing` at its `name`."""
        if value is None:
            raise Missing(Fault(f"cut.{name}", Message("This operation needs it.")))
        return value

    def contours(self) -> tuple[Contour, ...]:
        """The print's contours in the frame of the end that is worked on."""
        wheres: tuple[Where, ...] = ("outside",) if self.job.inside is None else ("outside", "bore")
        return tuple(self.seen(self.job.contour(where)) for where in wheres)

    def seen(self, contour: Contour) -> Contour:
        """A contour of the first end's frame in that of the end that is worked on."""
        return turned_contour(contour, self.job.length) if self.end == "second" else contour

    def stretch(self, where: Where) -> Contour:
        """The rows that are worked on, in the frame of the end that is worked on. Raises `OutOfRange`, `Missing`."""
        first, last = self.elements(where)
        whole = self.seen(self.job.contour(where))
        return Contour(Chain(whole.chain.elements[first : last + 1]), whole.side, whole.faced)

    def elements(self, where: Where) -> tuple[int, int]:
        """The first and the last element of the rows, of the contour in this frame. Raises as `stretch`."""
        if where == "bore" and self.job.inside is None:
            raise Missing(Fault("part.inside", Message("This operation needs the inside contour.")))
        print_ = self.job.inside if where == "bore" and self.job.inside is not None else self.job.outside
        return between(print_, self.operation.first, self.operation.last)

    @cached_property
    def finished(self) -> Stock:
        """The finished part in the frame of the end that is worked on."""
        part = with_tap_drills(self.job)
        return turned_stock(part, self.job.length) if self.end == "second" else part

    def taking(self, outline: Outline) -> Taking:
        """Takes passes of a tool off the stock; what it cuts of the finished part gouges."""
        return Taking(outline, guard_of(self.finished.whole))


def between(print_: Print, first: int | None, last: int | None) -> tuple[int, int]:
    """The first and the last element of the rows from `first` to `last` (None: all). Raises `OutOfRange`.

    >>> from calc.contour import Line, Point
    >>> corners = [Point(0.0, 0.0), Point(0.0, 6.0), Point(-3.0, 6.0)]
    >>> chain = Chain((Line(corners[0], corners[1]), Line(corners[1], corners[2])))
    >>> between(Print(chain), 2, None)
    (1, 1)
    """
    numbers = print_.numbers
    low, high = min(numbers) if first is None else first, max(numbers) if last is None else last
    values = {"low": min(numbers), "high": max(numbers)}
    for name, row in (("from", low), ("to", high)):
        if not min(numbers) <= row <= max(numbers):
            raise OutOfRange(Fault(name, Message("Give a row number from {low} to {high}.", values)))
    if low > high:
        raise OutOfRange(Fault("from", Message("The first row must not come after the last.")))
    kept = [index for index, row in enumerate(numbers) if low <= row <= high]
    if not kept:
        raise OutOfRange(Fault("from", Message("Nothing is left of this row between its corners: give another.")))
    return kept[0], kept[-1]


def left_on(stretch: Contour, before: Stock, after: Stock, nose: float) -> Place | None:
    """The largest rest beside a stretch, square to it; around its ends, 1.5 `nose` (mm), nothing is judged."""
    regions = work_of(before.whole, stretch.chain, stretch.side, nose)
    return worst_of(Judged(regions, after.whole, stretch.chain, nose).left)


def cut_too_deep(asked: Asked, whole: Contour, after: Stock) -> Place | None:
    """The deepest cut into the finished part, measured to the nearest element of one of its contours."""
    part, before = asked.finished.whole, asked.before.whole
    there = part.intersection(before)
    return worst_of(Judged(Regions(before, there, there.difference(there)), after.whole, whole.chain, 0.0).too_deep)


def hits_of(removals: Sequence[Removal]) -> tuple[Hit, ...]:
    """What passes hit: the finished part, stock at a rapid move, stock with the holder."""
    found = []
    for removal in removals:
        areas = {"part": removal.gouged, "stock at a rapid move": removal.rapid, "holder": removal.holder}
        found += [Hit(removal.name, what) for what, area in areas.items() if area > 0.0]
    return tuple(found)


def reported(
    asked: Asked,
    removals: Sequence[Removal],
    passes: Sequence[PassDone],
    *,
    after: Stock | None = None,
    left: Place | None = None,
    too_deep: Place | None = None,
    cautions: Sequence[Caution] = (),
    notes: Sequence[Message] = (),
    steps: Sequence[Step] = (),
) -> OperationDone:
    """What an operation did, with the stock after its last pass unless another is given."""
    times = [each.row.time for each in passes if each.row is not None]
    last = removals[-1].stock if removals else asked.before
    return OperationDone(
        operation=asked.operation,
        end=asked.end,
        name=asked.name,
        before=asked.before,
        after=last if after is None else after,
        contours=asked.contours(),
        passes=tuple(_with_stock(removals, passes)),
        time=sum(times) if times or not passes else None,
        left=left,
        too_deep=too_deep,
        hits=hits_of(removals),
        cautions=tuple(cautions),
        notes=tuple(notes),
        steps=tuple(steps),
    )


def _with_stock(removals: Sequence[Removal], passes: Sequence[PassDone]) -> Iterator[PassDone]:
    """The passes with the stock after each, as far as each has been swept."""
    for index, each in enumerate(passes):
        yield replace(each, stock=removals[index].stock) if len(removals) == len(passes) else each


def speed_cautions(asked: Asked, rpm: float) -> Iterator[Caution]:
    """What speaks against a spindle speed `rpm` (1/min) of a cut whose force is not known: the chuck's marked limit."""
    return limits(Case(running=Running(rpm, rpm)), asked.job.machine)
