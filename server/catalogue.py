"""The features that the server offers, in the order of the start page and of the API's documentation."""

from __future__ import annotations

from typing import Any

from calc.answer.feature import Feature
from calc.questions.cutting.balance import FEATURE as BALANCE
from calc.questions.cutting.bar_whip import FEATURE as BAR_WHIP
from calc.questions.cutting.centre import FEATURE as CENTRE
from calc.questions.cutting.chip import FEATURE as CHIP
from calc.questions.cutting.collet_mandrel import FEATURE as COLLET_MANDREL
from calc.questions.cutting.compare import FEATURE as COMPARE
from calc.questions.cutting.deflection import FEATURE as BAR_DEFLECTION
from calc.questions.cutting.facing_time import FEATURE as FACING_TIME
from calc.questions.cutting.finish import FEATURE as FINISH
from calc.questions.cutting.finish_feed import FEATURE as FINISH_FEED
from calc.questions.cutting.force import FEATURE as FORCE
from calc.questions.cutting.force_along import FEATURE as FORCE_ALONG
from calc.questions.cutting.grip import FEATURE as GRIP
from calc.questions.cutting.how_far_out import FEATURE as HOW_FAR_OUT
from calc.questions.cutting.material import FEATURE as MATERIAL
from calc.questions.cutting.soft_jaws import FEATURE as SOFT_JAWS
from calc.questions.cutting.speed_along import FEATURE as SPEED_ALONG
from calc.questions.cutting.spindle import FEATURE as SPINDLE
from calc.questions.cutting.thin_ring import FEATURE as THIN_RING
from calc.questions.cutting.tool_life import FEATURE as TOOL_LIFE
from calc.questions.cutting.unit_power import FEATURE as UNIT_POWER
from calc.questions.cutting.work_deflection import FEATURE as WORK_DEFLECTION
from calc.questions.measuring.arc import FEATURE as MEASURED_ARC
from calc.questions.measuring.ball_in_cone import FEATURE as BALL_IN_CONE
from calc.questions.measuring.centre_distance import FEATURE as CENTRE_DISTANCE
from calc.questions.measuring.chamfer_measured import FEATURE as CHAMFER_MEASURED
from calc.questions.measuring.dovetail import FEATURE as DOVETAIL
from calc.questions.measuring.error_by_cause import FEATURE as ERROR_BY_CAUSE
from calc.questions.measuring.first_part import FEATURE as FIRST_PART
from calc.questions.measuring.gauge_fit import FEATURE as GAUGE_FIT
from calc.questions.measuring.part_measured import FEATURE as PART_MEASURED
from calc.questions.measuring.part_run import FEATURE as PART_RUN
from calc.questions.measuring.radius_by_rollers import FEATURE as RADIUS_BY_ROLLERS
from calc.questions.measuring.sine_bar import FEATURE as SINE_BAR
from calc.questions.measuring.spherometer import FEATURE as SPHEROMETER
from calc.questions.measuring.taper_by_balls import FEATURE as TAPER_BY_BALLS
from calc.questions.operations.bar_economy import FEATURE as BAR_ECONOMY
from calc.questions.operations.batch import FEATURE as BATCH
from calc.questions.operations.boring_cut import FEATURE as BORING_CUT
from calc.questions.operations.contour_plan.feature import FEATURE as CONTOUR_PLAN
from calc.questions.operations.dish_plan.dish import FEATURE as DISH_PLAN
from calc.questions.operations.drilling import FEATURE as DRILLING
from calc.questions.operations.face_groove import FEATURE as FACE_GROOVE
from calc.questions.operations.grooving_cut import FEATURE as GROOVING_CUT
from calc.questions.operations.hole.feature import FEATURE as HOLE
from calc.questions.operations.knurl import FEATURE as KNURL
from calc.questions.operations.parting import FEATURE as PARTING
from calc.questions.part.feature import FEATURE as WHOLE_PART
from calc.questions.shapes.ball import FEATURE as BALL
from calc.questions.shapes.centre_hole import FEATURE as CENTRE_HOLE
from calc.questions.shapes.contour import FEATURE as CONTOUR
from calc.questions.shapes.corner import FEATURE as CORNER
from calc.questions.shapes.crown import FEATURE as CROWN
from calc.questions.shapes.dish import FEATURE as DISH
from calc.questions.shapes.drill_point import FEATURE as DRILL_POINT
from calc.questions.shapes.fit_curve import FEATURE as FIT_CURVE
from calc.questions.shapes.groove import FEATURE as GROOVE
from calc.questions.shapes.limits_of_size import FEATURE as LIMITS_OF_SIZE
from calc.questions.shapes.o_ring_groove import FEATURE as O_RING_GROOVE
from calc.questions.shapes.polygon_stock import FEATURE as POLYGON
from calc.questions.shapes.ring_groove import FEATURE as RING_GROOVE
from calc.questions.shapes.seat_pair import FEATURE as SEAT_PAIR
from calc.questions.shapes.shoulder import FEATURE as SHOULDER
from calc.questions.shapes.taper import FEATURE as TAPER
from calc.questions.threads.tapping import FEATURE as TAPPING
from calc.questions.threads.thread import FEATURE as THREAD
from calc.questions.threads.thread_passes import FEATURE as THREAD_PASSES
from calc.questions.tools.holder import FEATURE as HOLDER
from calc.questions.tools.insert import FEATURE as INSERT
from calc.questions.tools.nose_contour import FEATURE as NOSE
from calc.questions.tools.reach import FEATURE as REACH
from calc.questions.tools.reach_contour import FEATURE as REACH_CONTOUR
from calc.questions.tools.tool_finder import FEATURE as FIND_TOOLS
from server.bodies import post_of, takes_a_body
from server.contour_api import POST as CONTOUR_IN_JSON
from server.contour_plan_api import POST as CONTOUR_PLAN_POST
from server.curve_api import POST as CURVE
from server.nose_path_api import POST as NOSE_PATH
from server.part_api import POST as PART
from server.part_proposal_api import POST as PART_PROPOSAL
from server.posting import Post
from server.tool_finder_api import POST as TOOL_FINDER

