"""Tool, stock, setup, machine, cut: the terms that pages, calls and saved work share, each declared once.

A name has one meaning wherever it is asked: `bar_diameter` is the raw bar and `tool_bar_diameter` the boring bar,
`edge_radius` is on the part and `edge_rounding` on the insert.
"""

from __future__ import annotations

import math
from typing import Literal

from calc.cutting.chip import LARGEST_ENTERING_ANGLE
from calc.cutting.corrections import WEAR as WEAR_STATES
from calc.cutting.operation import TOOLS
from calc.cutting.stiffness import BARS, Held
from calc.language.quantities import (
    ANGLE,
    COUNT,
    DIAMETER,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    RADIUS,
    RATIO,
    ROUGHNESS,
    SPINDLE_SPEED,
    TIME,
    TORQUE,
)
from calc.language.quantities import SURFACE_SPEED as SPEED
from calc.language.terms import Choice, choosing, quantity, text
from calc.tool.insert import NOSE_AS as NOSES

Split = Literal["equal", "rest", "easing"]
"""Passes of one depth, full ones of which the last takes the rest, or of depths that fall to half toward the end."""

SpeedAt = Literal["contact", "point"]
FeedAt = Literal["contour", "centre"]
FeedRule = Literal["given", "chip"]
CutDirection = Literal["in", "back"]
Lead = Literal["straight", "arc", "tangent"]
"""How a finish leads in and out: the first straight way that is clear, arcs that join smoothly, along its ends."""

SMALLEST = 0.001  # mm: no cut, feed or diameter is smaller
SLOWEST = 1000.0  # mm/min
FINEST = 0.00001  # mm
EXPONENTS = (0.05, 0.9)  # what Taylor's exponent can be; common practice, from memory
PointNumber = Literal["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"]
POINTS: dict[PointNumber, str] = {
    "0": "0, the nose centre",
    "1": "1, above right, toward +X and +Z",
    "2": "2, above left, toward +X and −Z",
    "3": "3, below left, toward −X and −Z",
    "4": "4, below right, toward −X and +Z",
    "5": "5, right, toward +Z",
    "6": "6, above, toward +X",
    "7": "7, left, toward −Z",
    "8": "8, below, toward −X",
    "9": "9, the nose centre",
}
_KEPT = "enough for the finishing edge to cut, little enough to keep its size"
HOLDING: dict[Held, str] = {
    "chuck": "in the chuck alone",
    "tailstock": "chuck and tailstock",
    "centres": "between centres",
}

# --- the tool -------------------------------------------------------------------------------------------------------

INSERT = text("Insert designation", hint="such as DCMT 11T304")
HOLDER = text("Holder or bar designation", hint="such as SDJCR 2020K11 or S16R-SDUCR11")
NOSE_AS = choosing("Nose of the designation", NOSES, "nominal")
NOSE_RADIUS = quantity(
    RADIUS, "Nose radius", "r", above=0.0, least=0.01, brief="nose", because="the usual one of pointed inserts"
)
NOSE_OR_SHARP = quantity(RADIUS, "Nose radius", "r", least=0.0)  # a force or a chip is found for a sharp corner too
EDGE_ROUNDING = quantity(
    RADIUS, "Edge rounding", "ρ", above=0.0, most=1.0, hint="of the insert; honed carbide often 0.03 mm (.0012 in)"
)
ENTERING_ANGLE = quantity(ANGLE, "Entering angle", "κ", least=math.radians(5.0), most=LARGEST_ENTERING_ANGLE)
EDGE_LEAD = quantity(
    ANGLE, "Lead angle of the edge", "λ", least=0.0, most=math.radians(20.0), hint="the corner on the part's side ahead"
)
TOOL_POINT = choosing(
    "Tool point", POINTS, "3", brief="tool point", hint="seen from the nose centre, chuck to the left; controls differ"
)
TOOL = choosing("Tool material", TOOLS, "")
TOOL_BAR_DIAMETER = quantity(DIAMETER, "Bar diameter", "d", hint="of the boring bar", above=0.0, least=0.1, kept=True)
STICK_OUT = quantity(LENGTH, "Stick-out", "L", hint="from the holder to the edge", above=0.0, least=0.1, kept=True)
TOOL_BAR_MATERIAL = choosing("Bar made of", {code: bar.words for code, bar in BARS.items()}, "steel", kept=True)
WEAR = choosing("Edge", WEAR_STATES, "sharp")

