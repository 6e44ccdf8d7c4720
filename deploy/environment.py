"""A private Python environment per purpose, made from a hash-pinned lock on first use and found again afterwards.

It is known by the lock's content and the Python that runs, so a changed lock makes a new one. Every making has a
directory of its own, and a note that names the directory is written last: what a crash left half-made is never taken
for whole, and what the programs of a killed start still write spoils nothing. An operating-system lock, which ends
with its process, keeps two starts apart.
"""

import hashlib
import importlib.util
import os
import secrets
import shutil
import sys
import sysconfig
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from deploy.exclusive import exclusive
from deploy.messages import SetupError, say
from deploy.process import environ_for_children, run_helper, succeeds

ROOT = Path(__file__).resolve().parent.parent
PIP_OPTIONS = (
    *("--require-hashes", "--no-deps", "--only-binary", ":all:"),
    *("--no-input", "--quiet", "--progress-bar", "off"),
)
ADVICE_WITHOUT_PIP = (
    "This Python has neither pip nor ensurepip. Install the one package that brings them, then start again:\n"
    "    sudo apt install python3-venv"
)


def ensure(purpose: str, lock: Path, homes: Sequence[Path], *, compiled: bool = True) -> Path:
    """Return the Python of the environment for `purpose`, which is made first when it is not there.

    `homes` are the directories that may hold environments, best first; the first that can be written to is used.
    `compiled` modules stand ready for the first start; without it each is compiled when it is first imported, which
    is less work where most of them never are. Raises SetupError when the environment cannot be made.
    """
    key = environment_key(lock.read_bytes())
    for home in homes:
        if python := finished(home / purpose, key):
            return python
    place = _writable(homes) / purpose
    place.mkdir(exist_ok=True)
    with exclusive(place / "lock", on_wait=lambda: say("Another start is setting this up; waiting for it.")):
        # The other start may have made it meanwhile.
        return finished(place, key) or _make(place, key, purpose, lock, compiled)


def default_homes() -> list[Path]:
    """Return where environments may live: inside the checkout, else in the user's cache."""
    cache = cache_directory(os.environ, sys.platform)
    return [ROOT / ".venv", *([cache] if cache else [])]


def cache_directory(environ: Mapping[str, str], platform: str) -> Path | None:
    """Return Chuckside's directory in the user's cache, or None for a user without a home."""
    named = environ.get("LOCALAPPDATA" if platform == "win32" else "XDG_CACHE_HOME")
    if named:
        return Path(named) / "chuckside"
    try:
        home = Path.home()
    except RuntimeError:
        return None
    return home / ("Library/Caches" if platform == "darwin" else ".cache") / "chuckside"


def environment_key(lock: bytes) -> str:
    """Return a name for this lock under this Python, which starts with the Python's part."""
    return f"{_python_key()}-{hashlib.sha256(lock).hexdigest()[:12]}"


def python_of(directory: Path) -> Path:
    """Return the path of an environment's Python."""
    return directory / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")


def finished(place: Path, key: str) -> Path | None:
    """Return the Python of an environment that was made to its end, where the one it was made from is still there."""
    try:
        directory = place / _note(place, key).read_text(encoding="utf-8")
    except OSError:
        return None
    python = python_of(directory)
    return python if os.access(python, os.X_OK) else None


def _note(place: Path, key: str) -> Path:
    return place / f"{key}.finished"


def _python_key() -> str:
    suffix = sysconfig.get_config_var("EXT_SUFFIX") or sys.platform
    version = f"{sys.implementation.name}{sys.version_info.major}.{sys.version_info.minor}"
    return f"{version}-{hashlib.sha256(str(suffix).encode()).hexdigest()[:6]}"


def _writable(homes: Sequence[Path]) -> Path:
    for home in homes:
        try:
            home.mkdir(parents=True, exist_ok=True)
            with tempfile.TemporaryFile(dir=home):
                return home
        except OSError:
            continue
    tried = " or ".join(map(str, homes))
    raise SetupError(f"No place to set up the private Python environment: cannot write to {tried}.")


