"""The cautions of a case on its page: the worst three in full, the others folded; JSON carries all."""

import html
import re

from starlette.testclient import TestClient

from calc.language.fields import specs
from server.catalogue import FEATURES

# Below the fields stand the second and the third, whatever more there is in a fold of their own.
FURTHER = re.compile(r'<section id="further-cautions".*?</section>', re.DOTALL)
CASE = (
    "material=C45&bore_diameter=20&depth=1&feed=5&nose_radius=0.4&surface_speed=220&tool_bar_diameter=16&stick_out=48"
)


def in_full(page: str) -> list[str]:
    """The texts of the cautions that stand on a page without opening anything."""
    below = FURTHER.search(page)
    listed = below[0].split("<details")[0] if below else ""
    first = re.search(r'class="(?:first )?caution[^>]*>(?:<span>)?<strong>Caution</strong> (.*?)</', page)
    further = re.findall(r"<strong>Caution</strong> (.*?)</li>", listed)
    return [html.unescape(text) for text in (*([first[1]] if first else []), *further)]


def test_the_three_worst_stand_in_full_and_the_others_in_a_fold(client: TestClient) -> None:
    cautions = client.get(f"/api/speed-feed/boring-cut?{CASE}").json()["cautions"]
    assert len(cautions) == 4
    page = client.get(f"/boring-cut?{CASE}").text
    assert in_full(page) == cautions[:3]
    below = FURTHER.search(page)
    assert below is not None
    assert "1 more" in below[0].split("<details")[1]
    assert cautions[3] in below[0].split("<details")[1]


# What brings several cautions at once on most pages that cut: a slipped decimal, a weak grip, a fast spindle.
WORSE = {"feed": "7", "grip_force": "100", "work_diameter": "40", "chuck_limit": "100", "motor_power": "0.1"}


def test_on_every_page_that_cuts_the_three_worst_stand_in_full(client: TestClient) -> None:
    walked = 0
    for feature in FEATURES:
        if not (feature.page and feature.path.startswith("speed-feed/") and feature.example):
            continue
        names = {spec.name for spec in specs(feature.inputs)}
        asked = {**feature.example, **{name: value for name, value in WORSE.items() if name in names}}
        answer = client.get(f"/api/{feature.path}", params=asked)
        if answer.status_code != 200:
            continue
        cautions = answer.json()["cautions"]
        assert in_full(client.get(feature.page, params=asked).text) == cautions[:3], feature.path
        walked += len(cautions) > 3
    assert walked >= 5
