"""Every page that names a spindle speed, a feed, a force or a power, walked: each holds it against the same limits.

The pages are found by what they declare, so that a new one is walked by itself. The cases are the examples with one
number made wrong; that a chuck's marking, a machine's power and a grip bind is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from starlette.testclient import TestClient

from calc.answer.feature import Feature
from calc.language.fields import specs
from calc.language.quantities import FEED, FORCE, LENGTH, POWER, SPINDLE_SPEED, SURFACE_SPEED, Kind
from calc.language.spec import Spec
from server.catalogue import FEATURES

Asked = Feature[Any, Any]
CHUCK = 3200
MATERIAL = {"diameter": "2"}  # small enough that its starting speed is above the marking

# Pages that name such a quantity and are not held so, each with its reason.
NO_CHUCK = {"plan/thread": "a thread's speed is itself held at the marking, and the answer says so"}
NO_MACHINE = {"speed-feed/compare": "the power that is allowed is one of its limits"}
NO_GRIP = {
    "speed-feed/balance": "a pull of the work itself, held against a share of the grip",
    "geometry/centre-hole": "the force of a tailstock along the axis, with no cut of its own",
    "geometry/ring-groove": "the load of a ring at rest",
    "speed-feed/compare": "many cuts at once; the force page holds one of them",
    "speed-feed/grip": "the grip is what it finds",
    "speed-feed/collet-mandrel": "the grip is what it finds, and it is held against the cut there",
    "speed-feed/centre": "the force of a tailstock along the axis; what it carries is held against the centre's limits",
    "speed-feed/how-far-out": "the load of a steady; the force is given and not cut there",
    "speed-feed/thin-ring": "the grip is what bends its ring, and it sends to the page for the grip",
}
NO_CHIP = {
    "speed-feed/material": "a table of forces over chips, none of which is cut",
    "speed-feed/speed-along": "no depth of cut is asked, so that no chip is known",
}
THIN = {  # where the feed is not chosen freely, and where the example says of itself what the edge takes off
    "speed-feed/chip": {"edge_rounding": ""},
    "speed-feed/compare": {"feed_to": "0.02", "chip_least": ""},
    "nose-radius/feed": {"ra": "0.05", "depth": "0.1", "surface_radius": "", "surface": "flat", "nose_radius": "0.8"},
    "plan/thread": {"pass_count": "60", "method": "constant-area"},
    "speed-feed/tapping": {"designation": "M2.5-6H", "length": "4", "chamfer": "A"},
}
NO_FEED = {
    "bore_feed": "of a bored hole alone, which the tests of the hole walk",
    "ceiling": "it is a limit for a feed",
    "feed_to": "walked with the feed that it begins at",
}


def declared(feature: Asked, kind: Kind, *, given: bool = True, found: bool = True) -> list[Spec]:
    """What a feature declares of a kind, among what is given and what is found, its lists with it."""
    parts = [*([feature.inputs] if given else []), *([feature.results] if found else [])]
    parts += [rows.row for rows in feature.rows.values()] if found else []
    return [spec for part in parts for spec in specs(part) if spec.role == "quantity" and spec.kind is kind]


def names(feature: Asked) -> dict[str, Spec]:
    return {spec.name: spec for spec in specs(feature.inputs)}


def metric(feature: Asked) -> dict[str, str]:
    """The example in metric units: one in inches keeps its units."""
    return dict(feature.example)


def cautions(client: TestClient, feature: Asked, **changes: str) -> list[str]:
    asked = {name: text for name, text in (metric(feature) | changes).items() if text}
    answer = client.get(f"/api/{feature.path}", params=asked)
    assert answer.status_code == 200, answer.json()
    found: list[str] = answer.json()["cautions"]
    return found


def refused(client: TestClient, feature: Asked, changes: dict[str, str]) -> list[str]:
    """The fields at which a case is refused."""
    asked = {name: text for name, text in (metric(feature) | changes).items() if text}
    return [fault["field"] for fault in client.get(f"/api/{feature.path}", params=asked).json().get("errors", ())]


def speeds(sentence: str) -> set[int]:
    return {int(number) for number in re.findall(r"(\d+) 1/min", sentence)}


def turning() -> Iterator[Asked]:
    return (each for each in FEATURES if declared(each, SPINDLE_SPEED) and each.path not in NO_CHUCK)


def too_fast(feature: Asked) -> dict[str, str]:
    """The example at twenty times its surface speed, without a spindle limit where it can do without one."""
    own, changes = names(feature), {"chuck_limit": str(CHUCK)}
    if "max_rpm" in own:
        changes["max_rpm"] = "9000" if own["max_rpm"].required else ""
    if "rpm" in own:
        changes["rpm"] = "4000"
    if "diameter" in own and "diameter" not in feature.example:
        changes["diameter"] = "40" if feature.example.get("units") != "inch" else "1.5"
    speeds_asked = [spec.name for spec in declared(feature, SURFACE_SPEED, found=False)]
    fast = [name for name in speeds_asked if name in feature.example] or speeds_asked[:1]
    changes |= {name: str(20 * float(feature.example.get(name, "100"))) for name in fast}
    changes |= rows_at_speed(feature)
    if fast or rows_at_speed(feature):
        return changes
    return changes | {name: text for name, text in MATERIAL.items() if name in own}


def rows_at_speed(feature: Asked) -> dict[str, str]:
    """An example's rows with their surface speeds twenty times what they are."""
    rows = {name: text for name, text in feature.example.items() if "surface_speed:" in text}
    return {name: re.sub(r"(?<=surface_speed:)\d+", _faster, text) for name, text in rows.items()}


