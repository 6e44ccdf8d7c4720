"""Where a server on this machine is reached from, found without sending anything."""

import errno
import os
import socket
import struct
import sys
from dataclasses import dataclass
from ipaddress import ip_address

# Choosing a route for a datagram socket sends nothing. The first is a documentation address that only a default route
# leads to; the others are private ranges, for a shop network without a gateway.
FAR_ADDRESSES = ("192.0.2.1", "10.255.255.254", "172.31.255.254", "192.168.255.254")
EVERY_ADDRESS = ("0.0.0.0", "::")
HIGHEST_PORT = 65535
SIOCGIFADDR = 0x8915  # Linux: the IPv4 address of an interface


@dataclass(frozen=True)
class Reach:
    """The addresses to show: for this machine, and for a phone on the same network where there is one."""

    machine: str
    phone: str | None
    why_no_phone: str = ""


def reach(host: str, port: int) -> Reach:
    """Return the addresses under which a server bound to `host` and `port` is reached."""
    if host in EVERY_ADDRESS:
        machine = f"http://localhost:{port}"
        lan = lan_address()
        return Reach(machine, f"http://{lan}:{port}") if lan else Reach(machine, None, "this machine is on no network")
    address = f"http://{f'[{host}]' if ':' in host else host}:{port}"
    if is_loopback(host):
        return Reach(address, None, f"{host} answers this machine alone; start with --host 0.0.0.0 for others")
    return Reach(address, address)


def is_loopback(host: str) -> bool:
    """Return whether a host name or address means this machine only."""
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host.lower() == "localhost"


def lan_address() -> str | None:
    """Return this machine's IPv4 address on its network, or None when it is on none."""
    for source in (_routed_addresses, _interface_addresses):
        for address in source():
            if _is_for_others(address):
                return address
    return None


def why_not_bindable(host: str, port: int) -> str | None:
    """Return in one line what keeps a server from listening there and what to do, or None when nothing does."""
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(
            host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
        with socket.socket(family, kind, protocol) as probe:
            _claim_as_a_server_would(probe)
            probe.bind(address)
    except socket.gaierror:
        return f"--host {host} is not a name or address that this machine knows."
    except OSError as error:
        return _bind_advice(error, host, port)
    return None


def _claim_as_a_server_would(probe: socket.socket) -> None:
    """Let lately closed connections not count as in use, but a listening server count."""
    if sys.platform == "win32":
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
    else:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)


def _bind_advice(error: OSError, host: str, port: int) -> str:
    if error.errno == errno.EADDRINUSE:
        free = port + 1 if port < HIGHEST_PORT else port - 1
        return f"Port {port} is in use by another program: stop that, or take another port, such as --port {free}"
    if error.errno == errno.EACCES:
        return f"This user may not serve on port {port}: take one above 1023, such as --port 8000"
    if error.errno == errno.EADDRNOTAVAIL:
        return f"--host {host} is not an address of this machine."
    return f"Cannot serve on {host}, port {port}: {os.strerror(error.errno) if error.errno else error}"


def _routed_addresses() -> list[str]:
    return [address for address in map(_own_address_toward, FAR_ADDRESSES) if address]


def _own_address_toward(far: str) -> str | None:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect((far, 9))
        except OSError:  # no route
            return None
        return str(probe.getsockname()[0])


def _interface_addresses() -> list[str]:
    """Return the addresses of the interfaces, for a machine whose network has no gateway."""
    try:
        if sys.platform == "win32":
            return socket.gethostbyname_ex(socket.gethostname())[2]
        if sys.platform == "linux":
            return [address for _, name in socket.if_nameindex() if (address := _linux_interface_address(name))]
    except OSError:  # a name without addresses, or a process that may not ask
        pass
    return []


def _linux_interface_address(name: str) -> str | None:
    if sys.platform == "linux":
        import fcntl  # noqa: PLC0415 - not on every system

        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            try:
                answer = fcntl.ioctl(probe, SIOCGIFADDR, struct.pack("256s", name.encode()[:15]))
            except OSError:  # an interface without an IPv4 address
                return None
            return socket.inet_ntoa(answer[20:24])
    return None


def _is_for_others(address: str) -> bool:
    parsed = ip_address(address)
    return not (parsed.is_loopback or parsed.is_unspecified or parsed.is_link_local)