# --- the stock ------------------------------------------------------------------------------------------------------

THREAD = text("Thread", hint="as written: M24x2-6g, 3/4-16 UNF-2A, Tr 40x7, G 1/2 A, NPT 3/4")
MATERIAL = text("Material", hint="any of its names: C45, 1.0503, 1045, 6061-T6")
BAR_DIAMETER = quantity(DIAMETER, "Bar diameter", "B", above=0.0, brief="bar")
FACE_STOCK = quantity(LENGTH, "Stock on the face", "s", hint="in front of the finished face", least=0.0, brief="face")
BAR_LENGTH = quantity(LENGTH, "Bar length", "B", above=0.0)
PART_LENGTH = quantity(LENGTH, "Part length", "L", above=0.0)
BLADE_WIDTH = quantity(LENGTH, "Parting blade width", "b", least=0.0)
REMNANT = quantity(LENGTH, "Remnant", "k", hint="too short to hold or to feed", least=0.0)
BATCH = quantity(COUNT, "Parts in the batch", "N", above=0.0, most=10_000_000.0)

# --- the setup ------------------------------------------------------------------------------------------------------

WORK_DIAMETER = quantity(DIAMETER, "Work diameter", "D_w", hint="where it is held", above=0.0, least=0.1, kept=True)
LENGTH_OUT = quantity(
    LENGTH, "Length out of the chuck", "L_w", above=0.0, least=0.1, brief="out of the chuck", kept=True
)
GRIP_LENGTH = quantity(
    LENGTH, "Length in the jaws", "l_g", hint="for the grip against tilting", above=0.0, least=0.1, kept=True
)
HELD = choosing("Held", HOLDING, "chuck", kept=True)
CHUCK_LIMIT = quantity(
    SPINDLE_SPEED,
    "Chuck's marked limit",
    hint="as marked on the chuck",
    above=0.0,
    least=1.0,
    brief="chuck",
    kept=True,
)
GRIP_FORCE = quantity(FORCE, "Grip force, all jaws", "F_g", hint="with the spindle at rest", above=0.0, kept=True)

# --- the machine ----------------------------------------------------------------------------------------------------

MAX_RPM = quantity(
    SPINDLE_SPEED,
    "Spindle limit",
    "n_max",
    above=0.0,
    least=1.0,
    brief="limit",
    kept=True,
    hint="the lowest that chuck, machine, bar feeder, balance and length allow",
    because="below what most chucks are marked for; yours decides",
)
MOTOR_POWER = quantity(POWER, "Motor power", "P_m", hint="rated, at the motor", above=0.0, brief="motor", kept=True)
EFFICIENCY = quantity(RATIO, "Efficiency, motor to cut", "η", blank="0.8", above=0.0, least=0.1, most=1.0, kept=True)
BASE_RPM = quantity(
    SPINDLE_SPEED,
    "Base speed",
    "n_b",
    hint="full power from here up, full torque below",
    above=0.0,
    least=1.0,
    kept=True,
)
RATED_TORQUE = quantity(TORQUE, "Largest torque at the spindle", "M_max", above=0.0, kept=True)

# --- the cut --------------------------------------------------------------------------------------------------------

