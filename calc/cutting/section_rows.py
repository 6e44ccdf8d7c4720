"""Work or a bar of several sections as a list of declared rows: steps, tapers, bores."""

from __future__ import annotations

from collections.abc import Sequence

from calc.cutting.sections import Section
from calc.cutting.stiffness import Beam
from calc.language.checks import require_wall
from calc.language.fields import Declared, given, needed
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Contradiction, Fault
from calc.language.quantities import DIAMETER, LENGTH

AGREES = 0.01  # mm, between the sections together and the length of the whole


class SectionRow(Declared):
    """A stretch, from where it is clamped outward."""

    length: float = needed(LENGTH, "Length", "l", above=0.0, least=0.1)
    diameter: float = needed(DIAMETER, "Diameter", "D", above=0.0, least=0.1)
    end_diameter: float | None = given(DIAMETER, "At its far end", above=0.0, least=0.1, blank="the same")
    bore: float | None = given(DIAMETER, "Bore", "d", least=0.0, blank="that of the whole")


def sections_of(rows: Sequence[SectionRow], beam: Beam, what: str, field: str, length: str) -> tuple[Section, ...]:
    """The sections of `rows`, or the whole `beam` as one; `what` calls it, `field` and `length` are the fields to say.

    Raises Contradiction for sections that are not as long as the whole, Impossible for a bore that leaves no wall.
    """
    told = tuple(
        Section(
            row.length,
            row.diameter,
            row.diameter if row.end_diameter is None else row.end_diameter,
            beam.bore if row.bore is None else row.bore,
        )
        for row in rows
    ) or (Section(beam.length, beam.diameter, beam.diameter, beam.bore),)
    total = sum(section.length for section in told)
    if abs(total - beam.length) > AGREES:
        values: dict[str, Value] = {
            "total": Quantity(total, LENGTH),
            "length": Quantity(beam.length, LENGTH),
            "what": what,
        }
        said = Message("The sections are {total} long together, the {what} is {length}: they must agree.", values)
        raise Contradiction(Fault(length, said), fields=(length,))
    for section in told:
        require_wall(field, section.bore, min(section.diameter, section.end_diameter))
    return told
