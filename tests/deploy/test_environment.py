"""The private environment: found again, made anew when it must be, never taken for whole when it is not."""

import base64
import hashlib
import shutil
import subprocess
import sys
import sysconfig
import threading
import zipfile
from pathlib import Path

import pytest

from deploy import environment
from deploy.exclusive import exclusive
from deploy.messages import SetupError

PATIENCE = 30.0  # seconds until a hanging test fails; nothing waits for it to pass


class Installer:
    """Stands in for the installing: makes what looks like an environment and counts how often it was asked."""

    def __init__(self, fails_with: BaseException | None = None) -> None:
        self.calls = 0
        self.fails_with = fails_with

    def __call__(self, directory: Path, lock: Path, compiled: bool) -> None:
        self.calls += 1
        self.compiled = compiled
        python = environment.python_of(directory)
        python.parent.mkdir(parents=True)
        python.touch(mode=0o755)
        (directory / lock.name).write_bytes(lock.read_bytes())
        if self.fails_with:
            raise self.fails_with


@pytest.fixture
def installer(monkeypatch: pytest.MonkeyPatch) -> Installer:
    stand_in = Installer()
    monkeypatch.setattr(environment, "install", stand_in)
    return stand_in


@pytest.fixture
def lock(tmp_path: Path) -> Path:
    path = tmp_path / "some.lock"
    path.write_text("one==1\n")
    return path


@pytest.mark.parametrize("compiled", [True, False])
def test_modules_are_compiled_where_that_is_asked(
    installer: Installer, lock: Path, tmp_path: Path, compiled: bool
) -> None:
    environment.ensure("serve", lock, [tmp_path / "home"], compiled=compiled)
    assert installer.compiled == compiled


def test_the_second_start_makes_nothing(installer: Installer, lock: Path, tmp_path: Path) -> None:
    first = environment.ensure("serve", lock, [tmp_path / "home"])
    assert environment.ensure("serve", lock, [tmp_path / "home"]) == first
    assert installer.calls == 1


def test_a_changed_lock_makes_a_new_environment_and_drops_the_old(
    installer: Installer, lock: Path, tmp_path: Path
) -> None:
    old = environment.ensure("serve", lock, [tmp_path / "home"])
    lock.write_text("one==2\n")
    new = environment.ensure("serve", lock, [tmp_path / "home"])
    assert installer.calls == 2
    assert new.exists()
    assert not old.exists()


def test_environments_of_other_purposes_and_other_pythons_are_left_alone(
    installer: Installer, lock: Path, tmp_path: Path
) -> None:
    check = environment.ensure("check", lock, [tmp_path])
    other_python = tmp_path / "serve" / "cpython3.99-abcdef-0123456789ab"
    other_python.mkdir(parents=True)
    environment.ensure("serve", lock, [tmp_path])
    assert check.exists()
    assert other_python.exists()
    assert installer.calls == 2


def test_the_key_tells_pythons_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    here = environment.environment_key(b"lock")
    monkeypatch.setattr(sysconfig, "get_config_var", lambda _: ".cpython-399-another-machine.so")
    assert environment.environment_key(b"lock") != here


def test_an_environment_that_a_crash_left_half_made_is_made_anew(
    installer: Installer, lock: Path, tmp_path: Path
) -> None:
    half_made = tmp_path / "serve" / f"{environment.environment_key(lock.read_bytes())}-01234567"
    python = environment.python_of(half_made)
    python.parent.mkdir(parents=True)
    python.touch(mode=0o755)
    assert environment.ensure("serve", lock, [tmp_path]) != python
    assert installer.calls == 1
    assert not half_made.exists()


def test_an_environment_whose_python_is_gone_is_made_anew(installer: Installer, lock: Path, tmp_path: Path) -> None:
    environment.ensure("serve", lock, [tmp_path]).unlink()
    environment.ensure("serve", lock, [tmp_path])
    assert installer.calls == 2


@pytest.mark.parametrize("failure", [SetupError("no network"), KeyboardInterrupt(), OSError("disk full")])
def test_a_failed_or_interrupted_setup_leaves_no_environment(
    failure: BaseException, monkeypatch: pytest.MonkeyPatch, lock: Path, tmp_path: Path
) -> None:
    monkeypatch.setattr(environment, "install", Installer(failure))
    with pytest.raises(type(failure)):
        environment.ensure("serve", lock, [tmp_path])
    assert [path.name for path in (tmp_path / "serve").iterdir()] == ["lock"]


def test_a_read_only_checkout_falls_back_to_the_next_home(installer: Installer, lock: Path, tmp_path: Path) -> None:
    not_a_folder = tmp_path / "file"
    not_a_folder.touch()
    python = environment.ensure("serve", lock, [not_a_folder / ".venv", tmp_path / "cache"])
    assert python.is_relative_to(tmp_path / "cache")
    assert installer.calls == 1


def test_a_machine_without_a_writable_home_is_told_what_was_tried(lock: Path, tmp_path: Path) -> None:
    not_a_folder = tmp_path / "file"
    not_a_folder.touch()
    with pytest.raises(SetupError, match=r"cannot write to .*file"):
        environment.ensure("serve", lock, [not_a_folder / ".venv"])


