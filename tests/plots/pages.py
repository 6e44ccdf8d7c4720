"""The pages that have plots, each with its example and with a few harder cases, as texts in a query."""

from __future__ import annotations

from typing import Any

from calc.answer.feature import Feature
from calc.answer.plotting import Plot
from server.catalogue import FEATURES
from server.query import read_query

KEYS = ("bar-deflection", "work-deflection", "grip", "tool-life", "speed-along", "compare")
PLOTTED: dict[str, Feature[Any, Any]] = {
    feature.path.split("/")[1]: feature for feature in FEATURES if feature.path.split("/")[1] in KEYS
}
COMPARE = PLOTTED["compare"].example

CASES: dict[str, tuple[str, dict[str, str]]] = {
    **{key: (key, dict(feature.example)) for key, feature in PLOTTED.items()},
    "work in the chuck": ("work-deflection", {"work_diameter": "20", "length_out": "90", "passive_force": "300"}),
    "work between centres, inch": (
        "work-deflection",
        {"held": "centres", "work_diameter": "1", "length_out": "12", "passive_force": "60", "units": "inch"},
    ),
    "grip in a bore": ("grip", {"grip": "20000", "jaw_moment": "0.5", "rpm": "2500", "gripped": "inside"}),
    "a face as radius": (
        "speed-along",
        {"surface_speed": "200", "max_rpm": "3000", "feed": "0.2", "outer_diameter": "100", "x": "radius"},
    ),
    "a face, inch": (
        "speed-along",
        {"surface_speed": "700", "max_rpm": "3000", "feed": ".008", "outer_diameter": "4", "units": "inch"},
    ),
    "a flat field": ("compare", {**COMPARE, "shown": "removal", "feed": "0.1", "feed_to": "0.10001"}),
    "finish over nose and feed": (
        "compare",
        {**COMPARE, "shown": "ra", "depth_to": "", "nose_radius": "0.4", "nose_radius_to": "6"},
    ),
    "nothing allowed": ("compare", {**COMPARE, "power_limit": "0.01"}),
    "a field, inch": (
        "compare",
        {**{k: v for k, v in COMPARE.items() if k in ("material", "entering_angle")}, "surface_speed": "600",
         "feed": ".004", "feed_to": ".02", "depth": ".02", "depth_to": ".15", "nose_radius": "1/32",
         "power_limit": "10", "units": "inch"},
    ),
}  # fmt: skip


def query_of(name: str) -> Any:
    """The question of a case, read as the server reads it."""
    key, texts = CASES[name]
    return read_query(list(texts.items()), PLOTTED[key].inputs)


def plots_of(name: str) -> tuple[Plot, ...]:
    """The plots of a case."""
    key, _ = CASES[name]
    answer, _ = PLOTTED[key].answer(query_of(name).inputs(PLOTTED[key].inputs))
    assert answer.plots
    return answer.plots
