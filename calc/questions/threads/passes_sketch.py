"""What the sketch of a thread's passes shows: chamfer, thread and relief as a contour, and the path of the tip."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from calc.answer.drawing import Dimension, Drawing, Path, Turning
from calc.answer.feature import KeyPoint
from calc.contour import Chain, Element, Line, Point
from calc.language.limited import aimed
from calc.language.messages import Phrase
from calc.language.quantities import DIAMETER, LENGTH
from calc.shapes.listing import key_points
from calc.threads.hand import TOWARD, settings
from calc.threads.passes import Cut, Plan
from calc.threads.relief import Relief, chamfer_to, relief_chain, relief_of
from calc.threads.run import Run
from calc.threads.thread import Thread, thread_of

SHOULDER = 1.35  # times the thread: how high the face behind the relief is drawn
USUAL_LENGTH = 1.0  # thread diameters, drawn while no length is given


def contour_of(thread: Thread, length: float | None, relief: Relief | None) -> Chain | None:
    """Chamfer, thread and relief up to the shoulder's face, the end face at Z 0; None where there is no such relief.

    `length` is that of the full thread [mm].
    """
    if length is None or relief is None:
        return None
    sizes = thread.sizes
    blank = aimed(sizes.major if sizes.outside else sizes.minor)
    chamfer = chamfer_to(thread)
    leg = abs(blank - chamfer) / 2
    shoulder = -length - relief.length
    if leg >= length:
        return None
    end = blank * (SHOULDER if sizes.outside else 2.0 - SHOULDER)
    first, second = Point(0.0, chamfer / 2), Point(-leg, blank / 2)
    ahead: tuple[Element, ...] = (Line(first, second), Line(second, Point(-length, blank / 2)))
    return Chain((*ahead, *relief_chain(relief, shoulder, blank, end)))


def points_of(contour: Chain | None, thread: Thread) -> tuple[KeyPoint, ...]:
    """The points to key in before threading: chamfer, cylinder, relief; none without a contour."""
    if contour is None:
        return ()
    size = "turned for the thread" if thread.sizes.outside else "bored for the thread"
    labels = ("chamfer", size, "end of thread", "bottom of relief", "to the radius", "radius ends", "on the face")
    return key_points(contour, labels)


def drawing_of(
    thread: Thread, plan: Plan, found: Sequence[Cut], run: Run, length: float | None, relief: Relief | None
) -> Drawing:
    """The thread's stretch in section with the tip's path of the first and the last pass, from run-up to run-out.

    `length` is that of the full thread [mm]; one diameter is drawn while it is not given.
    """
    shown = length or USUAL_LENGTH * thread.named.diameter
    passes = {0, plan.count - 1}
    return replace(
        _section(thread, shown, relief, known=length is not None),
        turning=turning_of(thread),
        paths=tuple(_path(thread, plan, found[place], run, shown) for place in sorted(passes)),
    )


def _section(thread: Thread, length: float, relief: Relief | None, *, known: bool) -> Drawing:
    contour = contour_of(thread, length, relief) or _plain(thread, length)
    outside = thread.sizes.outside
    return Drawing(
        title=Phrase("Passes of {words}", words=thread.named.text),
        description=(
            "Half section before threading with chamfer and relief, the chuck at the left; the lines are the tip's "
            "path in the first and the last pass, from the run-up at the right to the run-out."
        ),
        part=_turned(contour) if outside else _bored(contour),
        bar_radius=contour.end.r if outside else 0.75 * thread.named.diameter,
        hole_radius=0.0 if outside else contour.end.r,
        dimensions=_dimensions(thread, length, known=known),
    )


def turning_of(thread: Thread) -> Turning:
    """The ways to cut a thread of this hand, for the figures below the section."""
    outside, left = thread.sizes.outside, thread.named.left
    ways = (
        (
            way.rotation == "forward",
            way.feed == "chuck",
            (Phrase("{rotation}, {feed}", rotation=way.rotation, feed=TOWARD[way.feed]), way.tool),
        )
        for way in settings(left=left, outside=outside)
    )
    return Turning(left, thread.lead_angle, outside, tuple(ways))


def _turned(contour: Chain) -> Chain:
    """From the shoulder to the end face and along it to the axis."""
    back = contour.reversed()
    return Chain((*back, Line(back.end, Point(back.end.z, 0.0))))


def _bored(contour: Chain) -> Chain:
    """From the outside along the end face into the bore, and on along the hole behind the thread."""
    on = Line(contour.end, Point(1.2 * contour.end.z, contour.end.r))
    return Chain((Line(Point(0.0, 1.5 * contour.start.r), contour.start), *contour, on))


def _plain(thread: Thread, length: float) -> Chain:
    """The cylinder up to a shoulder one and a half pitches behind the thread, where there is no standard relief."""
    sizes = thread.sizes
    blank = aimed(sizes.major if sizes.outside else sizes.minor)
    corner = Point(-length - 1.5 * thread.named.pitch, blank / 2)
    face = Point(corner.z, corner.r * (SHOULDER if sizes.outside else 2.0 - SHOULDER))
    return Chain((Line(Point(0.0, blank / 2), corner), Line(corner, face)))


def _path(thread: Thread, plan: Plan, cut: Cut, run: Run, length: float) -> Path:
    """The path of the tip; of a taper thread along its cone, a line at the depth of the pass."""
    plane, outside = thread.plane, thread.sizes.outside
    taper = 0.0 if plane is None else plane.taper
    at_face = cut.diameter - (taper * plane.length.aimed if plane is not None and outside else 0.0)
    slope = taper / 2 if outside else -taper / 2
    start = Point(run.run_up, at_face / 2 - slope * run.run_up)
    end = Point(-length - run.run_out, at_face / 2 + slope * (length + run.run_out))
    return Path(
        "tool point",
        Chain((Line(start, end),)),
        Phrase("pass {number} of {count}", number=cut.number, count=plan.count),
    )


def _dimensions(thread: Thread, length: float, *, known: bool) -> tuple[Dimension, ...]:
    sizes = thread.sizes
    blank = aimed(sizes.major if sizes.outside else sizes.minor)
    end = Point(-length, blank / 2)
    return (
        Dimension("diameter", end, end.mirrored(), blank, DIAMETER, symbol="d"),
        Dimension("length", Point(0.0, blank / 2), end, length if known else None, LENGTH, "length", "L"),
    )


def blank_drawing() -> Drawing:
    """The sketch while nothing is known."""
    thread = thread_of("M24x2-6g")
    return _section(thread, USUAL_LENGTH * thread.named.diameter, relief_of(thread), known=False).with_symbols_only()


BLANK = blank_drawing()
