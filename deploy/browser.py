"""Finds a Chromium-type browser for the tests of the pages, or installs Debian's."""

import os
import shutil
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

from deploy import debian
from deploy.messages import SetupError
from deploy.process import succeeds

VARIABLE = "CHUCKSIDE_BROWSER"
COMMANDS = (
    "chromium-headless-shell",  # the same without windows and what belongs to them: half the work for a page
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "microsoft-edge",
    "msedge",
)
MAC_PROGRAMS = (
    "Chromium.app/Contents/MacOS/Chromium",
    "Google Chrome.app/Contents/MacOS/Google Chrome",
    "Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
)
WINDOWS_PROGRAMS = (
    "Chromium/Application/chrome.exe",
    "Google/Chrome/Application/chrome.exe",
    "Microsoft/Edge/Application/msedge.exe",
)
WINDOWS_FOLDERS = ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")
DEBIAN_PACKAGES = ("chromium-headless-shell", "fonts-liberation")


def ensure() -> Path:
    """Return the path of a browser, installed first where Debian's packages and root allow.

    Raises SetupError, which says what to install, when there is none.
    """
    named = os.environ.get(VARIABLE)
    if named:
        return _named(named)
    found = find()
    if found is None and debian.can_install():
        debian.install("a browser", DEBIAN_PACKAGES, advice())
        found = find()
    if found is None:
        raise SetupError(f"No browser for the tests of the pages. {advice()}")
    return found


def find() -> Path | None:
    """Return the first installed browser that runs, or None."""
    return next((path for path in candidates(os.environ, sys.platform) if _runs(path)), None)


def candidates(environ: Mapping[str, str], platform: str) -> Iterator[Path]:
    """Yield where this platform's browsers are, those on the command path first."""
    for command in COMMANDS:
        path = shutil.which(command)
        if path:
            yield Path(path)
    if platform == "darwin":
        for applications in (Path("/Applications"), Path.home() / "Applications"):
            yield from (applications / program for program in MAC_PROGRAMS)
    if platform == "win32":
        for folder in filter(None, map(environ.get, WINDOWS_FOLDERS)):
            yield from (Path(folder) / program for program in WINDOWS_PROGRAMS)


def advice() -> str:
    """Return what to do to have a browser here."""
    if shutil.which("apt-get"):
        return f"Install one: sudo apt install chromium-headless-shell. Or name one in {VARIABLE}."
    return f"Install Chromium, Chrome or Edge, or name one in {VARIABLE}."


def _named(path: str) -> Path:
    found = shutil.which(path)
    if found is None:
        raise SetupError(f"{VARIABLE} names {path}, which is not a program on this machine.")
    return Path(found).absolute()


def _runs(path: Path) -> bool:
    if sys.platform == "win32":  # there, asking for the version opens a window
        return path.exists()
    return succeeds([path, "--version"])
