"""A private Python environment per purpose, made from a hash-pinned lock on first use and found again afterwards.

Its directory is named after the lock's content and the Python that runs, so a changed lock makes a new one. A mark is
written last, so what a crash left half-made is known and made anew. An operating-system lock, which ends with its
process, keeps two starts apart.
"""

import hashlib
import importlib.util
import os
import shutil
import sys
import sysconfig
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from deploy.exclusive import exclusive
from deploy.messages import SetupError, say
from deploy.process import environ_for_children, run, succeeds

ROOT = Path(__file__).resolve().parent.parent
MARK = "complete"
PIP_OPTIONS = ("--require-hashes", "--only-binary", ":all:", "--no-input", "--quiet", "--progress-bar", "off")
ADVICE_WITHOUT_PIP = (
    "This Python has neither pip nor ensurepip. Install the one package that brings them, then start again:\n"
    "    sudo apt install python3-venv"
)


def ensure(purpose: str, lock: Path, homes: Sequence[Path]) -> Path:
    """Return the Python of the environment for `purpose`, which is made first when it is not there.

    `homes` are the directories that may hold environments, best first; the first that can be written to is used.
    Raises SetupError when the environment cannot be made.
    """
    key = environment_key(lock.read_bytes())
    for home in homes:
        if is_complete(home / purpose / key):
            return python_of(home / purpose / key)
    place = _writable(homes) / purpose
    place.mkdir(exist_ok=True)
    directory = place / key
    with exclusive(place / "lock", on_wait=lambda: say("Another start is setting this up; waiting for it.")):
        if not is_complete(directory):  # another start may have made it while this one waited
            _make(directory, purpose, lock)
    return python_of(directory)


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
    """Return a directory name for this lock under this Python, which starts with the Python's part."""
    return f"{_python_key()}-{hashlib.sha256(lock).hexdigest()[:12]}"


def python_of(directory: Path) -> Path:
    """Return the path of an environment's Python."""
    return directory / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")


def is_complete(directory: Path) -> bool:
    """Return whether an environment was made to its end, and the Python that it was made from is still there."""
    return os.access(directory / MARK, os.R_OK) and os.access(python_of(directory), os.X_OK)


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


def _make(directory: Path, purpose: str, lock: Path) -> None:
    say(f"Setting up a private Python environment to {purpose} (once; needs the network, takes a minute or so):")
    say(f"    {directory}")
    _remove(directory)
    try:
        install(directory, lock)
    except BaseException:
        shutil.rmtree(directory, ignore_errors=True)
        raise
    if sys.platform != "win32":
        os.sync()  # the mark must not outlive a power cut that its environment does not
    (directory / MARK).touch()
    _remove_outdated(directory)


def _remove(directory: Path) -> None:
    shutil.rmtree(directory, ignore_errors=True)
    if directory.exists():
        raise SetupError(f"A half-made environment is in the way and cannot be removed; delete it: {directory}")


def _remove_outdated(directory: Path) -> None:
    """Remove what the same Python had for earlier locks; what is in use on Windows stays until next time."""
    for other in directory.parent.glob(f"{_python_key()}-*"):
        if other != directory:
            shutil.rmtree(other, ignore_errors=True)


def install(directory: Path, lock: Path) -> None:
    """Make the environment and install what the lock names, and nothing whose hash it does not name.

    Raises SetupError when a package cannot be had or has another hash.
    """
    pip = _create(directory)
    if run([*pip, "install", *PIP_OPTIONS, "-r", lock], environ=environ_for_children()) != 0:
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
    wheel = _debian_pip_wheel(directory / "pip-wheel")
    if wheel is None or not succeeds([python, "-I", wheel / "pip", "install", "--no-index", wheel]):
        raise SetupError(ADVICE_WITHOUT_PIP)
    return [python, "-I", "-m", "pip"]


def _debian_pip_wheel(folder: Path) -> Path | None:
    """Return pip's wheel out of Debian's package, whose hash apt checks against its signed lists; None without apt.

    Neither downloading nor unpacking a package needs root; only lists that were never fetched do.
    """
    folder.mkdir()
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
