"""Pages that answer nearly the same question: one entry on the start page, and a switch between them on each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calc.answer.feature import Feature
from calc.questions.cutting.deflection import FEATURE as BAR_DEFLECTION
from calc.questions.cutting.finish import FEATURE as FINISH
from calc.questions.cutting.finish_feed import FEATURE as FINISH_FEED
from calc.questions.cutting.force import FEATURE as FORCE
from calc.questions.cutting.force_along import FEATURE as FORCE_ALONG
from calc.questions.cutting.speed_along import FEATURE as SPEED_ALONG
from calc.questions.cutting.spindle import FEATURE as SPINDLE
from calc.questions.cutting.unit_power import FEATURE as UNIT_POWER
from calc.questions.cutting.work_deflection import FEATURE as WORK_DEFLECTION
from calc.questions.operations.grooving_cut import FEATURE as GROOVING_CUT
from calc.questions.shapes.groove import FEATURE as GROOVE
from calc.questions.threads.tapping import FEATURE as TAPPING
from calc.questions.threads.thread import FEATURE as THREAD
from calc.questions.threads.thread_passes import FEATURE as THREAD_PASSES
from calc.questions.tools.reach import FEATURE as REACH
from calc.questions.tools.reach_contour import FEATURE as REACH_CONTOUR


@dataclass(frozen=True, slots=True)
class Family:
    """Near twins under one name, each feature with the words that part it from the others."""

    title: str
    members: tuple[tuple[str, Feature[Any, Any]], ...]

    @property
    def first(self) -> Feature[Any, Any]:
        """The one that the start page opens."""
        return self.members[0][1]


FAMILIES = (
    Family("Reach", (("Dish", REACH), ("Any contour", REACH_CONTOUR))),
    Family("Speed", (("At a diameter", SPINDLE), ("Along a contour", SPEED_ALONG))),
    Family("Finish", (("From the feed", FINISH), ("Feed for it", FINISH_FEED))),
    Family("Force and power", (("At a cut", FORCE), ("By unit power", UNIT_POWER), ("Along a pass", FORCE_ALONG))),
    Family("Deflection", (("Boring bar", BAR_DEFLECTION), ("Work", WORK_DEFLECTION))),
    Family("Thread", (("Size", THREAD), ("Passes", THREAD_PASSES), ("Tap", TAPPING))),
    Family("Groove", (("Size", GROOVE), ("Cutting it", GROOVING_CUT))),
)
FAMILY_OF = {feature.page: family for family in FAMILIES for _, feature in family.members}
"""The family of a page, by its address."""
