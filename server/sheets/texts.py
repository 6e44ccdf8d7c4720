"""What a text of a person's may hold: any script and any direction, but nothing that lies about what is read."""

from __future__ import annotations

import unicodedata

from calc.language.messages import Digits, Phrase

# Overrides show digits in an order that they do not have: 5.7 would be read as 7.5. Right-to-left scripts need none.
_OVERRIDES = {"\u202d", "\u202e"}


def tidied(text: str) -> str:
    """The text with the line ends of this house and nothing blank around it.

    >>> tidied(" a\\r\\nb ")
    'a\\nb'
    """
    return text.replace("\r\n", "\n").replace("\r", "\n").strip()


def what_is_wrong(text: str, most: int, *, may_have_lines: bool) -> str:
    """A sentence about what cannot be kept of a tidied text, "" when all of it can.

    >>> what_is_wrong("Sitz Ø60 فولاذ 🔧", 120, may_have_lines=False)
    ''
    >>> what_is_wrong("a" * 121, 120, may_have_lines=False)
    'This is too long: 121 characters; at most 120 fit.'
    """
    if len(text) > most:
        return Phrase("This is too long: {words} characters; at most {most} fit.", words=len(text), most=most)
    for character in text:
        if character == "\n" and not may_have_lines:
            return "This must be one line."
        if character not in "\n\t" and not _can_be_kept(character):
            return Phrase(
                "This holds a character that cannot be shown as it is (U+{code}); leave it out.",
                code=Digits(f"{ord(character):04X}"),
            )
    return ""


def _can_be_kept(character: str) -> bool:
    # Cc: controls, the null byte among them; Cs: half of a pair
    return unicodedata.category(character) not in ("Cc", "Cs") and character not in _OVERRIDES
