"""The examples of installing: container, service and proxy agree with the project and with one another."""

import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest

from deploy import serve
from deploy.environment import ROOT

DEPLOY = ROOT / "deploy"


def dockerfile() -> list[list[str]]:
    """Return the Dockerfile's instructions, each split into its words, comments dropped."""
    text = re.sub(r"^\s*#.*\n", "", (DEPLOY / "Dockerfile").read_text(encoding="utf-8"), flags=re.MULTILINE)
    return [line.split() for line in text.replace("\\\n", " ").splitlines() if line.strip()]


def service() -> dict[str, str]:
    text = (DEPLOY / "chuckside.service").read_text(encoding="utf-8")
    return dict(line.split("=", 1) for line in text.splitlines() if "=" in line and not line.startswith("#"))


def test_the_container_copies_only_what_is_there_and_let_through() -> None:
    let_through = [line[1:] for line in (ROOT / ".dockerignore").read_text("utf-8").splitlines() if line[:1] == "!"]
    copied = [words[1] for words in dockerfile() if words[0] == "COPY" and not words[1].startswith("--")]
    assert copied
    for source in copied:
        assert (ROOT / source).exists(), source
        assert source in let_through


def test_the_container_does_not_run_as_root_and_is_watched() -> None:
    last = {words[0]: words[1:] for words in dockerfile()}
    assert last["USER"] not in ([], ["root"], ["0"])
    assert "/health" in " ".join(last["HEALTHCHECK"])


def test_the_container_installs_only_hashed_packages() -> None:
    (installing,) = (words for words in dockerfile() if words[0] == "RUN" and "install" in words and "pip" in words)
    assert {"--require-hashes", "--only-binary"} <= set(installing)


def test_the_container_starts_the_same_application_as_the_command() -> None:
    command = " ".join({words[0]: words[1:] for words in dockerfile()}["CMD"])
    assert '"-m", "server"' in command  # what deploy/serve.py runs, too


def test_the_service_starts_with_options_that_the_command_has() -> None:
    python, script, *options = shlex.split(service()["ExecStart"])
    assert python == "/usr/bin/python3"
    assert script.endswith("/deploy/serve.py")
    assert serve.parser().parse_args(options).workers == 1


@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="the service manager is not on this machine")
def test_the_service_manager_finds_nothing_wrong_with_the_units(tmp_path: Path) -> None:
    names = ["chuckside.service", "chuckside-backup.service", "chuckside-backup.timer"]
    for name in names:
        written = (DEPLOY / name).read_text(encoding="utf-8")
        (tmp_path / name).write_text(written.replace("/opt/chuckside", str(DEPLOY.parent)), encoding="utf-8")
    command = ["systemd-analyze", "verify", *(str(tmp_path / name) for name in names)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    said = [line for line in done.stderr.splitlines() if "chuckside" in line]
    assert (done.returncode, said) == (0, [])


@pytest.mark.parametrize("setting", ["DynamicUser", "NoNewPrivileges", "PrivateTmp", "ProtectHome"])
def test_the_service_is_fenced_in(setting: str) -> None:
    assert service()[setting] == "yes"


def test_the_proxy_leads_to_where_the_service_listens() -> None:
    options = serve.parser().parse_args(shlex.split(service()["ExecStart"])[2:])
    proxy = (DEPLOY / "Caddyfile").read_text(encoding="utf-8")
    assert f"reverse_proxy {options.host}:{options.port}" in proxy


def test_the_container_runs_as_lean_as_the_command() -> None:
    said = {word for words in dockerfile() if words[0] == "ENV" for word in words[1:]}
    assert {f"{name}={value}" for name, value in serve.COMPACT.items()} <= said
