"""Static files under addresses that change with their content, so that a browser may keep them for good."""

from __future__ import annotations

import hashlib
import os
import re
from functools import cache
from pathlib import Path

from fastapi.staticfiles import StaticFiles
from starlette.responses import Response
from starlette.types import Scope

VENDORED = "vendor"
"""The folder of what others made, which is sent as it came."""
KEEP = "public, max-age=31536000, immutable"
_IMPORT = re.compile(r'@import "([^"]+)"( print)?;')


class Assets(StaticFiles):
    """The static files; what is asked for under its own version never changes."""

    def __init__(self, folder: Path) -> None:
        super().__init__(directory=folder)
        self._version = cache(lambda path: version_of(Path(path)))
        self._sent = cache(lambda path: _SENT[Path(path).suffix][0](joined(Path(path))))

    def file_response(
        self, full_path: str | os.PathLike[str], stat_result: os.stat_result, scope: Scope, status_code: int = 200
    ) -> Response:
        """The file, to be kept for good if the address has its own version.

        Another version is another server's, while one is replaced by the next: what is given then is for now alone.
        """
        path = Path(full_path)
        sent = None if VENDORED in path.parts else _SENT.get(path.suffix)
        if sent is not None:
            response = Response(self._sent(str(full_path)), status_code, media_type=sent[1])
        else:
            response = super().file_response(full_path, stat_result, scope, status_code)
        asked = scope.get("query_string", b"").decode("latin-1")
        response.headers["Cache-Control"] = KEEP if asked == f"v={self._version(str(full_path))}" else "no-cache"
        return response


class Addresses:
    """Where the templates find a static file: its path with a version made of its content."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.asset = cache(self._asset)

    def _asset(self, name: str) -> str:
        """The address of a file of the folder. Raises `FileNotFoundError` for one that is not there.

        >>> Addresses(Path(__file__).parent.parent / "static").asset("icon.svg").startswith("/static/icon.svg?v=")
        True
        """
        return f"/static/{name}?v={version_of(self.folder / name)}"


def joined(file: Path) -> str:
    """A file with the styles that it imports in their place: one request less, and less to send."""
    found = file.read_text("utf-8")
    return (
        _IMPORT.sub(lambda each: _imported(file.parent / each[1], each[2]), found) if file.suffix == ".css" else found
    )


def _imported(file: Path, on_paper: str | None) -> str:
    styles = joined(file)
    return f"@media print {{\n{styles}}}\n" if on_paper else styles


def compact(styles: str) -> str:
    """Styles without comments, and without the blanks that only a reader of the source needs.

    >>> compact("/* Ink. */\\na > b, i { color: red; }\\n@media print { a { margin: 0 auto; } }")
    'a>b,i{color:red}@media print{a{margin:0 auto}}'
    """
    plain = re.sub(r"\s+", " ", re.sub(r"/\*.*?\*/", "", styles, flags=re.DOTALL))
    return re.sub(r" ?([{};>,~]) ?", r"\1", plain).replace(": ", ":").replace(";}", "}").strip()


def bare(script: str) -> str:
    """A script without the lines that are comments or blank, and without what its lines are set in by.

    >>> bare("// Adds.\\nfunction add(a, b) {\\n\\n  // the sum\\n  return a + b;\\n}\\n")
    'function add(a, b) {\\nreturn a + b;\\n}\\n'
    """
    return re.sub(r"^[ \t]*(?://.*)?\n|^[ \t]+", "", script, flags=re.MULTILINE)


_SENT = {".css": (compact, "text/css"), ".js": (bare, "text/javascript")}
"""What is sent of a file in place of all that its reader finds in it, by the end of its name."""


def version_of(file: Path) -> str:
    """A file's version, made of all that is sent of it. Raises `FileNotFoundError` for one that is not there."""
    return digest_of(joined(file).encode() if file.suffix == ".css" else file.read_bytes())


def digest_of(content: bytes) -> str:
    """What a content is told apart by from another edition of it; short, since every page carries it many times.

    >>> digest_of(b"")
    'e3b0c44'
    """
    return hashlib.sha256(content).hexdigest()[:7]