def _faster(found: re.Match[str]) -> str:
    return str(20 * int(found[0]))


@pytest.mark.parametrize("feature", [*turning()], ids=lambda each: each.path)
def test_a_spindle_faster_than_the_chucks_marking_is_told_with_both_speeds(client: TestClient, feature: Asked) -> None:
    assert "chuck_limit" in names(feature), "names a spindle speed and does not ask for the chuck's marking"
    case = too_fast(feature)
    if "max_rpm" in refused(client, feature, case):  # on the axis no speed is high enough: the limit is asked for
        case["max_rpm"] = "9000"
    told = [speeds(each) for each in cautions(client, feature, **case) if "chuck" in each]
    assert any(CHUCK in each and len(each) > 1 for each in told), told


@pytest.mark.parametrize("feature", [*turning()], ids=lambda each: each.path)
def test_a_spindle_that_keeps_to_the_marking_is_not_told_of_it(client: TestClient, feature: Asked) -> None:
    changes = {"chuck_limit": str(CHUCK)} | ({"max_rpm": "2000"} if "max_rpm" in names(feature) else {})
    assert [each for each in cautions(client, feature, **changes) if str(CHUCK) in each] == []


def fed() -> Iterator[tuple[Asked, str]]:
    for feature in FEATURES:
        yield from ((feature, spec.name) for spec in declared(feature, FEED, found=False) if spec.name not in NO_FEED)


@pytest.mark.parametrize(("feature", "name"), [*fed()], ids=lambda each: getattr(each, "path", each))
def test_a_feed_with_a_slipped_decimal_is_told_or_refused_with_its_amount(
    client: TestClient, feature: Asked, name: str
) -> None:
    value = 10 * float(feature.example.get(name, "0.4"))
    changes = {name: f"{value:g}"}
    if name == "inside_feed":
        changes["inside_diameter"] = "8"
    asked = {key: text for key, text in (dict(feature.example) | changes).items() if text}
    answer = client.get(f"/api/{feature.path}", params=asked)
    if answer.status_code == 422:
        assert name in [fault["field"] for fault in answer.json()["errors"]]
        return
    shown = re.escape(f"{value:.3f}" if feature.example.get("units") != "inch" else f"{value:.4f}".lstrip("0"))
    told = [each for each in answer.json()["cautions"] if re.search(rf"{shown} (mm|in).*\d times", each)]
    assert told, answer.json()["cautions"]


IN_ROWS = [each for each in FEATURES if any("~feed:0.25" in text for text in each.example.values())]


@pytest.mark.parametrize("feature", IN_ROWS, ids=lambda each: each.path)
def test_a_feed_in_a_row_with_a_slipped_decimal_is_told(client: TestClient, feature: Asked) -> None:
    rows = {name: text.replace("~feed:0.25", "~feed:2.5") for name, text in feature.example.items()}
    assert any("2.500 mm" in each and "times" in each for each in cautions(client, feature, **rows))


def powered() -> Iterator[Asked]:
    return (each for each in FEATURES if declared(each, POWER, given=False) and each.path not in NO_MACHINE)


@pytest.mark.parametrize("feature", [*powered()], ids=lambda each: each.path)
def test_a_cut_that_the_machine_cannot_drive_is_told_with_both_powers(client: TestClient, feature: Asked) -> None:
    assert "motor_power" in names(feature), "names a power and does not ask for the machine's"
    told = cautions(client, feature, motor_power="0.02")
    assert any("stalls" in each and len(re.findall(r"[\d.]+ (?:kW|hp)", each)) > 1 for each in told), told


def gripped() -> Iterator[Asked]:
    return (each for each in FEATURES if declared(each, FORCE, given=False) and each.path not in NO_GRIP)


