"""Finds PostgreSQL's programs for the tests of saved work, or installs Debian's."""

import os
import re
import shutil
import sys
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from deploy import debian
from deploy.messages import SetupError
from deploy.process import succeeds

VARIABLE = "CHUCKSIDE_POSTGRESQL"
PROGRAMS = ("initdb", "pg_ctl", "postgres")
PLACES = {
    "linux": ("/usr/lib/postgresql/*/bin", "/usr/pgsql-*/bin"),
    "darwin": ("/opt/homebrew/opt/postgresql@*/bin", "/usr/local/opt/postgresql@*/bin"),
}
# Debian's package makes and starts a server of its own, unless this file is there beforehand.
DEBIAN_SETTING = Path("/etc/postgresql-common/createcluster.d/chuckside.conf")


def ensure() -> Path:
    """Return the folder of PostgreSQL's programs, installed first where Debian's packages and root allow.

    Raises SetupError, which says what to install, when there is none.
    """
    named = os.environ.get(VARIABLE)
    if named:
        return _named(Path(named))
    found = find()
    if found is None and debian.can_install():
        with _without_a_server(DEBIAN_SETTING):
            debian.install("PostgreSQL", ["postgresql"], advice())
        found = find()
    if found is None:
        raise SetupError(f"No PostgreSQL for the tests of saved work. {advice()}")
    return found


def find() -> Path | None:
    """Return the folder of the newest installed programs that run, or None."""
    return next((folder for folder in candidates(os.environ, sys.platform) if _is_whole(folder)), None)


def candidates(environ: Mapping[str, str], platform: str) -> Iterator[Path]:
    """Yield where this platform keeps PostgreSQL's programs, those on the command path first."""
    on_path = shutil.which("initdb", path=environ.get("PATH"))
    if on_path:
        yield Path(on_path).resolve().parent
    for pattern in PLACES.get(platform, ()):
        yield from newest_first(Path("/").glob(pattern.removeprefix("/")))


def newest_first(folders: Iterable[Path]) -> list[Path]:
    """Return folders that bear a version in their names, the newest first.

    >>> [str(each.parent.name) for each in newest_first([Path("pg/9.6/bin"), Path("pg/15/bin"), Path("pg/16/bin")])]
    ['16', '15', '9.6']
    """
    return sorted(folders, key=lambda folder: [int(number) for number in re.findall(r"\d+", str(folder))], reverse=True)


def advice() -> str:
    """Return what to do to have PostgreSQL here."""
    if shutil.which("apt-get"):
        return f"Install it: sudo apt install postgresql. Or name the folder of its programs in {VARIABLE}."
    return f"Install PostgreSQL 13 or newer, or name the folder of its programs in {VARIABLE}."


def _named(folder: Path) -> Path:
    if not _is_whole(folder):
        raise SetupError(f"{VARIABLE} names {folder}, where there is no {' and '.join(PROGRAMS)} that runs.")
    return folder.absolute()


def _is_whole(folder: Path) -> bool:
    return all(succeeds([folder / program, "--version"]) for program in PROGRAMS)


@contextmanager
def _without_a_server(setting: Path) -> Iterator[None]:
    setting.parent.mkdir(parents=True, exist_ok=True)
    setting.write_text("create_main_cluster = false\n", encoding="utf-8")
    try:
        yield
    finally:
        setting.unlink(missing_ok=True)