def _make(place: Path, key: str, purpose: str, lock: Path, compiled: bool) -> Path:
    directory = place / f"{key}-{secrets.token_hex(4)}"
    say(f"Setting up a private Python environment to {purpose} (once; needs the network, takes a minute or so):")
    say(f"    {directory}")
    try:
        install(directory, lock, compiled)
    except BaseException:
        shutil.rmtree(directory, ignore_errors=True)
        raise
    _finish(directory, _note(place, key))
    return python_of(directory)


def _finish(directory: Path, note: Path) -> None:
    """Write the note that the directory is whole, and remove what the same Python had before."""
    if sys.platform != "win32":
        os.sync()  # the note must not outlive a power cut that the environment does not
    draft = directory / note.name
    draft.write_text(directory.name, encoding="utf-8")
    draft.replace(note)
    for other in directory.parent.glob(f"{_python_key()}-*"):
        if other in (directory, note):
            continue
        if other.is_dir():
            shutil.rmtree(other, ignore_errors=True)  # on Windows what is in use stays until next time
        else:
            other.unlink(missing_ok=True)


def install(directory: Path, lock: Path, compiled: bool) -> None:
    """Make the environment and install what the lock names, `compiled` or not, and nothing whose hash it does not name.

    Raises SetupError when a package cannot be had or has another hash.
    """
    pip = _create(directory)
    if run_helper([*pip, "install", *PIP_OPTIONS, "--compile" if compiled else "--no-compile", "-r", lock]) != 0:
        raise SetupError(
            "Installing the packages failed; the lines above say why. The first start needs the network, "
            "a 64-bit system and a Python that the packages are published for (3.11 to 3.14)."
        )


def _create(directory: Path) -> list[str | Path]:
    """Make a bare environment and return the command that runs a pip for it."""
    if importlib.util.find_spec("venv") is None:
        raise SetupError(ADVICE_WITHOUT_PIP)
    import venv  # noqa: PLC0415 - Debian's smallest Python comes without it

    with_pip = importlib.util.find_spec("ensurepip") is not None
    venv.EnvBuilder(with_pip=with_pip, symlinks=sys.platform != "win32").create(directory)
    python = python_of(directory)
    return [python, "-I", "-m", "pip"] if with_pip else _pip_without_ensurepip(directory, python)


def _pip_without_ensurepip(directory: Path, python: Path) -> list[str | Path]:
    """Return a pip of the Python that runs or of the one beneath it; else bring the one in Debian's signed package."""
    for owner in (sys.executable, getattr(sys, "_base_executable", sys.executable)):
        pip: list[str | Path] = [owner, "-m", "pip", "--python", python]
        if succeeds([*pip, "--version"], environ=environ_for_children()):
            return pip
    with tempfile.TemporaryDirectory(dir=directory) as folder:
        wheel = _debian_pip_wheel(Path(folder))
        if wheel is None or not succeeds([python, "-I", wheel / "pip", "install", "--no-index", wheel]):
            raise SetupError(ADVICE_WITHOUT_PIP)
    return [python, "-I", "-m", "pip"]


def _debian_pip_wheel(folder: Path) -> Path | None:
    """Return pip's wheel out of Debian's package, whose hash apt checks against its signed lists; None without apt.

    Neither downloading nor unpacking a package needs root; only lists that were never fetched do.
    """
    for prepare in ([], ["apt-get", "update"]):
        if prepare and not (_is_root() and succeeds(prepare)):
            break
        if _download_debian_package("python3-pip-whl", folder):
            return next(folder.glob("**/pip-*.whl"), None)
    return None


def _download_debian_package(name: str, folder: Path) -> bool:
    fetch = 'cd "$1" && apt-get download "$2" && dpkg-deb -x ./"$2"_*.deb .'
    return succeeds(["sh", "-c", fetch, "sh", folder, name])


def _is_root() -> bool:
    return sys.platform != "win32" and os.geteuid() == 0
