"""A phone beside the machine: the certificate, the code, the devices, and nothing outside without ``--lan``.

The certificate is judged by OpenSSL as Python's ``ssl`` brings it, which follows RFC 5280.
"""

import io
import re
import ssl
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from http.client import HTTPConnection, HTTPSConnection
from ipaddress import IPv4Address

import numpy as np
import pytest
import zxingcpp
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from page_fixtures import PORT
from page_server import PageServer
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from caddie.cli.page import _lan_told
from caddie.errors import CaddieError
from caddie.page import certificate as certificates
from caddie.page.certificate import certificate_for, local_address
from caddie.page.devices import MOST_DEVICES, Devices
from caddie.page.door import CODE_LENGTH, LanDoor, code_shown
from caddie.page.guard import Guard
from caddie.page.listening import Listening
from caddie.page.server import application
from caddie.page.service import Service, Wanted

ADDRESS = IPv4Address("192.168.1.7")
LAN = f"https://{ADDRESS}:{PORT}"
OUTSIDE = "127.0.0.2"
"""Another address of this machine's own, on which nobody listens but with ``--lan --address``."""


class Screen(io.StringIO):
    """A terminal."""

    def isatty(self):
        return True


@pytest.fixture
def door(home):
    return LanDoor(ADDRESS, PORT, Devices(), lambda: None)


@pytest.fixture
def phone(stranger, keys, door):
    """A phone that was not let in; ``stranger`` is the same page by its other door."""
    with TestClient(Guard(stranger.app._app, keys, door), base_url=LAN, follow_redirects=False) as client:
        yield client


@pytest.fixture
def let_in(phone, door):
    assert phone.get(f"/?key={door.code}", headers={"user-agent": "a phone"}).status_code == 303
    return phone


def post(client, keys, path, body):
    return client.post(path, json=body, headers={"origin": LAN, "x-caddie-token": keys.token})


def test_the_code_lets_one_phone_in(phone, door):
    code = door.code
    assert phone.get("/api/talk").status_code == 401
    told = phone.get(f"/?key={code}").headers["set-cookie"].lower()
    assert all(each in told for each in ("samesite=strict", "httponly", "secure", "__host-"))
    assert phone.get("/api/talk").status_code == 200
    phone.cookies.clear()
    assert door.code != code
    assert "set-cookie" not in phone.get(f"/?key={code}").headers
    assert phone.get("/api/talk").status_code == 401


def test_the_code_may_be_typed_as_it_is_shown(phone, door):
    assert "set-cookie" in phone.get(f"/?key={code_shown(door.code).lower()}").headers


def test_codes_cannot_be_tried_one_after_the_other(phone, door):
    """So many tries at once, then one in five seconds: 31^10 codes are not found by trying."""
    code = door.code
    for number in range(20):
        phone.get(f"/?key={number:010}")
    assert "set-cookie" not in phone.get(f"/?key={code}").headers


def test_the_picture_in_the_terminal_leads_to_the_code(door, home, capsys, monkeypatch):
    """Read back by zxing-cpp, a reader of ISO/IEC 18004 that knows nothing of the writer."""
    monkeypatch.setattr(sys, "stdout", Screen())
    _lan_told(door, certificate_for(ADDRESS))
    rows = [
        line
        for line in re.sub(r"\x1b\[[\d;]*m", "", sys.stdout.getvalue()).splitlines()
        if set(line) <= set(" ▀▄█")
    ]
    halves = {" ": (0, 0), "▀": (1, 0), "▄": (0, 1), "█": (1, 1)}
    cells = np.array([[[halves[cell][half] for cell in line] for half in (0, 1)] for line in rows if line])
    picture = np.kron(np.pad(cells.reshape(-1, cells.shape[2]), 4), np.ones((8, 8)))
    found = {
        read.text
        for each in (picture, 1 - picture)
        for read in zxingcpp.read_barcodes((255 * each).astype(np.uint8))
    }
    assert found == {door.address}


def test_a_code_is_drawn_from_enough(door):
    assert len({LanDoor(ADDRESS, PORT, Devices(), lambda: None).code for _ in range(200)}) == 200
    assert len(door.code) == CODE_LENGTH


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "192.168.1.8", "example.org"])
def test_the_phones_door_answers_to_its_own_address_alone(let_in, host):
    assert let_in.get("/api/talk", headers={"host": f"{host}:{PORT}"}).status_code == 421


