"""What JSON can hold and no answer can say: half of a surrogate pair, in a text or as a name."""

from __future__ import annotations

import json
from typing import Any


def can_be_said(body: bytes, value: Any) -> bool:
    r"""Whether every text of a body's value can be written in UTF-8, so that a sentence may name it.

    >>> can_be_said(b'{"a": "\\ud83d\\udd27"}', {"a": "\U0001f527"}), can_be_said(b'{"\\ud800": 1}', {"\ud800": 1})
    (True, False)
    """
    if b"\\u" not in body:  # whole bytes of UTF-8 hold no halves; only an escape can
        return True
    try:
        json.dumps(value, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        return False
    return True
