"""What the commands for backup and restore have in common: where the saved work is, and who carries them out."""

import argparse
import os
import re
from pathlib import Path

from deploy import environment
from deploy.messages import SetupError, say
from deploy.process import INTERRUPTED, environ_for_children, run
from deploy.serve import DATA_VARIABLE, LOCK

DATABASE_VARIABLE = "CHUCKSIDE_DATABASE"
UNIT = Path("/etc/systemd/system/chuckside.service")
_TOLD = re.compile(rf"({DATA_VARIABLE}|{DATABASE_VARIABLE})=(\"[^\"]*\"|\S+)")
_DATA_OPTION = re.compile(r"--data[= ](\"[^\"]*\"|\S+)")


READS_A_FILE = ("check",)


def parser(program: str, description: str) -> argparse.ArgumentParser:
    """Return the reader of a command line that names a file and where the saved work is."""
    reader = argparse.ArgumentParser(prog=program, description=description)
    reader.add_argument("file", type=Path, help="the backup")
    reader.add_argument(
        "--data",
        type=Path,
        metavar="DIR",
        help=f"the server's folder for what is saved (when not given: from {DATA_VARIABLE} or {DATABASE_VARIABLE}, "
        f"else as the installed service is told in {UNIT}, else the checkout's own)",
    )
    return reader


def told(given: Path | None, unit: Path = UNIT) -> dict[str, str]:
    """Return the variables by which the server, started in the same way, finds its saved work.

    What is given here comes first, then this shell's variables, then what the installed service is told; nothing of it
    leaves the server its own folder in the checkout. Raises SetupError for a folder that is not there.
    """
    if given is not None:
        return {DATA_VARIABLE: str(_there(given.expanduser().resolve()))}
    if os.environ.get(DATA_VARIABLE) or os.environ.get(DATABASE_VARIABLE):
        return {}
    found = of_the_service(unit)
    if DATA_VARIABLE in found and DATABASE_VARIABLE not in found:
        _there(Path(found[DATA_VARIABLE]))
    return found


def of_the_service(unit: Path = UNIT) -> dict[str, str]:
    """Return what the installed service is told of its saved work, its drop-in files included."""
    files = [unit, *sorted(unit.with_name(f"{unit.name}.d").glob("*.conf"))]
    try:
        text = "\n".join(file.read_text("utf-8") for file in files if file.exists())
    except OSError as error:
        raise SetupError(f"{unit} cannot be read ({error.strerror}). Name the folder with --data.") from None
    lines = [line for line in text.splitlines() if not line.lstrip().startswith("#")]
    found = {name: value.strip('"') for line in lines for name, value in _TOLD.findall(line)}
    for line in lines:
        for value in _DATA_OPTION.findall(line) if line.startswith("ExecStart=") else ():
            found[DATA_VARIABLE] = value.strip('"')
    return found


def _there(folder: Path) -> Path:
    if not folder.is_dir():
        raise SetupError(f"There is no folder {folder}. Is it mistyped? Nothing was made.")
    return folder


def carry_out(what: str, options: argparse.Namespace, *more: str) -> int:
    """Back up, check or restore, and return the exit status."""
    arguments = [what, str(options.file.expanduser().resolve()), *more]
    return run_module("server.sheets.backup", options.data, arguments, needs_data=what not in READS_A_FILE)


def run_module(module: str, data: Path | None, arguments: list[str], *, needs_data: bool = True) -> int:
    """Run a module of the server's where the saved work is, in the server's environment; return the exit status."""
    try:
        variables = told(data) if needs_data else {}
        python = environment.ensure("serve", LOCK, environment.default_homes())
        command: list[str | Path] = [python, "-m", module, *arguments]
        return run(command, environ=environ_for_children(**variables), cwd=environment.ROOT)
    except SetupError as error:
        say(str(error))
        return 1
    except KeyboardInterrupt:
        say("\nStopped.")
        return INTERRUPTED
