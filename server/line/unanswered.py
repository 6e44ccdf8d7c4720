"""What is said of a line to which no table here has an answer, and the labels of converted values."""

from __future__ import annotations

import re

from calc.language.messages import Message

OTHER_UNITS = Message("In other units")
DRILL = Message("Drill")

CANNOT: tuple[tuple[re.Pattern[str], str, Message], ...] = (
    (
        re.compile(r"\bhsk\b|\bhsk-?[a-f]?\s?\d", re.IGNORECASE),
        "/taper",
        Message("HSK shanks (ISO 12164) are not in these tables: give the taper and a diameter from their drawing."),
    ),
    (
        re.compile(
            r"\b(?:hrc|hb|hbw|hv|rockwell|brinell|vickers)\b.*\b(?:in|to|into|nach|a|en)\b\s*(?:hrc|hb|hbw|hv|n/mm|mpa|rock|brin|vick)",
            re.IGNORECASE,
        ),
        "/material",
        Message(
            "Hardness is not converted from one scale to another here (ISO 18265 has the tables); a material takes its "
            "own: C45 250 HB."
        ),
    ),
    (
        re.compile(r"\b(?:bsw|bsf|whitworth)\b|\bpg\s?\d", re.IGNORECASE),
        "/thread",
        Message("Whitworth threads (BS 84) and conduit threads (DIN 40430) are not in these tables."),
    ),
    (
        re.compile(
            r"clearance hole|clearance drill|durchgangsloch|durchgangsbohrung|agujero pasante|agujero de paso",
            re.IGNORECASE,
        ),
        "/hole",
        Message("Clearance holes for screws (ISO 273) are not in these tables: give the hole’s own diameter."),
    ),
)
"""What is asked for in a shop and not to be had here: how it is asked, the nearest page, why there is no number."""


def cannot(line: str) -> tuple[str, Message] | None:
    """The nearest page to what is not in the tables here, and the sentence that says so; None for any other line.

    >>> cannot("HSK63")[0], cannot("58 HRC in HB")[0], cannot("C45 58 HRC")
    ('/taper', '/material', None)
    """
    return next(((page, said) for pattern, page, said in CANNOT if pattern.search(line)), None)