WHOLE = (WHOLE_PART, CONTOUR_PLAN, HOLE)
GEOMETRY = (
    DISH_PLAN,
    CONTOUR,
    TAPER,
    CORNER,
    DISH,
    CROWN,
    SHOULDER,
    BALL,
    SEAT_PAIR,
    POLYGON,
    FIT_CURVE,
    LIMITS_OF_SIZE,
)
TOOL = (INSERT, HOLDER, FIND_TOOLS, REACH, NOSE, REACH_CONTOUR)
CUTTING = (SPINDLE, MATERIAL, FINISH, FACING_TIME, SPEED_ALONG, FINISH_FEED, CHIP, COMPARE)
IN_HAND = (
    FORCE,
    GRIP,
    BAR_DEFLECTION,
    THIN_RING,
    SOFT_JAWS,
    COLLET_MANDREL,
    CENTRE,
    HOW_FAR_OUT,
    UNIT_POWER,
    FORCE_ALONG,
    WORK_DEFLECTION,
    BAR_WHIP,
    BALANCE,
)
THREADS_AND_HOLES = (
    THREAD,
    GROOVE,
    PARTING,
    BORING_CUT,
    THREAD_PASSES,
    TAPPING,
    DRILLING,
    DRILL_POINT,
    CENTRE_HOLE,
    GROOVING_CUT,
    FACE_GROOVE,
    RING_GROOVE,
    O_RING_GROOVE,
    KNURL,
)
MEASURING = (
    FIRST_PART,
    PART_MEASURED,
    PART_RUN,
    ERROR_BY_CAUSE,
    MEASURED_ARC,
    SPHEROMETER,
    TAPER_BY_BALLS,
    SINE_BAR,
    RADIUS_BY_ROLLERS,
    BALL_IN_CONE,
    CHAMFER_MEASURED,
    DOVETAIL,
    CENTRE_DISTANCE,
    GAUGE_FIT,
)
PRICE = (BATCH, BAR_ECONOMY, TOOL_LIFE)
GROUPS: dict[str, tuple[Feature[Any, Any], ...]] = {
    "From the bar to the finished piece": WHOLE,
    "What shape is it?": GEOMETRY,
    "Which tool, and does it reach?": TOOL,
    "What speed and feed?": CUTTING,
    "Will it hold?": IN_HAND,
    "Threads, grooves, holes, parting": THREADS_AND_HOLES,
    "Is the part right?": MEASURING,
    "Hand it on, and what it costs": PRICE,
}
"""The questions of a day at the lathe in their order, each with its features, the most asked first."""
FEATURES: tuple[Feature[Any, Any], ...] = tuple(feature for group in GROUPS.values() for feature in group)
PAGES: dict[str, Feature[Any, Any]] = {feature.page: feature for feature in FEATURES if feature.page}
OF_THEIR_OWN: tuple[Post, ...] = (
    CONTOUR_IN_JSON,
    CURVE,
    NOSE_PATH,
    CONTOUR_PLAN_POST,
    PART,
    PART_PROPOSAL,
    TOOL_FINDER,
)
POSTS: tuple[Post, ...] = (
    *OF_THEIR_OWN,
    *(
        post_of(feature)
        for feature in FEATURES
        if takes_a_body(feature) and f"/api/{feature.path}" not in {post.path for post in OF_THEIR_OWN}
    ),
)