def test_this_machines_cookie_is_none_at_the_phones_door(phone, keys, door):
    phone.cookies.set(door.cookie_name, keys.cookie)
    assert phone.get("/api/talk").status_code == 401


def test_a_phones_cookie_is_none_at_this_machines_door(let_in, stranger, door, keys):
    stranger.cookies.set(keys.cookie_name, let_in.cookies[door.cookie_name])
    assert stranger.get("/api/talk").status_code == 401


@pytest.mark.parametrize("origin", [f"http://{ADDRESS}:{PORT}", f"http://127.0.0.1:{PORT}", "null"])
def test_a_foreign_origin_changes_nothing(let_in, keys, origin):
    headers = {"origin": origin, "x-caddie-token": keys.token}
    assert let_in.post("/api/say", json={"text": "seventy yards"}, headers=headers).status_code == 403


def test_phone_and_machine_see_one_talk(let_in, browser, keys):
    assert post(let_in, keys, "/api/say", {"text": "seventy yards, fairway"}).status_code == 200
    assert len(browser.get("/api/talk").json()["turns"]) == 1


def test_a_removed_device_is_out_at_once(let_in, caddie, home, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(home))
    (device,) = Devices().all()
    assert device.name == "a phone"
    listed = caddie("page", "devices")
    assert device.id in listed.out and "a phone" in listed.out
    removed = caddie("page", "devices", "--remove", device.id, "--yes")
    assert removed.code == 0 and "No device" in removed.out
    assert let_in.get("/api/talk").status_code == 401
    assert caddie("page", "devices", "--remove", device.id).code == 2


def test_the_socket_of_a_removed_device_is_cut_off(let_in, keys):
    with let_in.websocket_connect(f"wss://{ADDRESS}:{PORT}/voice", headers={"origin": LAN}) as socket:
        socket.send_json({"token": keys.token, "hands_free": False})
        assert socket.receive_json() == {"state": "learning"}
        assert socket.receive_json() == {"state": "waiting"}
        for device in Devices().all():
            Devices().remove(device.id)
        socket.send_json({"press": True})
        with pytest.raises(WebSocketDisconnect):
            socket.receive_json()


def test_what_a_device_says_of_itself_steers_no_terminal(phone, door):
    phone.get(f"/?key={door.code}", headers={"user-agent": "a\x1b[2J" + "b" * 500})
    (device,) = Devices().all()
    assert "\x1b" not in device.name and len(device.name) <= 80


def test_so_many_devices_and_no_more(home):
    for number in range(MOST_DEVICES):
        Devices().add(f"phone {number}")
    with pytest.raises(CaddieError, match="remove one"):
        Devices().add("one more")


@pytest.mark.parametrize("cookie", ["", "../secret", "x" * 5000, "\0", "é"])
def test_no_cookie_reaches_a_file(home, cookie):
    Devices().add("a phone")
    assert not Devices().knows(cookie)


def test_what_is_no_device_is_passed_over(home):
    Devices().add("a phone")
    (home / "page" / "devices" / "x.json").write_text("{")
    assert len(Devices().all()) == 1


def context(made):
    trusting = ssl.create_default_context(cadata=made.authority.decode())
    trusting.verify_flags |= ssl.VERIFY_X509_STRICT
    return trusting


def handshake(server, client, name):
    """A TLS handshake in memory; raises what the client finds wrong."""
    to_client, to_server = ssl.MemoryBIO(), ssl.MemoryBIO()
    one = server.wrap_bio(to_server, to_client, server_side=True)
    other = client.wrap_bio(to_client, to_server, server_hostname=name)
    for _ in range(4):
        for side in (other, one):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue
    return other.version()


def serving(file):
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(file)
    return server


def test_the_authority_is_offered_without_its_key(stranger, keys, home):
    made = certificate_for(ADDRESS)
    service = Service(Wanted())
    listening = Listening(service, keys, None)
    page = Guard(
        application(service, keys, listening, made.authority), keys, LanDoor(ADDRESS, PORT, Devices(), print)
    )
    with TestClient(page, base_url=LAN) as client:
        answer = client.get("/shell/authority.crt")
    listening.close()
    assert answer.headers["content-type"] == "application/x-x509-ca-cert"
    assert answer.content == made.authority and b"PRIVATE" not in answer.content
    assert stranger.get("/shell/authority.crt").status_code == 404


