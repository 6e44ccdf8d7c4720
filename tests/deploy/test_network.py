"""Addresses: for this machine, for a phone, and what keeps a server from one."""

import errno
import socket
from ipaddress import ip_address

import pytest

from deploy import network


@pytest.mark.parametrize("host", ["0.0.0.0", "::"])
def test_on_every_interface_the_phone_gets_the_address_on_the_network(
    host: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(network, "lan_address", lambda: "192.168.1.20")
    assert network.reach(host, 8000) == network.Reach("http://localhost:8000", "http://192.168.1.20:8000")


def test_a_machine_on_no_network_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(network, "lan_address", lambda: None)
    assert network.reach("0.0.0.0", 8000) == network.Reach(
        "http://localhost:8000", None, "this machine is on no network"
    )


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.1.1", "localhost", "::1"])
def test_a_loopback_host_has_no_phone_address(host: str) -> None:
    assert network.reach(host, 8000).phone is None


@pytest.mark.parametrize(
    ("host", "address"),
    [
        ("192.168.1.20", "http://192.168.1.20:8000"),
        ("fd00::20", "http://[fd00::20]:8000"),
        ("shop.home.arpa", "http://shop.home.arpa:8000"),
    ],
)
def test_a_host_of_its_own_is_the_address_for_all(host: str, address: str) -> None:
    assert network.reach(host, 8000) == network.Reach(address, address)


def test_the_address_found_on_this_machine_is_one_that_others_can_use() -> None:
    found = network.lan_address()
    assert found is None or not (ip_address(found).is_loopback or ip_address(found).is_unspecified)


def test_a_route_to_loopback_alone_counts_as_no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(network, "FAR_ADDRESSES", ("127.0.0.1",))
    monkeypatch.setattr(network, "_interface_addresses", lambda: ["127.0.0.1", "169.254.7.7"])
    assert network.lan_address() is None


def test_without_any_route_an_interface_address_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(network, "FAR_ADDRESSES", ())
    monkeypatch.setattr(network, "_interface_addresses", lambda: ["127.0.0.1", "10.1.2.3"])
    assert network.lan_address() == "10.1.2.3"


def test_a_free_port_is_no_obstacle() -> None:
    with socket.create_server(("127.0.0.1", 0)) as lately:
        port = lately.getsockname()[1]
    assert network.why_not_bindable("127.0.0.1", port) is None


def test_the_last_port_in_use_does_not_suggest_one_beyond_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def in_use(*_: object) -> None:
        raise OSError(errno.EADDRINUSE, "in use")

    monkeypatch.setattr(network, "_claim_as_a_server_would", in_use)
    assert "--port 65534" in str(network.why_not_bindable("127.0.0.1", 65535))


@pytest.mark.parametrize(
    ("code", "said"),
    [
        (errno.EACCES, "take one above 1023"),
        (errno.EADDRNOTAVAIL, "not an address of this machine"),
        (errno.ENETDOWN, "Cannot serve on 127.0.0.1, port 80"),
    ],
)
def test_each_obstacle_has_its_sentence(code: int, said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(code, "refused")

    monkeypatch.setattr(network, "_claim_as_a_server_would", refuse)
    assert said in str(network.why_not_bindable("127.0.0.1", 80))


def test_a_host_that_is_no_name_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def unknown(*_: object, **__: object) -> None:
        raise socket.gaierror(socket.EAI_NONAME, "unknown")

    monkeypatch.setattr(socket, "getaddrinfo", unknown)
    assert network.why_not_bindable("nowhere", 8000) == (
        "--host nowhere is not a name or address that this machine knows."
    )
