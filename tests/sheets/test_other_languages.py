"""What saved work and the shop's lists say in another language: nothing of it is left in English."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from calc.language.messages import say_text
from calc.language.quantities import View
from server.sheets.differences import differences
from server.sheets.model import Heading, Sheet, Step
from tests.sheets.test_pages import owned as sheet_owned
from tests.sheets.test_pages import send
from tests.sheets.test_shop import CUT, Owner, add, change, owned
from tests.texts.pseudo import PSEUDO, pseudo
from tests.texts.test_pages_in_other_languages import words_outside

__all__ = ["pseudo", "sheet_owned"]

pytestmark = pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
GERMAN = {"Accept-Language": PSEUDO}


@pytest.mark.usefixtures("pseudo")
def test_the_revisions_of_a_sheet_are_said_in_the_readers_language(client: TestClient, sheet_owned: str) -> None:
    changes = {
        "heading__part": "",
        "heading__machine": "M1",
        "steps__0__address": "/dish?radius=80",
        "steps__1__seed": "4",
    }
    assert send(client, sheet_owned, **changes).status_code == 303
    page = client.get(f"{sheet_owned}/revisions", headers=GERMAN).text
    assert words_outside(page) <= {"Seat", "Lathe", "dish", "taper", "noindex"}, "what was typed; addresses; robots"


@pytest.mark.usefixtures("settings")
def test_a_change_of_a_parts_rows_is_said_in_german() -> None:
    outside = "outside=s_x0_z0*f_x20*t_z-30"
    first = "kind:face~feed:0.2*kind:finish~feed:0.12"
    old, new = (
        Sheet(Heading(), (Step("a", "Seat", f"/part?{outside}&operations={plan}"),))
        for plan in (first, first.replace("0.12", "0.1"))
    )
    said = [say_text(change, View(language="de")) for change in differences(old, new)]
    assert said == ["Schritt 1 „Seat“: Seite: Operation 2 Schlichten: Vorschub 0,1 (war 0,12)"]


@pytest.mark.usefixtures("pseudo")
@pytest.mark.parametrize(
    "rows",
    [
        ";;mm;C45;;;0,2;0,2;\n;;mm;;;;180;;\nnokey;1;mm;C45;;;180;;\n",
        ";;mm;C45;;;180;0,2;;more\n",
        ';;mm;"C45\n',
        ";x;mm;C45;;;180;;\n",
    ],
)
def test_what_is_wrong_in_a_file_of_rows_is_said_in_the_readers_language(
    client: TestClient, owner: Owner, rows: str
) -> None:
    owned(client, owner)
    heads = "key;revision;units;material;kind;insert;surface_speed;feed;proved_out\n"
    page = client.post("/shop/cuts/csv", data={"rows": heads + rows}, headers=GERMAN)
    assert page.status_code == 422
    assert words_outside(page.text) - {"noindex"} == set()


def test_who_changed_the_same_is_said_in_german(client: TestClient, owner: Owner) -> None:
    owned(client, owner)
    made = add(client, owner, "cuts", CUT)
    change(client, owner, "cuts", made, {**CUT, "feed": "0.3"})
    rows = f"key;revision;units;material;kind;insert;surface_speed;feed\n{made['key']};1;mm;42CrMo4;rough;;180;0.35\n"
    page = client.post("/shop/cuts/csv", data={"rows": rows}, headers=GERMAN)
    assert "Zeile 2, Vorschub: Hier hat inzwischen jemand „0,3“ eingetragen, diese Zeile hat „0,35“." in page.text