def test_two_starts_at_once_make_one_environment(installer: Installer, lock: Path, tmp_path: Path) -> None:
    starts = [threading.Thread(target=environment.ensure, args=("serve", lock, [tmp_path])) for _ in range(4)]
    for start in starts:
        start.start()
    for start in starts:
        start.join(PATIENCE)
    assert installer.calls == 1


def test_the_lock_lets_a_second_holder_in_only_after_the_first(tmp_path: Path) -> None:
    path, waiting, entered = tmp_path / "lock", threading.Event(), threading.Event()

    def second() -> None:
        with exclusive(path, on_wait=waiting.set):
            entered.set()

    thread = threading.Thread(target=second)
    with exclusive(path):
        thread.start()
        assert waiting.wait(PATIENCE)
        assert not entered.is_set()
    thread.join(PATIENCE)
    assert entered.is_set()


def test_the_lock_of_a_killed_holder_is_free_again(tmp_path: Path) -> None:
    script = (
        "import sys; from pathlib import Path; from deploy.exclusive import exclusive\n"
        "with exclusive(Path(sys.argv[1])): print('held', flush=True); sys.stdin.read()"
    )
    command = [sys.executable, "-c", script, str(tmp_path / "lock")]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=environment.ROOT) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline().strip() == b"held"
        holder.kill()
    waits: list[str] = []
    with exclusive(tmp_path / "lock", on_wait=lambda: waits.append("waited")):
        assert waits == []


@pytest.mark.parametrize(
    ("platform", "environ", "expected"),
    [
        ("linux", {"XDG_CACHE_HOME": "/x"}, Path("/x/chuckside")),
        ("linux", {}, Path.home() / ".cache/chuckside"),
        ("darwin", {}, Path.home() / "Library/Caches/chuckside"),
        ("win32", {"LOCALAPPDATA": "/local"}, Path("/local/chuckside")),
    ],
)
def test_the_cache_stands_where_each_system_keeps_caches(
    platform: str, environ: dict[str, str], expected: Path
) -> None:
    assert environment.cache_directory(environ, platform) == expected


@pytest.fixture
def wheel(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a real, tiny package beside an index of nothing else (binary distribution format 1.0)."""
    path = tmp_path / "wheels" / "tiny-1.0-py3-none-any.whl"
    path.parent.mkdir()
    files = {
        "tiny.py": "VALUE = 42\n",
        "tiny-1.0.dist-info/METADATA": "Metadata-Version: 2.1\nName: tiny\nVersion: 1.0\n",
        "tiny-1.0.dist-info/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    with zipfile.ZipFile(path, "w") as archive:
        for name, text in files.items():
            archive.writestr(name, text)
        record = "".join(f"{name},sha256={_record_hash(text)},{len(text)}\n" for name, text in files.items())
        archive.writestr("tiny-1.0.dist-info/RECORD", record + "tiny-1.0.dist-info/RECORD,,\n")
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.setenv("PIP_FIND_LINKS", str(path.parent))
    return path


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[str | Path]]:
    """A bare environment and the pip for it, made once for all that install into a copy."""
    directory = tmp_path_factory.mktemp("made") / "bare"
    return directory, environment._create(directory)


@pytest.fixture
def bare(made: tuple[Path, list[str | Path]], monkeypatch: pytest.MonkeyPatch) -> None:
    original, pip = made

    def copied(directory: Path) -> list[str | Path]:
        shutil.copytree(original, directory, symlinks=True)
        here, there = environment.python_of(original), environment.python_of(directory)
        return [there if each == here else each for each in pip]

    monkeypatch.setattr(environment, "_create", copied)


def _record_hash(text: str) -> str:
    return base64.urlsafe_b64encode(hashlib.sha256(text.encode()).digest()).rstrip(b"=").decode()


@pytest.mark.usefixtures("bare")
def test_a_package_with_the_locked_hash_is_installed_and_usable(wheel: Path, lock: Path, tmp_path: Path) -> None:
    lock.write_text(f"tiny==1.0 --hash=sha256:{hashlib.sha256(wheel.read_bytes()).hexdigest()}\n")
    python = environment.ensure("serve", lock, [tmp_path / "home"])
    assert list(python.parents[1].rglob("tiny.*.pyc"))  # the first start need not compile
    done = subprocess.run([python, "-c", "import tiny; print(tiny.VALUE)"], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "42"


@pytest.mark.usefixtures("bare")
def test_a_package_with_another_hash_is_refused(wheel: Path, lock: Path, tmp_path: Path) -> None:
    assert wheel.exists()
    lock.write_text(f"tiny==1.0 --hash=sha256:{'0' * 64}\n")
    with pytest.raises(SetupError, match="Installing the packages failed"):
        environment.ensure("serve", lock, [tmp_path / "home"])
    assert [path.name for path in (tmp_path / "home" / "serve").iterdir()] == ["lock"]
