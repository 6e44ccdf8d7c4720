"""Which questions go to a process of their own."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

import pytest

from calc.language.fields import specs
from server.catalogue import FEATURES
from server.computing.weight import HEAVY, is_heavy, is_heavy_body
from server.settings import ROOT

GROWING = {  # those whose work grows with what is typed
    "plan/contour", "plan/dish", "geometry/contour", "nose-radius/path", "nose-radius/reach-contour",
    "speed-feed/speed-along", "speed-feed/force-along", "speed-feed/compare", "measure/part",
    "measure/first-part", "measure/error-by-cause",
}  # fmt: skip
LONG = "s_x0_z0" + "*a_r5_smooth" * 40


@pytest.mark.parametrize("path", sorted(GROWING))
def test_a_question_whose_work_grows_is_heavy_unless_it_is_seen_to_be_small(path: str) -> None:
    asked = [("contour", LONG), ("shape", "own"), ("depth", "4"), ("pass_depth", "0.03"), ("nose_radius", "6")]
    assert is_heavy(path, asked)


def test_what_is_declared_is_offered() -> None:
    assert set(HEAVY) <= {feature.path for feature in FEATURES}


CONTOURS = [each for each in FEATURES if any(spec.role == "contour" for spec in specs(each.inputs))]


@pytest.mark.parametrize("feature", CONTOURS, ids=lambda feature: feature.path)
def test_whatever_takes_a_contour_is_declared(feature: Any) -> None:
    """One that was not let a comb of 24 grooves keep everybody waiting for half a minute."""
    asked = [(spec.name, LONG) for spec in specs(feature.inputs) if spec.role == "contour"]
    assert is_heavy(feature.path, [("shape", "own"), *asked])


@pytest.mark.parametrize("path", [feature.path for feature in FEATURES])
def test_a_bare_page_is_light(path: str) -> None:
    assert not is_heavy(path, [("units", "inch"), ("x", "radius"), ("depth", " "), ("typed", "de")])


def test_a_plan_that_is_added_is_heavy_before_anybody_declares_it() -> None:
    assert is_heavy("plan/something-new", [("length", "20")])
    assert is_heavy_body("plan/something-new", b"{}")


@pytest.mark.parametrize(
    ("texts", "heavy"),
    [
        ({}, False),
        ({"pass_depth": "1"}, False),
        ({"nose_radius": "6"}, False),
        ({"nose_radius": "6", "pass_depth": "1"}, True),
        ({"insert": "RCMT 1204M0", "ra": "1.6"}, True),
    ],
)
def test_a_dish_is_heavy_as_soon_as_its_passes_are_swept(texts: dict[str, str], heavy: bool) -> None:
    assert is_heavy("plan/dish", [("radius", "75"), ("depth", "4.5"), *texts.items()]) is heavy


def test_a_few_straight_rows_are_light_and_an_arc_is_not() -> None:
    assert not is_heavy("geometry/contour", [("contour", "s_x20_z0*t_z-10*l_x30_z-20")])
    assert is_heavy("geometry/contour", [("contour", "s_x20_z0*a_r5_z-10")])
    assert is_heavy("geometry/contour", [("rows.0.kind", "start"), ("rows.1.kind", "arc"), ("rows.1.r", "5")])
    assert is_heavy_body("geometry/contour", b'{"elements": [{"kind": "arc"}]}')
    assert is_heavy_body("measure/error-by-cause", b"{}")
    assert not is_heavy_body("measure/arc", b'{"readings": []}')
    assert not is_heavy_body("geometry/contour", b'{"elements": [{"kind": "line", "z": -5}]}')


def test_no_question_that_the_server_answers_itself_loads_what_sweeps_a_plan() -> None:
    """In a process of its own: the geometry library is 5 MB, and where it is needed the work grows with the part."""
    code = (
        "import sys; from server.answering import Answering, PageAsked; from server.catalogue import PAGES;"
        "from server.computing.weight import is_heavy; from server.settings import STATIC, TEMPLATES;"
        "a = Answering(TEMPLATES, STATIC);"
        "light = [f for f in PAGES.values() if not is_heavy(f.path, f.example.items())];"
        "asked = [(a.page(f, PageAsked(tuple(f.example.items()), 'http://shop.example')), f.path) for f in light"
        " if 'shapely' not in sys.modules];"
        "assert 'shapely' not in sys.modules, asked[-1][1];"
        "assert len(asked) > 40"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
