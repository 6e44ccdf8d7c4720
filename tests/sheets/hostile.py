"""What people with bad intentions, and people with bad luck, send."""

from __future__ import annotations

import base64
import random
import string
from collections.abc import Iterator
from typing import Any

from calc.language.spec import Spec
from server.sheets.fields import declarations
from server.sheets.model import Sheet

# Kept as they are: they are texts, and showing them is the page's business.
KEPT = {
    "script": "<script>alert(1)</script>",
    "handler": '"><img src=x onerror=alert(1)>',
    "closing": "</textarea></title></script><svg/onload=alert(1)>",
    "template": "{{7*7}}${7*7}#{7*7}{% include '/etc/passwd' %}<%= 7*7 %>",
    "javascript address": "javascript:alert(1)//",
    "sql": "'; DROP TABLE sheets; --",
    "sql comment": "\" OR 1=1 /* ' */",
    "format": "{0.__class__} %s %n %(x)s",
    "path": "../../../../etc/passwd",
    "formula": "=HYPERLINK(1)+cmd|' /C calc'!A0",
    "entity": "&lt;script&gt; &#0; &amp;",
    "right to left": "قطعة ٦٠ ملم سطح مقعر",
    "hebrew with numbers": "קוטר 60 מ״מ, עומק 4.5",
    "emoji": "🔧👩‍🏭🏳️‍🌈 Ø60",
    "astral": "𝔘𝔫𝔦𝔠𝔬𝔡𝔢 𠜎",
    "combining": "Z̸̢̛̺̓a̵l̷g̶o̸",
    "quotes": "\"'`´“”‘’",
    "backslash": "\\u0000 \\0 \\",
    "isolates": "\u2066abc\u2069 \u200fdef",
    "joiners": "a\u200bb\u200dc\ufeffd",
}
# Refused in a sentence: they cannot be kept, or would show what is not so.
REFUSED = {
    "null byte": "a\0b",
    "escape": "\x1b[31mred",
    "bell": "a\x07b",
    "delete": "a\x7fb",
    "c1 control": "a\x9bb",
    "override": "5.7 \u202e7.5",
    "lone surrogate": "a\ud800b",
    "long": "x" * 100_000,
    "long emoji": "🔧" * 20_000,
}


def text_fields(of: type[Any] = Sheet, where: str = "") -> Iterator[tuple[str, Spec]]:
    """The place of every free text in a document that has one row of each kind."""
    for declared in declarations(of):
        place = f"{where}{declared.name}"
        if declared.role == "word" and not declared.written:
            yield place, declared
        elif declared.rows is not None:
            row = ".0" if declared.role == "rows" else ""
            yield from text_fields(declared.rows.row, f"{place}{row}.")


def secrets_near(secret: str, seed: int) -> dict[str, list[str]]:
    """Secrets that are not the one, by how they were come by."""
    chance = random.Random(seed)
    letters = string.ascii_letters + string.digits + "-_"
    others = [letter for letter in letters if letter != secret[0]]
    return {
        "truncated": [secret[:length] for length in range(len(secret))],
        "one letter wrong": [
            secret[:place]
            + chance.choice([letter for letter in letters if letter != secret[place]])
            + secret[place + 1 :]
            for place in range(len(secret))
        ],
        "first letter tried through": [letter + secret[1:] for letter in others],
        "guessed": ["".join(chance.choices(letters, k=32)) for _ in range(200)],
        "longer": [secret + "x", f" {secret}x", secret + secret, secret + "=" * 4],
        "other spelling": [secret.swapcase(), secret[::-1], base64.b64encode(secret.encode()).decode()],
        "not a secret": ["", "null", "undefined", "None", "0", "*", "%", "' OR '1'='1", "../", "a" * 10_000],
    }
