"""The features that the server offers, in the order of the start page and of the API's documentation."""

from __future__ import annotations

from typing import Any

from calc.feature import Feature
from calc.features.ball import FEATURE as BALL
from calc.features.boring_cut import FEATURE as BORING_CUT
from calc.features.chip import FEATURE as CHIP
from calc.features.compare import FEATURE as COMPARE
from calc.features.contour import FEATURE as CONTOUR
from calc.features.corner.feature import FEATURE as CORNER
from calc.features.crown import FEATURE as CROWN
from calc.features.deflection import FEATURE as BAR_DEFLECTION
from calc.features.dish.feature import FEATURE as DISH
from calc.features.drill_point import FEATURE as DRILL_POINT
from calc.features.drilling import FEATURE as DRILLING
from calc.features.facing_time import FEATURE as FACING_TIME
from calc.features.finish import FEATURE as FINISH
from calc.features.finish_feed import FEATURE as FINISH_FEED
from calc.features.force import FEATURE as FORCE
from calc.features.force_along import FEATURE as FORCE_ALONG
from calc.features.grip import FEATURE as GRIP
from calc.features.groove.feature import FEATURE as GROOVE
from calc.features.grooving_cut import FEATURE as GROOVING_CUT
from calc.features.holder import FEATURE as HOLDER
from calc.features.insert import FEATURE as INSERT
from calc.features.material import FEATURE as MATERIAL
from calc.features.nose_contour import FEATURE as NOSE
from calc.features.parting import FEATURE as PARTING
from calc.features.polygon_stock import FEATURE as POLYGON
from calc.features.reach import FEATURE as REACH
from calc.features.reach_contour import FEATURE as REACH_CONTOUR
from calc.features.seat_pair import FEATURE as SEAT_PAIR
from calc.features.shoulder.feature import FEATURE as SHOULDER
from calc.features.speed_along import FEATURE as SPEED_ALONG
from calc.features.spindle import FEATURE as SPINDLE
from calc.features.taper.feature import FEATURE as TAPER
from calc.features.tool_life import FEATURE as TOOL_LIFE
from calc.features.unit_power import FEATURE as UNIT_POWER
from calc.features.work_deflection import FEATURE as WORK_DEFLECTION
from calc.plan.contour.feature import FEATURE as CONTOUR_PLAN
from calc.plan.dish import FEATURE as DISH_PLAN
from server.contour_api import POST as CONTOUR_IN_JSON
from server.contour_plan_api import POST as CONTOUR_PLAN_POST
from server.nose_path_api import POST as NOSE_PATH
from server.posting import Post

GEOMETRY = (DISH_PLAN, CONTOUR, DISH, CROWN, TAPER, CORNER, SHOULDER, GROOVE, BALL, DRILL_POINT, SEAT_PAIR, POLYGON)
CUTTING = (MATERIAL, SPINDLE, FACING_TIME, CHIP, FORCE, UNIT_POWER, FINISH, FINISH_FEED)
IN_HAND = (SPEED_ALONG, FORCE_ALONG, BAR_DEFLECTION, WORK_DEFLECTION, GRIP, TOOL_LIFE, COMPARE)
OPERATIONS = (BORING_CUT, GROOVING_CUT, PARTING, DRILLING)
TOOL = (INSERT, HOLDER, REACH, REACH_CONTOUR, NOSE, CONTOUR_PLAN)
GROUPS: dict[str, tuple[Feature[Any, Any], ...]] = {
    "Shapes from the print": GEOMETRY,
    "Insert, holder, nose": TOOL,
    "Speed, feed, finish, force": CUTTING,
    "Kept in hand": IN_HAND,
    "Other operations": OPERATIONS,
}
FEATURES: tuple[Feature[Any, Any], ...] = tuple(feature for group in GROUPS.values() for feature in group)
PAGES: dict[str, Feature[Any, Any]] = {feature.page: feature for feature in FEATURES if feature.page}
POSTS: tuple[Post, ...] = (CONTOUR_IN_JSON, NOSE_PATH, CONTOUR_PLAN_POST)
