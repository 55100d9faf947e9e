"""The phones and tablets that were let in: a file each, named by what their cookie comes to.

The cookie itself is kept nowhere, and to ask for a device is to look whether its file is there: one that is removed
is out at once, also out of a page that is being served.
"""

import contextlib
import hashlib
import json
import os
import secrets
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

from caddie.errors import CaddieError
from caddie.keeping import read_bytes, refused, write_new
from caddie.page.keys import key_folder
from caddie.printable import one_line

MOST_DEVICES = 20
SEEN_EVERY_S = 600.0
ID_LENGTH = 6
LONGEST_DEVICE_NAME = 80
_LARGEST_BYTES = 2_000


class Device(NamedTuple):
    """One device that was let in."""

    id: str
    name: str
    """What its browser says of itself."""
    let_in: datetime
    seen: datetime


class Devices:
    """Every device of this player's page."""

    def __init__(self, folder: Path | None = None) -> None:
        """Those of the data directory unless a folder is named."""
        self._folder = folder or key_folder() / "devices"

    def add(self, name: str) -> str:
        """Let a device in; the cookie by which it is known.

        Raises:
            CaddieError: if there are too many, or it cannot be written.
        """
        if len(self.all()) >= MOST_DEVICES:
            raise CaddieError(f"{MOST_DEVICES} devices are let in: remove one on the machine first")
        cookie = secrets.token_hex(32)
        about = {
            "name": one_line(name)[:LONGEST_DEVICE_NAME],
            "let_in": datetime.now(UTC).isoformat(timespec="seconds"),
        }
        write_new(self._place(cookie), json.dumps(about), new_folder=True)
        return cookie

    def knows(self, cookie: str | None) -> bool:
        """Whether this is the cookie of a device that was let in and not removed."""
        if not cookie:
            return False
        place = self._place(cookie)
        try:
            if time.time() - place.stat().st_mtime > SEEN_EVERY_S:
                os.utime(place)
        except OSError:
            return False
        return True

    def all(self) -> list[Device]:
        """The devices, the oldest first; a file that is none is passed over."""
        found = []
        for path in self._folder.glob("*.json"):
            with contextlib.suppress(CaddieError, ValueError, KeyError, TypeError, OSError):
                about = json.loads(read_bytes(path, _LARGEST_BYTES))
                seen = datetime.fromtimestamp(path.stat().st_mtime, UTC)
                let_in = datetime.fromisoformat(about["let_in"])
                found.append(Device(path.stem[:ID_LENGTH], str(about["name"]), let_in, seen))
        return sorted(found, key=lambda device: (device.let_in, device.id))

    def remove(self, device_id: str) -> None:
        """Let a device in no longer.

        Raises:
            CaddieError: if there is no such device, or its file cannot be removed.
        """
        named = [path for path in self._folder.glob("*.json") if path.stem[:ID_LENGTH] == device_id]
        if not named:
            raise CaddieError(f"{device_id}: no such device; 'caddie page devices' lists them")
        for path in named:
            try:
                path.unlink(missing_ok=True)
            except OSError as error:
                raise CaddieError(refused(path, "cannot be removed", error)) from None

    def _place(self, cookie: str) -> Path:
        # A digest of what the client sends is no path, whatever was sent.
        return self._folder / f"{hashlib.sha256(cookie.encode()).hexdigest()}.json"
