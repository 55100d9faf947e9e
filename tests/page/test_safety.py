"""Nobody gets in, and nothing is taken that should not be.

The rules against foreign pages are those of the OWASP Cross-Site Request Forgery Prevention Cheat Sheet: verify
the origin, a token for every change, cookies with SameSite; a name that leads here without being ours (DNS
rebinding) is refused by the Host header. Header names are those of the Fetch standard and of CSP Level 3.
"""

import asyncio
import re

import pytest
from page_fixtures import PORT, SELF, SOCKET
from starlette.routing import Route
from starlette.websockets import WebSocketDisconnect

from caddie.page import guard
from caddie.page.guard import POLICY
from caddie.page.limits import LARGEST_BODY_BYTES, Bucket
from caddie.page.routes import Routes
from caddie.page.shell import shell_files

PRIVATE = (
    "/api/talk",
    "/api/bag",
    "/api/shots",
    "/api/practice",
    "/api/notes",
    "/picture/bag",
    "/paper/card",
    "/paper/report",
    "/paper/course",
)
SAYING = {"id": "", "text": "seventy yards, fairway"}


def changes():
    routes = Routes(None, None, None).all()
    return [route.path for route in routes if isinstance(route, Route) and "POST" in route.methods]


@pytest.mark.parametrize("path", PRIVATE)
def test_a_browser_that_was_not_let_in_sees_nothing(stranger, path):
    answer = stranger.get(path)
    assert answer.status_code == 401
    assert "Fenwick" not in answer.text


def test_the_shell_holds_nothing_of_the_player(stranger):
    assert stranger.get("/").status_code == 200
    assert "Fenwick" not in stranger.get("/").text


def test_the_key_lets_one_browser_in(stranger, keys):
    key = keys.once
    first = stranger.get(f"/?key={key}")
    assert first.status_code == 303 and first.headers["location"] == "/"
    told = first.headers["set-cookie"].lower()
    assert "samesite=strict" in told and "httponly" in told
    assert stranger.get("/api/talk").status_code == 200
    stranger.cookies.clear()
    assert "set-cookie" not in stranger.get(f"/?key={key}").headers
    assert stranger.get("/api/talk").status_code == 401


def test_a_wrong_cookie_is_none(stranger, keys):
    stranger.cookies.set(keys.cookie_name, "0" * 64)
    assert stranger.get("/api/talk").status_code == 401


@pytest.mark.parametrize("host", ["example.org", f"example.org:{PORT}", "127.0.0.1:80", "127.0.0.1", ""])
@pytest.mark.parametrize("path", ["/", "/api/talk"])
def test_a_foreign_host_is_refused(browser, host, path):
    assert browser.get(path, host=host).status_code == 421


@pytest.mark.parametrize(
    "origin",
    ["http://example.org", "null", "", f"https://127.0.0.1:{PORT}", "http://127.0.0.1:9999", SELF + "/"],
)
def test_a_foreign_origin_changes_nothing(browser, origin):
    assert browser.post("/api/say", SAYING, origin=origin).status_code == 403
    assert browser.get("/api/talk").json()["turns"] == []


def test_a_change_without_an_origin_is_refused(browser, keys):
    answer = browser.client.post("/api/say", json=SAYING, headers={"x-caddie-token": keys.token})
    assert answer.status_code == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_another_site_does_not_read(browser, site):
    """Another port of this machine is the same site, but not the same origin."""
    assert browser.get("/api/talk", **{"sec-fetch-site": site}).status_code == 403
    assert browser.get("/picture/bag", **{"sec-fetch-site": site}).status_code == 403


@pytest.mark.parametrize("path", changes())
def test_every_change_needs_the_token(browser, path):
    for token in ("", "0" * 64):
        answer = browser.post(path, {}, **{"x-caddie-token": token})
        assert answer.status_code == 403, path


def test_there_are_changes_to_guard():
    assert len(changes()) > 8


def test_what_is_too_large_is_refused(browser):
    body = {"id": "", "text": "a" * (LARGEST_BODY_BYTES + 1)}
    assert browser.post("/api/say", body).status_code == 413
    assert browser.get("/api/talk").json()["turns"] == []


def test_what_is_sent_in_pieces_is_counted_too(browser, keys):
    def pieces():
        for _ in range(100):
            yield b" " * 1000

    headers = {"origin": SELF, "x-caddie-token": keys.token, "content-type": "application/json"}
    assert browser.client.post("/api/say", content=pieces(), headers=headers).status_code == 413


