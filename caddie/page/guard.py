"""What stands before every request: who asks, from which page, how much and how often.

A page of another site can make a browser send requests here: it is stopped by the host it must name (a name
that leads to this machine without being ours is refused), by the origin that browsers add, by a cookie that
is not sent along from elsewhere, and by a token that it cannot read.
"""

import asyncio
from http.cookies import CookieError, SimpleCookie
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from caddie.page.door import Door
from caddie.page.keys import Keys
from caddie.page.limits import SLOWEST_BODY_S, Bucket, largest_body_bytes

PRIVATE = ("/api/", "/picture/", "/paper/", "/voice")
"""Everything with a word of the player in it."""
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "manifest-src 'self'; worker-src 'self'; media-src 'self' blob:; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
_ALWAYS = {
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "permissions-policy": "microphone=(self), camera=(), geolocation=()",
    "server": "caddie",
}
NOT_LET_IN = "this browser has not been let in: open the address that the terminal shows, or type its code"
WRONG_TOKEN = "this page is out of date: load it again"


DOOR = "caddie.door"
"""Where a request carries the way by which it came in."""


class Guard:
    """The application inside answers only what may be asked."""

    def __init__(self, app: ASGIApp, keys: Keys, door: Door) -> None:
        self._app, self._keys, self._door = app, keys, door
        self._known, self._strangers = Bucket(200, 50.0), Bucket(60, 10.0)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refused = self._refused(scope, headers)
        scope[DOOR] = self._door
        if scope["type"] == "websocket":
            if refused:
                # Before it is accepted a socket is refused with 403, whatever the reason.
                await receive()
                await send({"type": "websocket.close", "code": 1008})
            else:
                cookie = _cookie(headers, self._door.cookie_name)
                await self._app(scope, self._while_known(cookie, receive, send), send)
            return
        if refused:
            status, reason = refused
            await JSONResponse({"error": reason}, status)(scope, receive, _with_headers(send))
            return
        body = await _whole_body(receive, largest_body_bytes(scope["path"]))
        if isinstance(body, tuple):
            await JSONResponse({"error": body[1]}, body[0])(scope, receive, _with_headers(send))
            return
        await self._app(scope, _given(body, receive), _with_headers(send))

    def _while_known(self, cookie: str | None, receive: Receive, send: Send) -> Receive:
        """What a socket says, until its device is removed."""

        async def next_message() -> Message:
            message = await receive()
            if self._door.knows(cookie):
                return message
            if message["type"] != "websocket.disconnect":
                await send({"type": "websocket.close", "code": 1008})
            return {"type": "websocket.disconnect", "code": 1008}

        return next_message

    def _refused(self, scope: Scope, headers: Headers) -> tuple[int, str] | None:
        """Status and reason, or None when it may pass."""
        host = headers.get("host", "")
        if host not in self._door.hosts:
            return 421, "this address is not one of the page's"
        socket, changes = scope["type"] == "websocket", scope.get("method") not in ("GET", "HEAD", None)
        origin = headers.get("origin")
        if (origin is not None or socket or changes) and origin != f"{self._door.scheme}://{host}":
            return 403, "only the page itself may ask this"
        private = scope["path"].startswith(PRIVATE)
        if private and headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return 403, "only the page itself may ask this"
        known = self._door.knows(_cookie(headers, self._door.cookie_name))
        if not (self._known if known else self._strangers).take():
            return 429, "too much at once: wait a second"
        if private and not known:
            return 401, NOT_LET_IN
        if changes and not self._keys.allows(headers.get("x-caddie-token")):
            return 403, WRONG_TOKEN
        return None


def door_of(scope: Scope) -> Door:
    """The way by which a request came in."""
    door: Door = scope[DOOR]
    return door


def _cookie(headers: Headers, name: str) -> str | None:
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return None
    return found.value if found else None


async def _whole_body(receive: Receive, most_bytes: int) -> bytes | tuple[int, str]:
    """The body, or a status and a reason when it is too large or too slow."""
    read = bytearray()
    try:
        async with asyncio.timeout(SLOWEST_BODY_S):
            while True:
                message = await receive()
                if message["type"] == "http.disconnect":
                    return 400, "the request broke off"
                read += message.get("body", b"")
                if len(read) > most_bytes:
                    return 413, f"that is more than {most_bytes // 1000} kB"
                if not message.get("more_body"):
                    return bytes(read)
    except TimeoutError:
        return 408, "the request took too long"


def _given(body: bytes, receive: Receive) -> Receive:
    """The body once, then whatever comes."""
    waiting: list[Message] = [{"type": "http.request", "body": body, "more_body": False}]

    async def next_message() -> Message:
        return waiting.pop() if waiting else await receive()

    return next_message


def _with_headers(send: Send) -> Send:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers: Any = MutableHeaders(scope=message)
            for name, value in _ALWAYS.items():
                headers[name] = value
            headers.setdefault("content-security-policy", POLICY)
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return sent
