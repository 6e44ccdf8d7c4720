"""A knurl as a print calls it beside a diameter: 42 DIN 82-RKE 1."""

from __future__ import annotations

import re
from dataclasses import dataclass

from calc.language.reading import ReadingError
from calc.shapes.knurls import forms

_KNURL = re.compile(
    r"\s*(?P<size>.*?)[\s,;]*(?:DIN\s*82|knurl)[\s-]*(?P<code>[A-Za-z]{3})\s*(?P<pitch>\d+(?:[.,]\d+)?)\s*",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class KnurlCalled:
    """A knurl: the text of the diameter over its crests, its form by name, its pitch (mm)."""

    size: str
    form: str
    pitch: float


def knurl_called(text: str) -> KnurlCalled | None:
    """The knurl that a print calls `text`, its pitch in mm; None for what is none. Raises `ReadingError`.

    Source: DIN 82, its designation.

    >>> knurl_called("42 DIN 82-RKE 1"), knurl_called("42 h9")
    (KnurlCalled(size='42', form='crossed', pitch=1.0), None)
    """
    match = _KNURL.fullmatch(text)
    if match is None:
        return None
    by_code = {form.code: name for name, form in forms().items()}
    code = match["code"].upper()
    if code not in by_code:
        codes = ", ".join(by_code)
        raise ReadingError(text, "“{typed}” is no knurl that is known here: its form is one of {codes}.", codes=codes)
    return KnurlCalled(match["size"], by_code[code], float(match["pitch"].replace(",", ".")))