@pytest.mark.parametrize(
    "body",
    [b"", b"{", b"[]", b"null", b'{"id":"","text":5}', b'{"text":"a","more":1}', b"\xff", b"[" * 60_000,
     b'{"text":"' + b"a" * 50_000 + b'"}'],
)  # fmt: skip
def test_what_is_no_sentence_is_told_so_in_one_line(browser, keys, body):
    headers = {"origin": SELF, "x-caddie-token": keys.token, "content-type": "application/json"}
    answer = browser.client.post("/api/say", content=body, headers=headers)
    assert answer.status_code == 400
    assert "\n" not in answer.json()["error"]


def test_a_form_of_another_page_is_no_json(browser, keys):
    headers = {"origin": SELF, "x-caddie-token": keys.token, "content-type": "text/plain"}
    assert browser.client.post("/api/say", content=b'{"text":"a"}', headers=headers).status_code == 400


@pytest.mark.parametrize("before", ["/shell/", "/picture/", "/paper/", "/"])
@pytest.mark.parametrize(
    "path",
    ["../pyproject.toml", "..%2f..%2fbag.toml", "%2e%2e/%2e%2e/etc/passwd", "....//bag.toml", "server.py",
     "/etc/passwd", "..\\bag.toml", "%00", "index.html%00.js", "C:%5cbag.toml"],
)  # fmt: skip
def test_no_path_reaches_a_file(browser, before, path):
    """Names are looked up in a list: no spelling of a path opens anything."""
    answer = browser.get(before + path)
    assert answer.status_code in (404, 405)
    assert not re.search(r"root:|schema|import ", answer.text)


def test_every_answer_keeps_other_pages_out(browser):
    for path in ("/", "/shell/main.js", "/api/talk", "/nothing", *PRIVATE[:4]):
        headers = browser.get(path).headers
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["cross-origin-resource-policy"] == "same-origin"
        assert headers["x-frame-options"] == "DENY"
        assert headers["content-security-policy"] == POLICY
        assert "access-control-allow-origin" not in headers


def test_the_policy_allows_nothing_inline_and_nothing_from_elsewhere(browser):
    assert "unsafe" not in POLICY and "http" not in POLICY and "*" not in POLICY
    assert POLICY.startswith("default-src 'none'")
    shell = browser.get("/").text
    assert not re.search(r"<script(?![^>]*src=)|\son\w+=|style=|https?://", shell)


@pytest.mark.parametrize("path", ["/picture/bag", "/paper/card", "/paper/report?of=demo"])
def test_documents_of_their_own_run_nothing(browser, path):
    policy = browser.get(path).headers["content-security-policy"]
    assert policy.startswith("default-src 'none'") and "sandbox" in policy
    assert "script-src" not in policy


def test_the_whole_shell_is_kept_for_when_the_machine_is_away(browser):
    kept = set(re.findall(r'"/shell/([^"]+)"', browser.get("/worker.js").text))
    assert {name for name in shell_files() if name.endswith((".js", ".css"))} - {"worker.js"} <= kept
    assert kept <= set(shell_files())


def test_too_much_at_once_is_refused(stranger):
    answers = [stranger.get("/api/talk").status_code for _ in range(120)]
    assert set(answers) == {401, 429}


def test_too_much_at_once_is_refused_to_a_known_browser_too(browser, monkeypatch):
    monkeypatch.setattr(browser.client.app, "_known", Bucket(3, 0.0))
    answers = [browser.get("/api/bag").status_code for _ in range(5)]
    assert answers == [200, 200, 200, 429, 429]


def test_what_is_sent_too_slowly_is_not_waited_for(monkeypatch):
    monkeypatch.setattr(guard, "SLOWEST_BODY_S", 0.05)

    async def drop_by_drop():
        await asyncio.sleep(0.02)
        return {"type": "http.request", "body": b" ", "more_body": True}

    body = asyncio.run(guard._whole_body(drop_by_drop, LARGEST_BODY_BYTES))
    assert isinstance(body, tuple) and body[0] == 408


def test_nothing_of_the_player_is_cached(browser):
    for path in PRIVATE[:6]:
        assert browser.get(path).headers["cache-control"] == "no-store"


@pytest.mark.parametrize(
    ("address", "headers"),
    [
        (SOCKET, {}),
        (SOCKET, {"origin": "http://example.org"}),
        (SOCKET, {"origin": SELF, "host": "example.org"}),
        (f"{SOCKET}/elsewhere", {"origin": SELF}),
    ],
)
def test_a_foreign_socket_is_refused(browser, address, headers):
    with pytest.raises(WebSocketDisconnect), browser.client.websocket_connect(address, headers=headers):
        pass


def test_the_pages_own_socket_is_taken(browser):
    with browser.client.websocket_connect(SOCKET, headers={"origin": SELF}):
        pass


def test_a_socket_of_a_browser_that_was_not_let_in_is_refused(stranger):
    with pytest.raises(WebSocketDisconnect), stranger.websocket_connect(SOCKET, headers={"origin": SELF}):
        pass