KNOWN_SPEED = quantity(SPEED, "Known surface speed", "v_1", above=0.0, least=SLOWEST)
KNOWN_LIFE = quantity(TIME, "Edge life there", "T_1", above=0.0, least=0.01)
LIFE_EXPONENT = quantity(
    RATIO,
    "Life exponent",
    "n",
    least=EXPONENTS[0],
    most=EXPONENTS[1],
    hint="Taylor's; about 0.12 HSS, 0.25 carbide, 0.5 ceramic",
)
SURFACE_SPEED = quantity(SPEED, "Surface speed", "v", above=0.0, least=SLOWEST)
ROUGH_SURFACE_SPEED = quantity(SPEED, "Surface speed, roughing", above=0.0, least=SLOWEST, brief="roughing")
FEED_RATE = quantity(
    FEED, "Feed", "f", above=0.0, least=SMALLEST, because="a quarter of the usual nose, which leaves about N7"
)
ROUGH_FEED = quantity(
    FEED,
    "Feed, roughing",
    above=0.0,
    least=SMALLEST,
    brief="roughing feed",
    because="it breaks the chip in most steels with the usual nose",
)
DEPTH_OF_CUT = quantity(LENGTH, "Depth of cut", "a", above=0.0, least=SMALLEST)
PASS_DEPTH = quantity(
    LENGTH,
    "Depth per pass",
    "a_p",
    above=0.0,
    least=SMALLEST,
    brief="at most",
    because="light for most work and inserts, and more than the usual nose",
)
ALLOWANCE_X = quantity(LENGTH, "Allowance along X, per side", least=0.0, brief="X", because=_KEPT)
ALLOWANCE_Z = quantity(LENGTH, "Allowance along Z", least=0.0, brief="allowance Z", because=_KEPT)
LEAD_IN = quantity(LENGTH, "Lead-in", least=0.0, brief="lead-in", because="clear of a rough or crooked face")
PASS_SPLIT: Choice[Split] = choosing(
    "Passes",
    {"equal": "of equal depth", "rest": "full, the last takes the rest", "easing": "easing to half at the end"},
    "equal",
)
SPRING_PASSES = quantity(COUNT, "Spring passes", least=0.0, most=10.0, hint="at the last depth", blank="none")
FEED_RULE: Choice[FeedRule] = choosing(
    "Feed in shallower passes",
    {"given": "as given", "chip": "faster: the chip stays as thick"},
    "given",
    hint="roughing with a round insert; never above 0.5 mm/rev",
)
CUT_DIRECTION: Choice[CutDirection] = choosing(
    "Finished",
    {"in": "toward the chuck, dishes inward", "back": "away from it, dishes outward"},
    "in",
    hint="its face is finished inward either way",
)
LEAD_FORM: Choice[Lead] = choosing(
    "The finish leads in and out",
    {
        "straight": "straight, on the first clear path",
        "arc": "on arcs that join smoothly",
        "tangent": "along its ends",
    },
    "straight",
)
LEAD_SIZE = quantity(
    LENGTH, "Radius or length of that lead", above=0.0, least=SMALLEST, most=100.0, blank="2 mm", brief="lead"
)
SPEED_AT: Choice[SpeedAt] = choosing(
    "Surface speed held at",
    {"contact": "where the nose touches", "point": "the tool point"},
    "contact",
    hint="most controls hold it at the tool point's X",
)
FEED_AT: Choice[FeedAt] = choosing(
    "Feed along",
    {"contour": "the contour", "centre": "the path of the nose centre"},
    "contour",
    hint="with nose compensation some controls feed the nose centre",
)
DIAMETER_OF_CUT = quantity(DIAMETER, "Diameter", "D", above=0.0, least=SMALLEST)
OUTER_DIAMETER = quantity(DIAMETER, "Outer diameter", "D_1", above=0.0, least=SMALLEST)
BORE_DIAMETER = quantity(DIAMETER, "Bore diameter", "D", above=0.0, least=0.1)
INNER_DIAMETER = quantity(DIAMETER, "Inner diameter", "D_2", least=0.0)
CUT_LENGTH = quantity(LENGTH, "Length of cut", "L", above=0.0, least=SMALLEST)
RA = quantity(ROUGHNESS, "Ra wanted", "Ra", above=0.0, least=FINEST, brief="Ra")
PASSIVE_FORCE = quantity(FORCE, "Passive force", "F_p", hint="square to the axis", above=0.0)
TOLERANCE = quantity(LENGTH, "Error allowed on the diameter", hint="for a caution", above=0.0)
