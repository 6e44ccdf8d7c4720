"""The drawing of a nose path along a contour."""

from __future__ import annotations

from collections.abc import Iterator

from calc.answer.drawing import Detail, Drawing, Nose, Path
from calc.contour import Chain, other_side
from calc.language.messages import Phrase
from calc.questions.tools.nosed_contour import Question
from calc.shapes.chosen import shape_chain
from calc.tool.nose_measures import led_by_the_print
from calc.tool.nose_path import NosePath, Unreached, nose_path
from calc.tool.point import tool_point

MOST_DETAILS = 2


def drawing_of(asked: Question, path: NosePath) -> Drawing:
    """The sketch: the contour, the paths of nose centre and tool point, what is left uncompensated, worst places."""
    part_chain = asked.chain if asked.chain.start.r >= asked.chain.end.r else asked.chain.reversed()
    gaps = sorted((gap for gap in path.unreached if gap.centre), key=lambda gap: -gap.size)[:MOST_DETAILS]
    return Drawing(
        title="The nose on the contour",
        description="Section with the axis across the page, the chuck at the left; the paths of nose and tool point.",
        part=part_chain,
        bar_radius=max(asked.chain.start.r, asked.chain.end.r),
        paths=tuple(_paths(asked, path)),
        noses=tuple(_noses(asked, path, gaps)),
        spots=tuple(
            (asked.chain.name_of(index), element.point_at(element.length / 2))
            for index, element in enumerate(asked.chain)
            if asked.chain.name_of(index).isdecimal()
        ),
        details=tuple(_details(asked, gaps)),
    )


def _paths(asked: Question, path: NosePath) -> Iterator[Path]:
    for chain in path.centre_chains:
        yield Path("nose centre", chain)
    for chain in path.tool_point_chains(asked.number):
        yield Path("tool point", chain)
    for chain in left_profile(asked):
        yield Path("left", chain)


def left_profile(asked: Question) -> tuple[Chain, ...]:
    """The surface that is cut when the tool point follows the print: the near side of all that the nose passes over."""
    led = led_by_the_print(asked.chain, asked.nose, asked.number)
    return nose_path(led, asked.nose, other_side(asked.side)).centre_chains


def _noses(asked: Question, path: NosePath, gaps: list[Unreached]) -> Iterator[Nose]:
    centres = [gap.centre for gap in gaps if gap.centre] or [path.steps[-1].element.end]
    for centre in centres:
        yield Nose(centre, asked.nose, tool_point(centre, asked.nose, asked.number))


def _details(asked: Question, gaps: list[Unreached]) -> Iterator[Detail]:
    for number, gap in enumerate(gaps, 1):
        if gap.centre:
            yield Detail(gap.centre, 4.0 * asked.nose, Phrase("what stays {number}", number=number))


def blank_drawing() -> Drawing:
    """The sketch while nothing is asked: a corner, a slope and a radius with a nose on them."""
    asked = Question(shape_chain("stem", None), 2.0, 3, "right")
    return drawing_of(asked, nose_path(asked.chain, asked.nose, asked.side)).with_symbols_only()
