#!/usr/bin/env python3
"""Sets up what Chuckside needs, on first use only, and serves it: `python3 deploy/serve.py --help`."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - whoever has an older one is to be told so
    sys.exit(
        f"Chuckside needs Python 3.11 or newer; this is Python {sys.version.split()[0]} ({sys.executable}). "
        "Start it with a newer one, such as: python3.12 deploy/serve.py"
    )

import argparse
import os
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from deploy import environment, network
from deploy.messages import SetupError, say
from deploy.process import INTERRUPTED, become, environ_for_children, run

LOCK = environment.ROOT / "deploy" / "requirements.lock"
DATA_VARIABLE = "CHUCKSIDE_DATA"
ADDRESS_VARIABLE = "CHUCKSIDE_ADDRESS"
COMPILED_VARIABLE = "PYTHONPYCACHEPREFIX"
EVERY_INTERFACE = "0.0.0.0"
# No docstrings, most of them of packages (6 MB), no columns of the lines in a trace (1 MB), one heap for all threads,
# which take turns in any case (1 MB), and what is free at its end given back.
COMPACT = {
    "PYTHONOPTIMIZE": "2",
    "PYTHONNODEBUGRANGES": "1",
    "MALLOC_ARENA_MAX": "1",
    "MALLOC_TRIM_THRESHOLD_": "131072",
}


def main(arguments: list[str] | None = None) -> int:
    """Serve until Ctrl-C and return the exit status."""
    options = parser().parse_args(arguments)
    try:
        return serve(options)
    except SetupError as error:
        say(str(error))
        return 1
    except KeyboardInterrupt:
        say("\nStopped.")
        return INTERRUPTED


def parser() -> argparse.ArgumentParser:
    """Return the reader of the command line."""
    reader = argparse.ArgumentParser(prog="deploy/serve.py", description="Set up and serve Chuckside.")
    reader.add_argument(
        "--host",
        default=EVERY_INTERFACE,
        help="address to answer on (%(default)s: every network this machine is on; 127.0.0.1: this machine alone)",
    )
    reader.add_argument("--port", type=port_number, default=8000, help="port to answer on (%(default)s)")
    reader.add_argument(
        "--data",
        type=Path,
        metavar="DIR",
        default=os.environ.get(DATA_VARIABLE) or None,
        help=f"folder for what is saved; made when missing (from {DATA_VARIABLE} when not given)",
    )
    reader.add_argument("--workers", type=worker_count, default=1, metavar="N", help="server processes (%(default)s)")
    return reader


def port_number(text: str) -> int:
    """Read a TCP port.

    >>> port_number("8000")
    8000
    """
    return _whole_number(text, 1, network.HIGHEST_PORT)


def worker_count(text: str) -> int:
    """Read a number of server processes.

    >>> worker_count("2")
    2
    """
    return _whole_number(text, 1, 64)


def serve(options: argparse.Namespace) -> int:
    """Check the port, have the environment, say where to look, and become the server.

    Raises SetupError when one of them cannot be had.
    """
    refuse_unbindable(options.host, options.port)
    data = data_directory(options.data) if options.data else None
    python = environment.ensure("serve", LOCK, environment.default_homes())
    reach = network.reach(options.host, options.port)
    announce(python, reach, data)
    environ = environ_for_children(**told_to_server(reach, data), **COMPACT, **compiled_beside(python))
    return become(server_command(python, options), environ=environ, cwd=environment.ROOT)


def refuse_unbindable(host: str, port: int) -> None:
    """Raise SetupError when no server can listen there."""
    reason = network.why_not_bindable(host, port)
    if reason:
        raise SetupError(reason)


def data_directory(given: Path) -> Path:
    """Return the folder for saved work as an absolute path, made when missing. Raises SetupError when that fails."""
    folder = given.expanduser().resolve()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise SetupError(f"--data {given}: cannot make that folder ({error.strerror}).") from None
    return folder


def told_to_server(reach: network.Reach, data: Path | None) -> dict[str, str]:
    """Return the environment variables by which the server knows where to save and which address to put into links.

    An address that was set before, such as a proxy's, stays.
    """
    told = {DATA_VARIABLE: str(data)} if data else {}
    if reach.phone and not os.environ.get(ADDRESS_VARIABLE):
        told[ADDRESS_VARIABLE] = reach.phone
    return told


def compiled_beside(python: Path) -> dict[str, str]:
    """Return where compiled modules are kept: in the environment, since checkout and Python itself may be read-only.

    A server that compiles all its modules at its start takes seconds longer and holds 15 MB more. A place that was set
    before stays.
    """
    return {COMPILED_VARIABLE: os.environ.get(COMPILED_VARIABLE) or str(python.parent.parent / "compiled")}


def announce(python: Path, reach: network.Reach, data: Path | None) -> None:
    """Say where the server is reached, with a QR code to point a phone at."""
    say("Chuckside")
    say(f"  on this machine:     {reach.machine}")
    if reach.phone:
        say(f"  on a phone, tablet:  {reach.phone}  (on the same network)")
        run([python, "-m", "deploy.qr", reach.phone], environ=environ_for_children(), cwd=environment.ROOT)
    else:
        say(f"  on a phone, tablet:  not reachable: {reach.why_no_phone}")
    if data:
        say(f"  saved work:          {data}")
    say("Ctrl-C ends it.")


def server_command(python: Path, options: argparse.Namespace) -> list[str | Path]:
    """Return the command that serves the application."""
    # The proxy in front, on this machine, is believed when it says that the visitor came by HTTPS (the default).
    where = ["--host", options.host, "--port", str(options.port), "--workers", str(options.workers)]
    return [python, "-m", "server", *where]


def _whole_number(text: str, least: int, most: int) -> int:
    if not text.isdecimal() or not least <= int(text) <= most:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from {least} to {most}")
    return int(text)


if __name__ == "__main__":
    sys.exit(main())
