"""Under which mark a client's requests are counted."""

from __future__ import annotations

import hashlib
from ipaddress import IPv6Address, ip_address


def client_mark(host: str) -> str:
    """What is kept of a client's address until its window ends: a digest. Of IPv6 it is the network's.

    >>> client_mark("2001:db8::1") == client_mark("2001:db8::2"), client_mark("192.0.2.1") == client_mark("192.0.2.2")
    (True, False)
    """
    try:
        parsed = ip_address(host.split("%", 1)[0])
    except ValueError:
        parsed = None
    if isinstance(parsed, IPv6Address):
        host = str(parsed.ipv4_mapped or f"{int(parsed) >> 64:x}/64")
    return hashlib.blake2b(host.encode(), digest_size=12, person=b"chuckside count").hexdigest()