@pytest.mark.parametrize("feature", [*gripped()], ids=lambda each: each.path)
def test_a_grip_that_does_not_hold_the_cut_is_told_with_both_forces(client: TestClient, feature: Asked) -> None:
    own = names(feature)
    assert "grip_force" in own, "names a force and does not ask for the grip"
    changes = {"work_diameter": "2.4"} if "work_diameter" in own else {}
    changes |= {"diameter": "2.4"} if feature.path == "speed-feed/unit-power" else {}
    changes |= {"boring_diameter": "2"} if "boring_diameter" in own else {}
    told = cautions(client, feature, grip_force="20", **changes)
    assert any("grip" in each and len(re.findall(r"[\d.]+ (?:N|kN|lbf)", each)) > 1 for each in told), told


def held() -> Iterator[Asked]:
    """Those that ask how the work is held, in jaws alone."""
    for feature in gripped():
        own = names(feature)
        if (
            "grip_length" in own
            and ("work_diameter" in own or "bar_diameter" in own)
            and feature.path not in OTHER_GRIP
        ):
            yield feature


OTHER_GRIP = ("plan/hole", "speed-feed/soft-jaws")  # drills one after the other; a force and a place that are asked
TURNS_ALONE = ("speed-feed/drilling", "speed-feed/tapping")  # edges in balance tilt nothing


@pytest.mark.parametrize("feature", [*held()], ids=lambda each: each.path)
def test_a_grip_that_cannot_be_judged_is_told_with_what_is_lacking(client: TestClient, feature: Asked) -> None:
    bar = "bar_diameter" if "work_diameter" not in names(feature) else "work_diameter"
    blank = {"grip_force": "20000N", "length_out": "", "grip_length": "", bar: ""}
    told = [each for each in cautions(client, feature, **blank) if "To check the grip" in each]
    assert len(told) == 1, told
    assert "work diameter" in told[0]
    assert ("length in the jaws" in told[0]) == (feature.path not in TURNS_ALONE)
    full = {"grip_force": "90000N", "length_out": "40mm", "grip_length": "30mm", bar: "120mm"}
    assert [each for each in cautions(client, feature, **full) if "To check the grip" in each] == []


@pytest.mark.parametrize("feature", [*held()], ids=lambda each: each.path)
def test_a_grip_too_short_for_a_long_piece_is_told_to_tilt(client: TestClient, feature: Asked) -> None:
    bar = "bar_diameter" if "work_diameter" not in names(feature) else "work_diameter"
    long = {"grip_force": "2000N", "length_out": "400mm", "grip_length": "2mm", bar: "120mm"}
    told = [each for each in cautions(client, feature, **long) if "tilts the work" in each]
    assert bool(told) == (feature.path not in TURNS_ALONE)


def chipped() -> Iterator[Asked]:
    """The pages that name a chip's thickness, and those that find a force or a power from a feed."""
    for feature in FEATURES:
        named = [spec for spec in declared(feature, LENGTH, given=False) if "chip" in spec.label.lower()]
        by_feed = declared(feature, FEED, found=False) and (
            declared(feature, FORCE, given=False) or declared(feature, POWER, given=False)
        )
        if (by_feed or any("width" not in spec.name for spec in named)) and feature.path not in NO_CHIP:
            yield feature


def thin(feature: Asked) -> dict[str, str]:
    """The example at a twentieth of its feeds, or what makes a chip thin where the feed is not chosen."""
    inch = feature.example.get("units") == "inch"
    feeds = [spec.name for spec in declared(feature, FEED, found=False) if spec.name not in NO_FEED]
    low = {name: ".0002" if inch else "0.004" for name in feeds if name in feature.example or name == "feed"}
    return low | THIN.get(feature.path, {})


@pytest.mark.parametrize("feature", [*chipped()], ids=lambda each: each.path)
def test_a_chip_too_thin_to_be_cut_is_told_with_its_thickness_and_the_least(client: TestClient, feature: Asked) -> None:
    told = cautions(client, feature, **thin(feature))
    of_the_chip = [each for each in told if "chip" in each and "less than" in each and "rubs more than" in each]
    assert any(len(re.findall(r"[\d.]+ (?:mm|in)\b", each)) > 1 for each in of_the_chip), told


@pytest.mark.parametrize("feature", [*chipped()], ids=lambda each: each.path)
def test_the_chip_of_an_example_is_not_told_of(client: TestClient, feature: Asked) -> None:
    if feature.path == "nose-radius/feed":  # a large nose at a small depth, whose chip is thin
        return
    assert [each for each in cautions(client, feature) if "rubs more than" in each] == []


def test_every_exception_is_one() -> None:
    paths = {feature.path for feature in FEATURES}
    assert not (NO_CHUCK.keys() | NO_MACHINE.keys() | NO_GRIP.keys() | NO_CHIP.keys() | THIN.keys()) - paths
    assert not NO_FEED.keys() - {spec.name for feature in FEATURES for spec in specs(feature.inputs)}
