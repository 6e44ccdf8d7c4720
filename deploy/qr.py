"""Prints a QR code in the terminal. Run by the private environment's Python: `python -m deploy.qr ADDRESS`."""

import os
import sys
from collections.abc import Iterator, Sequence

import segno

QUIET_ZONE = 4  # modules, ISO/IEC 18004
# One character shows two modules, one above the other. Light ones are inked: terminals are mostly dark.
HALF_BLOCKS = {(True, True): " ", (True, False): "▄", (False, True): "▀", (False, False): "█"}
WHITE_ON_BLACK, RESET = "\033[97;40m", "\033[0m"


def modules(text: str) -> list[list[bool]]:
    """Return the rows of the code with its quiet zone, True where a module is dark."""
    code = segno.make(text, micro=False, error="m")
    return [[bool(module) for module in row] for row in code.matrix_iter(border=QUIET_ZONE)]


def lines(rows: Sequence[Sequence[bool]]) -> Iterator[str]:
    """Yield the rows in pairs as text; a last odd row is completed with light modules.

    >>> list(lines([[True, False, True], [True, True, False], [True, False, True]]))
    [' ▀▄', '▄█▄']
    """
    for upper, lower in zip(rows[::2], [*rows[1::2], [False] * len(rows[0])], strict=False):
        yield "".join(HALF_BLOCKS[pair] for pair in zip(upper, lower, strict=True))


def can_show(encoding: str | None) -> bool:
    """Return whether a terminal of this encoding has the blocks.

    >>> can_show("utf-8"), can_show("ascii")
    (True, False)
    """
    try:
        "".join(HALF_BLOCKS.values()).encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def main(text: str) -> None:
    """Print the code, in fixed colours where a terminal shows them."""
    if not can_show(sys.stdout.encoding):
        print("(This terminal cannot show the QR code: type the address.)")
        return
    coloured = sys.stdout.isatty() and "NO_COLOR" not in os.environ
    if coloured and sys.platform == "win32":
        os.system("")  # makes an older Windows console understand the colours
    before, after = (WHITE_ON_BLACK, RESET) if coloured else ("", "")
    for line in lines(modules(text)):
        print(f"{before}{line}{after}")


if __name__ == "__main__":
    main(sys.argv[1])
