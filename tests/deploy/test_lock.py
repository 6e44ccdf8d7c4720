"""The lock files: complete, pinned, hashed, and what pyproject.toml asks for."""

import re
import tomllib
from pathlib import Path

import pytest
from packaging.markers import Marker
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from deploy.environment import ROOT

PYTHONS = ("3.11", "3.12", "3.13", "3.14")
RUN, CHECK = ROOT / "deploy" / "requirements.lock", ROOT / "deploy" / "requirements-check.lock"
BENCH = ROOT / "deploy" / "requirements-bench.lock"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
ASKED = {
    RUN: PROJECT["dependencies"],
    CHECK: PROJECT["dependencies"] + PROJECT["optional-dependencies"]["test"],
    BENCH: [each for name in ("test", "bench") for each in PROJECT["optional-dependencies"][name]],
}
HASH = re.compile(r"--hash=sha256:[0-9a-f]{64}")

each_lock = pytest.mark.parametrize("path", [RUN, CHECK, BENCH], ids=lambda path: path.name)


def entries(text: str) -> list[str]:
    """Return the lock's entries, each with its continuation lines joined and without comments."""
    lines = [line for line in text.splitlines() if not line.lstrip().startswith("#")]
    return [entry for entry in "\n".join(lines).replace("\\\n", " ").splitlines() if entry.strip()]


def pins(text: str) -> list[Requirement]:
    return [Requirement(HASH.sub("", entry).strip()) for entry in entries(text)]


def applies(marker: Marker | None, python: str) -> bool:
    values = {"python_version": python, "python_full_version": f"{python}.0", "extra": ""}
    return marker is None or marker.evaluate(values)


@each_lock
@pytest.mark.parametrize("python", PYTHONS)
def test_every_dependency_has_exactly_one_fitting_version(path: Path, python: str) -> None:
    locked = pins(path.read_text(encoding="utf-8"))
    for asked in map(Requirement, ASKED[path]):
        name = canonicalize_name(asked.name)
        found = [pin for pin in locked if canonicalize_name(pin.name) == name and applies(pin.marker, python)]
        assert len(found) == 1, f"{asked.name} on Python {python}: {found}"
        (version,) = (each.version for each in found[0].specifier)
        assert asked.specifier.contains(version), f"{asked} is locked as {version}"


@each_lock
def test_every_entry_is_pinned_and_has_a_hash(path: Path) -> None:
    for entry in entries(path.read_text(encoding="utf-8")):
        assert HASH.search(entry), entry
        (only,) = Requirement(HASH.sub("", entry).strip()).specifier
        assert only.operator == "==", entry


@each_lock
def test_no_lock_names_an_index_or_a_place_on_a_machine(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert "://" not in text
    assert not re.search(r"^\s*(--(index|extra-index|find-links)|-[ief]\b)", text, re.MULTILINE)
    assert not re.search(r"(^|\s)/\w", text)


def test_the_checks_run_with_the_versions_that_are_served() -> None:
    served = {str(pin) for pin in pins(RUN.read_text(encoding="utf-8"))}
    assert served <= {str(pin) for pin in pins(CHECK.read_text(encoding="utf-8"))}
