"""Installs Debian's packages where that can be done: as root, on a Debian."""

import os
import shutil
import sys
from collections.abc import Sequence

from deploy.messages import SetupError, say
from deploy.process import run_helper

INSTALL = ("apt-get", "install", "-y", "-qq", "--no-install-recommends", "-o", "DPkg::Lock::Timeout=120")


def can_install() -> bool:
    """Return whether packages can be installed here."""
    return shutil.which("apt-get") is not None and is_root()


def is_root() -> bool:
    """Return whether this process may do everything."""
    return sys.platform != "win32" and os.geteuid() == 0


def install(what: str, packages: Sequence[str], advice: str) -> None:
    """Install the packages. Raises SetupError, which ends with `advice`, when that fails."""
    say(f"Installing {what} from Debian's packages (takes a minute or so): {' '.join(packages)}")
    for command in (["apt-get", "update", "-qq"], [*INSTALL, *packages]):
        if run_helper(command) != 0:
            raise SetupError(f"Installing {what} failed; the lines above say why. {advice}")
