"""The audit of the locked packages: what an index says of them becomes lines, and silence is never taken for well."""

from typing import Any

import pytest

from deploy import audit

# As an index describes the package; the advisory is the one published against its last release (CVE-2013-7459).
WEAK: dict[str, Any] = {
    "info": {"version": "2.6.1"},
    "vulnerabilities": [
        {"id": "PYSEC-2017-94", "summary": None, "link": "", "withdrawn": None},
        {"id": "PYSEC-0000-0", "summary": "a mistake", "withdrawn": "2018-01-01T00:00:00Z"},
    ],
}
WELL: dict[str, Any] = {"info": {"version": "3.1.6"}, "vulnerabilities": []}


def described(name: str) -> dict[str, Any]:
    known: dict[str, dict[str, Any]] = {"pycrypto": WEAK, "jinja2": WELL, "silent": {"info": {"version": "1"}}}
    return known[name]


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(audit, "index_address", lambda: "https://index.example/simple/")
    monkeypatch.setattr(audit, "described_by", lambda _: described)


@pytest.mark.usefixtures("told")
@pytest.mark.parametrize(
    ("lock", "status", "words"),
    [
        ("jinja2==3.1.6\n", 0, "1 packages of a.lock, 0 with something to do."),
        ("pycrypto==2.6.1\n", 1, "pycrypto 2.6.1: PYSEC-2017-94 (no summary)\n"),
        ("jinja2==3.1.5\n", 1, "jinja2 3.1.5: 3.1.6 is newer; not audited\n"),
        ("silent==1\n", 1, "Nothing was audited: 'vulnerabilities'"),
        ("", 1, "0 packages of a.lock"),
    ],
)
def test_each_package_that_wants_something_is_named(
    lock: str, status: int, words: str, tmp_path: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a.lock").write_text(lock, encoding="utf-8")
    assert audit.main([str(tmp_path / "a.lock")]) == status
    assert words in capsys.readouterr().out


def test_the_lock_that_is_served_is_read_whole() -> None:
    names = {name for name, _ in audit.locked(audit.LOCK.read_text(encoding="utf-8"))}
    assert {"fastapi", "uvicorn", "jinja2", "numpy", "shapely", "sqlalchemy", "psycopg", "psycopg-binary"} <= names


def test_an_index_without_https_is_not_asked() -> None:
    with pytest.raises(ValueError, match="not reached by HTTPS"):
        audit.described_by("http://index.example/simple")
