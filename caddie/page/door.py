"""The ways in: this machine's own browsers, and with ``--lan`` the phones beside it.

Each has its addresses, its cookie and the people it knows; a cookie of one is nothing at the other.
"""

import secrets
from collections.abc import Callable
from ipaddress import IPv4Address
from typing import Protocol

from caddie.page.devices import Devices
from caddie.page.keys import Keys, same
from caddie.page.limits import Bucket

CODE_LETTERS = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"
"""Without those that look like another."""
CODE_LENGTH = 10
HOST = "127.0.0.1"


class Door(Protocol):
    """One way in."""

    @property
    def scheme(self) -> str:
        """How a browser speaks to it: http or https."""

    @property
    def hosts(self) -> frozenset[str]:
        """Every name that may stand in a request for it."""

    @property
    def cookie_name(self) -> str:
        """What the cookie is called."""

    def let_in(self, key: str, browser: str) -> str | None:
        """The cookie for a browser with the key of the moment, which is used up by it; None for another key.

        Raises:
            CaddieError: if what lets it in cannot be written.
        """

    def knows(self, cookie: str | None) -> bool:
        """Whether a browser was let in before."""


class OwnDoor:
    """For browsers on this machine."""

    scheme = "http"

    def __init__(self, keys: Keys, port: int, on_let_in: Callable[[], None]) -> None:
        """``on_let_in`` is called when a browser has come in, and the address is another one."""
        self._keys, self._on_let_in = keys, on_let_in
        self.cookie_name = keys.cookie_name
        self.hosts = frozenset({f"{HOST}:{port}", f"localhost:{port}"})
        self._port = port

    @property
    def address(self) -> str:
        """Where a browser is let in, once."""
        return f"http://{HOST}:{self._port}/?key={self._keys.once}"

    def let_in(self, key: str, browser: str) -> str | None:
        """The cookie of this machine for the key of the moment."""
        if not self._keys.let_in(key):
            return None
        self._on_let_in()
        return self._keys.cookie

    def knows(self, cookie: str | None) -> bool:
        """Whether a browser was let in before."""
        return self._keys.knows(cookie)


class LanDoor:
    """For phones beside this machine."""

    scheme = "https"

    def __init__(
        self, address: IPv4Address, port: int, devices: Devices, on_let_in: Callable[[], None]
    ) -> None:
        """``on_let_in`` is called when a device has come in, and the code is another one."""
        self._devices, self._on_let_in = devices, on_let_in
        self._site = f"https://{address}:{port}"
        self.hosts = frozenset({f"{address}:{port}"})
        # Browsers take a cookie of such a name from a secure page alone, and send it to no other host.
        self.cookie_name = f"__Host-caddie_{port}"
        self.code = _new_code()
        self._tries = Bucket(10, 0.2)

    @property
    def site(self) -> str:
        """Where a device comes in, with the code typed there."""
        return self._site

    @property
    def address(self) -> str:
        """The same with the code in it."""
        return f"{self._site}/?key={self.code}"

    def let_in(self, key: str, browser: str) -> str | None:
        """A device's own cookie for the code of the moment; codes cannot be tried one after the other.

        Raises:
            CaddieError: if there are too many devices, or this one cannot be written.
        """
        if not self._tries.take() or not same(_plain(key), self.code):
            return None
        cookie = self._devices.add(browser)
        self.code = _new_code()
        self._on_let_in()
        return cookie

    def knows(self, cookie: str | None) -> bool:
        """Whether a device was let in, and not removed since."""
        return self._devices.knows(cookie)


def code_shown(code: str) -> str:
    """A code as it is read and typed: in two halves."""
    return f"{code[: CODE_LENGTH // 2]}-{code[CODE_LENGTH // 2 :]}"


def _new_code() -> str:
    return "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))


def _plain(key: str) -> str:
    return "".join(letter for letter in key.upper() if letter in CODE_LETTERS)[: CODE_LENGTH + 1]
