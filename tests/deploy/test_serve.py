"""The serving command: what it accepts, what it says, what it refuses."""

import ast
import runpy
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from deploy import environment, network, serve
from deploy.messages import SetupError

COMMANDS = ("serve.py", "check.py")


@pytest.fixture
def no_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let no test set up a real environment."""

    def refuse(*_: object) -> Path:
        raise AssertionError("an environment was asked for")

    monkeypatch.setattr(environment, "ensure", refuse)


def test_without_options_every_network_is_served_on_port_8000(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(serve.DATA_VARIABLE, raising=False)
    options = serve.parser().parse_args([])
    assert (options.host, options.port, options.data, options.workers) == ("0.0.0.0", 8000, None, 1)


def test_all_options_are_read(tmp_path: Path) -> None:
    given = ["--host", "127.0.0.1", "--port", "8123", "--data", str(tmp_path), "--workers", "3"]
    options = serve.parser().parse_args(given)
    assert (options.host, options.port, options.data, options.workers) == ("127.0.0.1", 8123, tmp_path, 3)


def test_the_data_folder_may_come_from_the_environment(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(serve.DATA_VARIABLE, str(tmp_path))
    assert serve.parser().parse_args([]).data == tmp_path


@pytest.mark.parametrize(
    "given",
    [
        "--port=0",
        "--port=65536",
        "--port=-1",
        "--port=eighty",
        "--port=²",
        "--workers=0",
        "--workers=1.5",
        "--workers=",
    ],
)
def test_a_number_out_of_range_is_refused_with_the_range(given: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        serve.parser().parse_args([given])
    assert "is not a whole number from 1 to" in capsys.readouterr().err


@pytest.mark.usefixtures("no_environment")
def test_a_port_in_use_is_one_line_with_what_to_do(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        assert serve.main(["--host", "127.0.0.1", "--port", str(port)]) == 1
    said = capsys.readouterr().out.splitlines()
    assert len(said) == 1
    assert said[0].startswith(f"Port {port} is in use by another program")
    assert "--port" in said[0]


@pytest.mark.usefixtures("no_environment")
def test_an_address_of_another_machine_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert serve.main(["--host", "192.0.2.77"]) == 1  # a documentation address, RFC 5737
    assert capsys.readouterr().out == "--host 192.0.2.77 is not an address of this machine.\n"


def test_the_data_folder_is_made_with_its_parents(tmp_path: Path) -> None:
    folder = tmp_path / "shop" / "saved"
    assert serve.data_directory(folder) == folder
    assert folder.is_dir()


def test_a_data_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(SetupError, match="cannot make that folder"):
        serve.data_directory(tmp_path / "file" / "saved")


def test_the_server_is_told_where_to_listen_and_how_many_processes(tmp_path: Path) -> None:
    options = serve.parser().parse_args(["--host", "127.0.0.1", "--port", "8123", "--workers", "3"])
    command = [str(part) for part in serve.server_command(tmp_path / "python", options)]
    assert command[:3] == [str(tmp_path / "python"), "-m", "server"]
    assert " --host 127.0.0.1 --port 8123 --workers 3 " in f"{' '.join(command)} "


def test_compiled_modules_are_kept_where_they_can_be_written(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("PYTHONPYCACHEPREFIX", raising=False)
    kept = serve.compiled_beside(tmp_path / "bin" / "python")
    assert kept == {"PYTHONPYCACHEPREFIX": str(tmp_path / "compiled")}
    monkeypatch.setenv("PYTHONPYCACHEPREFIX", "/elsewhere")
    assert serve.compiled_beside(tmp_path / "bin" / "python") == {"PYTHONPYCACHEPREFIX": "/elsewhere"}


def test_the_server_puts_the_phones_address_into_links(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv(serve.ADDRESS_VARIABLE, raising=False)
    reach = network.Reach("http://localhost:8000", "http://192.168.1.20:8000")
    told = serve.told_to_server(reach, tmp_path)
    assert told == {serve.ADDRESS_VARIABLE: "http://192.168.1.20:8000", serve.DATA_VARIABLE: str(tmp_path)}


def test_a_proxys_address_is_not_replaced(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(serve.ADDRESS_VARIABLE, "https://chuckside.local")
    assert serve.told_to_server(network.Reach("http://localhost:8000", "http://192.168.1.20:8000"), None) == {}


def test_the_announcement_has_both_addresses_and_the_code(capfd: pytest.CaptureFixture[str]) -> None:
    phone = "http://192.168.1.20:8000"
    serve.announce(Path(sys.executable), network.Reach("http://localhost:8000", phone), Path("/saved"))
    said = capfd.readouterr().out
    assert "http://localhost:8000" in said
    assert phone in said
    assert str(Path("/saved")) in said
    assert "█" in said or "type the address" in said


def test_the_announcement_says_why_no_phone_can_reach_it(capfd: pytest.CaptureFixture[str]) -> None:
    serve.announce(Path(sys.executable), network.reach("127.0.0.1", 8000), None)
    said = capfd.readouterr().out
    assert "http://127.0.0.1:8000" in said
    assert "127.0.0.1 answers this machine alone; start with --host 0.0.0.0" in said
    assert "█" not in said


@pytest.mark.parametrize("name", COMMANDS)
def test_an_older_python_is_told_so(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 8, 18, "final", 0))
    with pytest.raises(SystemExit, match=r"needs Python 3\.11 or newer; this is Python .*deploy/" + name):
        runpy.run_path(str(environment.ROOT / "deploy" / name), run_name="__main__")


@pytest.mark.parametrize("name", COMMANDS)
def test_an_older_python_can_read_the_command_to_its_end(name: str) -> None:
    ast.parse((environment.ROOT / "deploy" / name).read_text(encoding="utf-8"), feature_version=(3, 7))


@pytest.mark.parametrize("name", COMMANDS)
def test_the_commands_need_nothing_but_the_standard_library(name: str) -> None:
    command = [sys.executable, "-I", "-S", str(environment.ROOT / "deploy" / name), "--help"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(f"usage: deploy/{name}")
