"""The page of a whole part in process: both contours by their buttons, a picture for every operation."""

from __future__ import annotations

import re
from urllib.parse import parse_qsl, urlsplit

from starlette.testclient import TestClient

from calc.questions.part.examples import SLEEVE
from server.links import address


def test_both_contours_grow_by_their_own_buttons_without_a_script(client: TestClient) -> None:
    """A form sent as a browser sends it comes back as one address; a button of the bore leaves the outside alone."""
    form = {
        "rows.0.kind": "start", "rows.0.x": "0", "rows.0.z": "0", "rows.1.kind": "face", "rows.1.x": "42",
        "inside.0.kind": "start", "inside.0.x": "25", "inside.0.z": "0", "do": "inside:add-cylinder",
    }  # fmt: skip
    answer = client.get("/part", params=form, follow_redirects=False)
    assert answer.status_code == 303
    texts = dict(parse_qsl(urlsplit(answer.headers["location"]).query))
    assert (texts["outside"], texts["inside"]) == ("s_x0_z0*f_x42", "s_x25_z0*t")
    assert urlsplit(answer.headers["location"]).fragment == "inside.1"


def test_the_page_shows_a_picture_for_every_operation(client: TestClient) -> None:
    page = client.get(address("/part", SLEEVE)).text
    assert len(re.findall(r"<figure><svg", page)) == 6
    assert "spindle limit" in page
