"""Static files are kept by a browser exactly as long as they do not change."""

from __future__ import annotations

import json
import re
from pathlib import Path

from starlette.testclient import TestClient

from server.assets import Addresses, joined, version_of
from server.settings import STATIC


def test_a_page_names_its_files_with_their_version_and_they_may_be_kept(client: TestClient) -> None:
    linked = re.findall(r'(?:src|href)="(/static/[^"]+)"', client.get("/dish").text)
    assert linked
    for address in linked:
        answer = client.get(address)
        assert answer.status_code == 200
        assert "immutable" in answer.headers["cache-control"]


def test_the_script_of_a_language_is_kept_for_as_long_as_it_says_the_same(client: TestClient) -> None:
    page = client.get("/dish", headers={"Accept-Language": "de"}).text
    named = re.findall(r'src="(/static/app[^"]+)"', page)
    assert [each.partition("?")[0] for each in named] == ["/static/app-de.js"]
    answer = client.get(named[0])
    assert '"Try again.": "Noch einmal versuchen."' in answer.text
    assert "immutable" in answer.headers["cache-control"]
    assert client.get("/static/app-de.js").headers["cache-control"] == "no-cache"


def test_the_worker_finds_its_words_before_the_script_that_starts_it(client: TestClient) -> None:
    page = client.get("/dish", headers={"Accept-Language": "de"}).text
    named = re.findall(r'data-stay="(/static/stay-\w+\.js\?v=\w+)"', page)
    words = re.search(r"\.\.\.(\{.*\}) \};\n", client.get(named[0]).text)
    assert words
    assert json.loads(words[1])["No network"] == "Kein Netz"


def test_a_file_asked_for_without_its_version_is_asked_for_again(client: TestClient) -> None:
    assert client.get("/static/page.css").headers["cache-control"] == "no-cache"


def test_another_content_has_another_address(tmp_path: Path) -> None:
    (tmp_path / "page.css").write_text("a{}")
    before = Addresses(tmp_path).asset("page.css")
    (tmp_path / "page.css").write_text("b{}")
    assert Addresses(tmp_path).asset("page.css") != before


def test_imported_styles_are_sent_within_the_sheet_and_change_its_address(tmp_path: Path) -> None:
    (tmp_path / "page.css").write_text('@import "sketch.css";\nb{}')
    (tmp_path / "sketch.css").write_text("a{}")
    before = version_of(tmp_path / "page.css")
    assert joined(tmp_path / "page.css") == "a{}\nb{}"
    (tmp_path / "sketch.css").write_text("i{}")
    assert version_of(tmp_path / "page.css") != before


def test_what_is_imported_for_paper_holds_on_paper_alone(tmp_path: Path) -> None:
    (tmp_path / "sheet.css").write_text('@import "print.css" print;\nb{}')
    (tmp_path / "print.css").write_text("a{}\n")
    assert joined(tmp_path / "sheet.css") == "@media print {\na{}\n}\n\nb{}"


def test_the_styles_that_are_sent_import_nothing(client: TestClient) -> None:
    sent = client.get("/static/page.css").text
    assert "@import" not in sent
    assert ".sketch-legend{" in sent


def test_what_only_a_reader_of_the_source_needs_is_not_sent_but_what_others_made_is_sent_as_it_came(
    client: TestClient,
) -> None:
    script = client.get("/static/app.js")
    assert script.headers["content-type"] == "text/javascript; charset=utf-8"
    assert [line for line in script.text.splitlines() if line.lstrip().startswith("//")] == []
    vendored = next((STATIC / "vendor").glob("htmx*.js"))
    assert client.get(f"/static/vendor/{vendored.name}").text == vendored.read_text("utf-8")
