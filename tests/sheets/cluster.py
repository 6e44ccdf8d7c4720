"""A PostgreSQL of the tests' own: a temporary cluster behind a socket in its own folder, gone at the end."""

from __future__ import annotations

import itertools
import os
import pwd
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import psycopg

from deploy import debian, postgresql

QUICK = "-c fsync=off -c shared_buffers=32MB"
_numbers = itertools.count(1)


@dataclass(frozen=True)
class Cluster:
    """A running cluster; each `database` is a fresh one."""

    programs: Path
    folder: Path
    user: str | None
    made: list[str] = field(default_factory=list)

    def database(self) -> str:
        """The URL of a new, empty database."""
        name = f"sheets{next(_numbers)}"
        self.run("createdb", "-h", str(self.folder), "-U", "postgres", name)
        return f"postgresql://postgres@/{name}?host={self.folder}"

    def emptied(self) -> str:
        """The URL of the one database that tests share, with nothing in it."""
        if not self.made:
            self.made.append(self.database())
        with psycopg.connect(self.made[0], autocommit=True) as connection:
            connection.execute("DROP SCHEMA public CASCADE")
            connection.execute("CREATE SCHEMA public")
        return self.made[0]

    def restart(self, how: str) -> None:
        """End it and start it again: `fast` as at an update, `immediate` as after a power cut."""
        self.run("pg_ctl", "-D", str(self.folder / "data"), "-w", "-l", str(self.folder / "log"), "-m", how, "restart")

    def signal(self, which: signal.Signals) -> None:
        """Send a signal to every process of it."""
        first = int((self.folder / "data" / "postmaster.pid").read_text().splitlines()[0])
        children = Path(f"/proc/{first}/task/{first}/children").read_text().split()
        for process in (first, *map(int, children)):
            os.kill(process, which)

    def run(self, program: str, *arguments: str) -> None:
        """Run one of PostgreSQL's programs as the cluster's user; its words are shown when it fails."""
        command = [str(self.programs / program), *arguments]
        done = subprocess.run(
            command, user=self.user, cwd=self.folder, capture_output=True, text=True, check=False, env=_environment()
        )
        assert done.returncode == 0, f"{' '.join(command)}\n{done.stdout}{done.stderr}"


def programs() -> Path:
    """The folder of PostgreSQL's programs; the checking command names it, and installs it where it is missing."""
    return postgresql.ensure()


@contextmanager
def running(settings: str = QUICK) -> Iterator[Cluster]:
    """A cluster for the time of the tests, of another user where we are root: PostgreSQL refuses to run as root."""
    folder = Path(tempfile.mkdtemp(prefix="chuckside-"))
    user = _other_user() if debian.is_root() else None
    if user:
        os.chown(folder, pwd.getpwnam(user).pw_uid, -1)
    cluster = Cluster(programs(), folder, user)
    data = str(folder / "data")
    try:
        cluster.run("initdb", "-D", data, "-U", "postgres", "-A", "trust", "-E", "UTF8", "--no-sync")
        options = f"{settings} -c listen_addresses='' -c max_connections=60 -k {folder}"
        cluster.run("pg_ctl", "-D", data, "-w", "-t", "60", "-l", str(folder / "log"), "-o", options, "start")
        yield cluster
        cluster.run("pg_ctl", "-D", data, "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _other_user() -> str:
    names = {entry.pw_name for entry in pwd.getpwall()}
    return "postgres" if "postgres" in names else "nobody"


def _environment() -> dict[str, str]:
    return {"PATH": os.environ.get("PATH", ""), "LC_ALL": "C.UTF-8", "TZ": "UTC"}
