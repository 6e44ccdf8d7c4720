"""What a job sheet holds, in its present version. Nothing that can be computed from the steps is saved."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from calc.language.fields import choice, flag, part, rows
from calc.language.quantities import UnitSystem
from server.sheets.fields import address, key, length, lines, text, whole

FORMAT: Final = "chuckside sheet"
VERSION: Final = 1

MOST_STEPS = 60
MOST_TOUCHES = 20
MOST_CHECKS = 60
MOST_SEED = 999_999


@dataclass(frozen=True, slots=True)
class Heading:
    """What the sheet is for. `part_revision` is the drawing's, not the sheet's own."""

    title: str = text("Title of the sheet")
    part: str = text("Part", hint="name and number, as on the print")
    part_revision: str = text("Revision of the print")
    material: str = text("Material")
    machine: str = text("Machine")
    units: UnitSystem = choice("Units", {"mm": "mm", "inch": "inch"}, "mm")


@dataclass(frozen=True, slots=True)
class Step:
    """A question on one of our pages, with what the lead says about it. `seed` fixes the numbers of a practice."""

    key: str = key()
    title: str = text("Title")
    address: str = address("Page", hint="the address of a page here, with its question: /dish?radius=75&depth=4.5")
    note: str = lines("Note")
    practice: bool = flag("Practise this step", default=False)
    seed: int | None = whole("Seed of the practice numbers", MOST_SEED)


@dataclass(frozen=True, slots=True)
class Touch:
    """A tool's touch-off: with which tool point, where, and what the display then reads."""

    key: str = key()
    tool: str = text("Tool")
    tool_point: int | None = whole("Tool point", 9)
    where: str = text("Touched where")
    reads: str = text("Reads there")


@dataclass(frozen=True, slots=True)
class Setup:
    """How the work is held and where the zeros are."""

    work_zero: str = lines("Work zero")
    touches: tuple[Touch, ...] = rows(Touch, "Tool points touched", one="touch-off", most=MOST_TOUCHES)
    clearances: str = lines("Clearances")
    spindle_direction: Literal["", "m3", "m4"] = choice(
        "Spindle direction",
        {"": "not said", "m3": "M3, as a right-hand drill turns", "m4": "M4, the other direction"},
        "",
    )
    coolant: Literal["", "off", "on", "through"] = choice(
        "Coolant", {"": "not said", "off": "off, dry", "on": "on", "through": "through the tool"}, ""
    )
    soft_jaw_diameter: str = length("Soft-jaw diameter")
    second_side: str = lines("Holding of the second side")
    after_insert_change: str = lines("Touch again after an insert change")


@dataclass(frozen=True, slots=True)
class Check:
    """One thing to measure on the first part."""

    key: str = key()
    what: str = text("Measure")
    nominal: str = text("Nominal", longest=40)
    tolerance: str = text("Tolerance", longest=60)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole job sheet."""

    heading: Heading = part(Heading, "Heading")
    steps: tuple[Step, ...] = rows(Step, "Steps", one="step", most=MOST_STEPS)
    setup: Setup = part(Setup, "Setup")
    checks: tuple[Check, ...] = rows(Check, "First-part checks", one="check", most=MOST_CHECKS)