def test_openssl_takes_the_certificate_for_its_address_alone(home):
    made = certificate_for(ADDRESS)
    assert handshake(serving(made.file), context(made), str(ADDRESS)) == "TLSv1.3"
    for name in ("192.168.1.8", "example.org"):
        with pytest.raises(ssl.SSLCertVerificationError):
            handshake(serving(made.file), context(made), name)


@pytest.mark.parametrize("name", ["203.0.113.5", "example.org"])
def test_the_authority_can_vouch_for_no_other_site(home, name, tmp_path, monkeypatch):
    """RFC 5280, 4.2.1.10: a name outside the permitted subtrees makes the certificate no good."""
    made = certificate_for(ADDRESS)
    real = x509.SubjectAlternativeName
    forged = x509.IPAddress(IPv4Address(name)) if name[0].isdigit() else x509.DNSName(name)
    monkeypatch.setattr(certificates.x509, "SubjectAlternativeName", lambda _: real([forged]))
    authority = certificates._kept(home / "page" / "authority.pem")
    stolen = certificates._made(ADDRESS, authority, datetime.now(UTC))
    (tmp_path / "stolen.pem").write_bytes(stolen.pem)
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree"):
        handshake(serving(tmp_path / "stolen.pem"), context(made), name)


def test_the_certificate_is_kept_and_made_anew_only_where_it_must(home):
    first = certificate_for(ADDRESS)
    assert certificate_for(ADDRESS) == first
    elsewhere = certificate_for(IPv4Address("10.0.0.3"))
    assert elsewhere.fingerprint != first.fingerprint and elsewhere.authority == first.authority
    later = datetime.now(UTC) + timedelta(days=380)
    assert certificate_for(IPv4Address("10.0.0.3"), later).fingerprint != elsewhere.fingerprint
    assert all(path.stat().st_mode & 0o077 == 0 for path in (home / "page").iterdir())


def test_the_fingerprint_is_that_of_the_certificate(home):
    made = certificate_for(ADDRESS)
    shown = x509.load_pem_x509_certificate(made.file.read_bytes())
    assert made.fingerprint.replace(":", "").lower() == shown.fingerprint(hashes.SHA256()).hex()


@pytest.mark.parametrize("name", ["authority.pem", "certificate.pem"])
def test_a_damaged_certificate_is_told_in_one_line(home, name):
    certificate_for(ADDRESS)
    (home / "page" / name).write_text("-----BEGIN nothing")
    with pytest.raises(CaddieError, match="remove it"):
        certificate_for(ADDRESS)


@pytest.mark.parametrize("named", ["8.8.8.8", "203.0.113.1", "0.0.0.0", "::1", "here", "192.168.1.7/24"])
def test_an_address_of_the_world_is_refused(named):
    with pytest.raises(CaddieError):
        local_address(named)


def test_an_address_is_for_lan(caddie):
    assert "--lan" in caddie("page", "--address", "192.168.1.7").err


@pytest.fixture
def server(home):
    running = PageServer(home)
    yield running
    running.kill()


def test_without_lan_nothing_outside_this_machine_is_answered(server):
    server.start()
    others = subprocess.getoutput("hostname -I").split()
    for address in (OUTSIDE, *others):
        with pytest.raises(OSError, match=r"refused|unreachable"):
            HTTPConnection(address, server.port, timeout=5).connect()


def test_with_lan_a_phone_comes_in_by_the_code_over_tls(server, home):
    server.start("--lan", "--address", OUTSIDE)
    line = server.next_line()
    code = re.search(r"code ([A-Z2-9-]+)", line)[1]
    made = certificate_for(IPv4Address(OUTSIDE))
    assert made.fingerprint in server.next_line()
    connection = HTTPSConnection(OUTSIDE, server.port, timeout=30, context=context(made))
    connection.request("GET", f"/?key={code}")
    answer = connection.getresponse()
    answer.read()
    cookie = answer.headers["set-cookie"].split(";")[0]
    connection.request("GET", "/api/talk", headers={"cookie": cookie})
    assert connection.getresponse().status == 200
    connection.close()
    plain = HTTPConnection(OUTSIDE, server.port, timeout=5)
    plain.request("GET", "/")
    with pytest.raises(OSError, match=r"reset|closed|without response"):
        plain.getresponse()
    assert server.interrupt() == ""
