"""What a designation says of an insert."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from calc.language.fields import Declared, result, word
from calc.language.messages import Message
from calc.language.quantities import LENGTH
from calc.tool.insert.tables import Clearance, Shape, Tolerance

Form = Literal["metric", "inch"]
NoseAs = Literal["nominal", "exact"]
NOSE_AS: dict[NoseAs, str] = {"nominal": "as named (0.8 is 0.8)", "exact": "of the inch series (0.8 is 1/32 in)"}


class Position(Declared):
    """One position of a designation in words; `amount` is the length that its number stands for, mm."""

    number: str = word("Position")
    title: str = word("What it is")
    code: str = word("Here")
    says: str = word("Meaning")
    amount: float | None = result(LENGTH, "exactly")


@dataclass(frozen=True, kw_only=True)
class Insert:
    """An insert as far as its designation says (mm, rad); what was not given, or cannot be known, is None.

    `nose` is the radius that the code names, `exact_nose` what an insert of the inch series has. `edge_length` runs
    between sharp corners. `size` is the diameter of the inscribed circle.
    """

    form: Form
    shape: Shape
    clearance: Clearance | None = None
    tolerance: Tolerance | None = None
    size: float | None = None
    edge_length: float | None = None
    edge_code: str = ""
    thickness: float | None = None
    nose: float | None = None
    exact_nose: float | None = None
    positions: tuple[Position, ...] = ()
    notes: tuple[Message, ...] = ()

    def nose_radius(self, nose_as: NoseAs = "nominal") -> float | None:
        """The nose radius as named, or as an insert of the inch series has it, mm."""
        return self.nose if nose_as == "nominal" else self.exact_nose

    @property
    def angle(self) -> float | None:
        """The included angle, rad; None for a round insert."""
        return self.shape.angle
