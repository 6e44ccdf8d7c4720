"""What a material gives to start the plan of a contour with: speeds where they are blank, feed and depth to tap."""

from __future__ import annotations

from dataclasses import dataclass, replace

from calc.answer.feature import Answer
from calc.cutting.materials import Material, material
from calc.cutting.offering import GROUP, offered, settled_speed
from calc.language.messages import Message
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from calc.questions.operations.contour_plan.results import ContourPlanResults
from calc.tool.insert import read_insert


@dataclass(frozen=True, slots=True)
class Settled:
    """The question with the speeds that the material gives where they are blank, and the notes that say so."""

    inputs: ContourPlanInputs
    work: Material | None
    notes: tuple[Message, ...]


def settled(inputs: ContourPlanInputs) -> Settled:
    """Speeds as given, or the usual ones of the material. Raises `OutOfRange` for a material that is not known.

    >>> from calc.questions.operations.contour_plan.inputs import StockInputs
    >>> found = settled(ContourPlanInputs(stock=StockInputs(material="C45"))).inputs.cut
    >>> found.surface_speed, found.rough_surface_speed
    (220000.0, 180000.0)
    """
    named, cut = inputs.stock.material, inputs.cut
    work = material(named) if named else None
    finishing, of_finishing = settled_speed(cut.surface_speed, work, finishing_of(inputs))
    roughing, of_roughing = settled_speed(cut.rough_surface_speed, work, "rough")
    speeds = replace(cut, surface_speed=finishing, rough_surface_speed=roughing)
    return Settled(replace(inputs, cut=speeds), work, (*of_finishing, *of_roughing))


def finishing_of(inputs: ContourPlanInputs) -> str:
    """What the finishing of this contour is to the tables: a bore is bored, all else finished."""
    return "bore" if inputs.where == "bore" else "finish"


def with_starting_values(answer: Answer[ContourPlanResults], asked: Settled, nose: float) -> Answer[ContourPlanResults]:
    """The answer with the usual feed and depth for this work and nose [mm], their reasons, and values to tap."""
    inputs = asked.inputs
    insert = read_insert(inputs.tool.insert, "insert") if inputs.tool.insert else None
    given = {
        "rough_feed": inputs.cut.rough_feed,
        "pass_depth": inputs.passes.pass_depth,
        "feed": inputs.cut.feed,
    }
    found = offered(asked.work, nose, given, finishing_of(inputs), insert.edge_length if insert else None)
    return replace(answer, sentences={**answer.sentences, GROUP: found.sentences}, picks=found.picks)
