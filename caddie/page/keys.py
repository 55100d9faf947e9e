"""Who may come in: an address that works once, the cookie it is changed for, and a token for every change.

Cookie and token are made from a secret kept in the data directory, so that an installed page still knows its
server after a restart; the address changes with each use. A phone beside this machine has a cookie of its own
(:mod:`caddie.page.devices`).
"""

import hashlib
import hmac
import secrets
from pathlib import Path

from caddie.errors import CaddieError
from caddie.keeping import read_bytes, write_atomically
from caddie.places import home

SECRET_BYTES = 32


def key_folder() -> Path:
    """Where the secret is kept."""
    return home() / "page"


def kept_secret() -> bytes:
    """The secret of this player's page, made at first use; the file is the player's alone.

    Raises:
        CaddieError: if it cannot be read or written.
    """
    path = key_folder() / "secret"
    if not path.exists():
        write_atomically(path, secrets.token_bytes(SECRET_BYTES), new_folder=True, through_link=False)
    secret = read_bytes(path, SECRET_BYTES)
    if len(secret) != SECRET_BYTES:
        raise CaddieError(f"{path}: is no secret of the page; remove it, and a new one is made")
    return secret


class Keys:
    """What is compared with what a browser brings."""

    def __init__(self, secret: bytes, port: int) -> None:
        """Made from the kept secret; ``port`` keeps two servers' cookies apart, which a browser does not."""
        self.cookie_name = f"caddie_{port}"
        self.cookie = _made(secret, b"cookie")
        self.token = _made(secret, b"token")
        self.once = secrets.token_urlsafe(16)
        """Lets one browser in; then there is another."""

    def let_in(self, key: str) -> bool:
        """Whether this is the key of the moment, which is used up by it."""
        if not same(key, self.once):
            return False
        self.once = secrets.token_urlsafe(16)
        return True

    def knows(self, cookie: str | None) -> bool:
        """Whether a browser was let in before."""
        return cookie is not None and same(cookie, self.cookie)

    def allows(self, token: str | None) -> bool:
        """Whether a change comes from the page itself."""
        return token is not None and same(token, self.token)


def _made(secret: bytes, what: bytes) -> str:
    return hmac.new(secret, what, hashlib.sha256).hexdigest()


def same(one: str, other: str) -> bool:
    """Whether two secrets are one, without telling by the time it takes how far they are."""
    return hmac.compare_digest(one.encode(), other.encode())
