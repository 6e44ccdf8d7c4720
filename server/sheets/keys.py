"""Reading ids, owners' secrets, and the keys of rows.

A secret is 192 random bits, so it is stored as a plain fast digest: a slow one protects what people choose, which can
be guessed; nobody can run through 2**192 possibilities at any speed. A reading id has 59 bits. With a hundred thousand
sheets kept, one guess in five million million meets one, and then shows what any holder of the link may read.
"""

from __future__ import annotations

import hashlib
import hmac
import re
import secrets

# Without i, l, o, u, 0 and 1, which are taken for one another when read aloud or copied from paper.
ALPHABET = "23456789abcdefghjkmnpqrstvwxyz"
ID_GROUPS, ID_GROUP = 3, 4
SECRET_BYTES = 24
KEY_LENGTH = 6

_ID = re.compile(f"[{ALPHABET}]{{{ID_GROUPS * ID_GROUP}}}")
_SECRET = re.compile(r"[A-Za-z0-9_-]{32}")


def new_id() -> str:
    """A fresh reading id in groups that can be read aloud.

    >>> len(new_id())
    14
    """
    return "-".join(_letters(ID_GROUP) for _ in range(ID_GROUPS))


def read_id(typed: str) -> str | None:
    """The id in its one spelling, whatever capitals and dashes were typed; None for what cannot be one.

    >>> read_id("K7MP3wxz-9dqr"), read_id("k7mp-3wxz-9dq1")
    ('k7mp-3wxz-9dqr', None)
    """
    bare = typed.replace("-", "").lower() if len(typed) < 40 else ""
    if not _ID.fullmatch(bare):
        return None
    return "-".join(bare[start : start + ID_GROUP] for start in range(0, len(bare), ID_GROUP))


def new_secret() -> str:
    """A fresh owner's secret, safe in an address.

    >>> len(new_secret())
    32
    """
    return secrets.token_urlsafe(SECRET_BYTES)


def digest(secret: str) -> bytes:
    """What is stored of a secret.

    >>> len(digest(new_secret()))
    32
    """
    return hashlib.blake2b(secret.encode("utf-8", "surrogatepass"), digest_size=32, person=b"chuckside owner").digest()


def matches(secret: str, stored: bytes) -> bool:
    """Whether `secret` is the one whose digest is stored; takes as long for a near miss as for a far one.

    >>> secret = new_secret()
    >>> matches(secret, digest(secret)), matches(secret[:-1], digest(secret))
    (True, False)
    """
    well_formed = _SECRET.fullmatch(secret) is not None
    return hmac.compare_digest(digest(secret), stored) and well_formed


def new_key() -> str:
    """A fresh key for a row.

    >>> len(new_key())
    6
    """
    return _letters(KEY_LENGTH)


def _letters(count: int) -> str:
    return "".join(secrets.choice(ALPHABET) for _ in range(count))
