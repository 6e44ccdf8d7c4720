"""The shop's lists as a whole: out as CSV and in again, backed up, brought forward, in its keeper's hands."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from sqlalchemy import text
from starlette.testclient import TestClient

from server.settings import Settings
from server.sheets import migrating
from server.sheets.backup import check_backup, restore_backup, write_backup
from server.sheets.database import alone, engine_for, reading
from server.sheets.keeping import main
from server.sheets.opening import open_store
from server.sheets.store import Store
from tests.sheets.test_shop import CUT, TOOL, Owner, add, change, document, owned


def csv_of(client: TestClient, name: str) -> str:
    return str(client.get(f"/shop/{name}.csv").text)


def test_a_whole_list_goes_out_as_csv_and_comes_back_as_it_was(client: TestClient, owner: Owner) -> None:
    owned(client, owner)
    add(client, owner, "tools", {**TOOL, "note": "two lines,\n“quoted”; =not a sum"})
    add(client, owner, "tools", {"use": "drill", "size": "8.5", "name": "=8+1"})
    before = client.get("/api/shop/tools").json()
    taken = client.post("/shop/tools/csv", files={"file": ("tools.csv", csv_of(client, "tools").encode(), "text/csv")})
    assert taken.headers["Location"] == "/shop?done=taken:0"
    assert client.get("/api/shop/tools").json() == before
    assert "'=8+1" in csv_of(client, "tools"), "a spreadsheet would calculate it"
    rows = csv_of(client, "tools").replace(",8.5,", ",8.6,").replace(",mm,drill", ",mm,reamer")
    rows += "\r\n,,inch,groove,face grooving,,,,,,1/8"
    assert client.post("/shop/tools/csv", data={"rows": rows}).status_code == 303
    tools = client.get("/api/shop/tools").json()["tools"]
    assert [(each["revision"], each["texts"].get("size")) for each in tools] == [(1, None), (2, "8.6"), (1, "1/8")]
    assert tools[2]["values"]["size"] == {"value": 0.125, "unit": "in"}


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_a_file_that_is_wrong_in_a_row_is_told_by_row_and_field_and_nothing_of_it_is_kept(
    client: TestClient, owner: Owner
) -> None:
    owned(client, owner)
    made = add(client, owner, "cuts", CUT)
    change(client, owner, "cuts", made, {**CUT, "feed": "0.3"})
    rows = (
        "key;revision;units;material;kind;insert;surface_speed;feed;proved_out\n"
        ";;mm;C45;;;0,2;0,2;\n"
        ";;mm;;;;180;;\n"
        f"{made['key']};1;mm;42CrMo4;rough;CNMG 120408;180;0.35;2026-11-03\n"
        "nokey;1;mm;C45;;;180;;\n"
    )
    page = client.post("/shop/cuts/csv", data={"rows": rows})
    assert page.status_code == 422
    said = page.text.replace("&#34;", '"')
    for words in (
        "Row 2, Surface speed: ",
        "Row 3, Material: Give the material",
        "Row 4, Feed: somebody put “0.3” here meanwhile, and this row has “0.35”",
        "Row 5, key: nothing in the list has this key",
    ):
        assert words in said, words
    assert len(client.get("/api/shop/cuts").json()["cuts"]) == 1
    joined = rows.splitlines()[0] + f"\n{made['key']};1;mm;42CrMo4;rough;CNMG 120408;170;0.25;2026-11-03"
    assert client.post("/shop/cuts/csv", data={"rows": joined}).status_code == 303
    texts = client.get("/api/shop/cuts").json()["cuts"][0]["texts"]
    assert (texts["surface_speed"], texts["feed"]) == ("170", "0.3"), "both changes stand"
    for odd in ("", "hello", "insert,insert\na,b", "material,feed\nC45,0.2,more", 'material\n"C45', "revision\nx"):
        assert client.post("/shop/cuts/csv", data={"rows": odd}).status_code == 422, odd


def test_the_lists_are_backed_up_and_restored_and_a_backup_from_before_them_is_read(
    client: TestClient, owner: Owner, settings: Settings, tmp_path: Path
) -> None:
    made = add(client, owner, "tools", TOOL)
    change(client, owner, "tools", made, {**TOOL, "note": "new edge"})
    client.delete(f"/api/shop/tools/{add(client, owner, 'tools', TOOL)['key']}?based_on=1", headers=owner)
    before = client.get("/api/shop/tools").json()
    engine = open_store(settings).engine
    summary = write_backup(engine, tmp_path / "backup")
    assert "2 tools and cuts of the shop" in str(summary)
    add(client, owner, "cuts", CUT)
    assert restore_backup(engine, tmp_path / "backup", replace=True) == summary == check_backup(tmp_path / "backup")
    assert client.get("/api/shop/tools").json() == before
    assert client.get("/api/shop/cuts").json()["cuts"] == []
    add(client, owner, "cuts", CUT)
    engine.dispose()


def test_a_database_from_before_the_lists_gets_them_and_keeps_its_sheets(settings: Settings) -> None:
    from alembic import command  # noqa: PLC0415 - twelve megabytes, for this test alone
    from alembic.config import Config  # noqa: PLC0415

    engine = engine_for(settings.database, settings.data)
    config = Config()
    config.set_main_option("script_location", str(migrating._SCRIPTS))
    with alone(engine) as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "0001")
        connection.execute(
            text("INSERT INTO sheets (id, secret_digest, revision, bytes, created_at) VALUES ('a', :d, 0, 0, 0)"),
            {"d": b"0" * 32},
        )
    migrating.migrate(engine)
    with reading(engine) as connection:
        assert connection.execute(text("SELECT count(*) FROM sheets")).scalar() == 1
        assert connection.execute(text("SELECT count(*) FROM shop_entries")).scalar() == 0
    engine.dispose()


def test_whoever_runs_the_server_sees_exports_and_gives_away_the_lists(
    client: TestClient,
    owner: Owner,
    store: Store,
    settings: Settings,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setenv("CHUCKSIDE_DATA", str(settings.data))
    monkeypatch.setenv("CHUCKSIDE_DATABASE", settings.database)
    add(client, owner, "tools", TOOL)
    assert main(["shop"]) == 0
    assert "1 of 1000 tools, 0 removed" in capsys.readouterr().out
    assert main(["export", "shop", str(tmp_path / "shop.json")]) == 0
    assert json.loads((tmp_path / "shop.json").read_text())["tools"][0]["texts"] == TOOL
    assert main(["shop", "--new-owner"]) == 0
    assert client.post("/api/shop/tools", json=document("tools", TOOL), headers=owner).status_code == 201
    capsys.readouterr()
    assert main(["shop", "--new-owner", "--sure"]) == 0
    secret = capsys.readouterr().out.strip().rpartition("/")[2]
    assert client.post("/api/shop/tools", json=document("tools", TOOL), headers=owner).status_code == 403
    add(client, {"Authorization": f"Bearer {secret}"}, "tools", TOOL)
