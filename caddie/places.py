"""Where the files live: the data shipped with the package and the player's own data."""

import contextlib
import os
from pathlib import Path

import platformdirs

from caddie.errors import CaddieError

_PACKAGE = Path(__file__).parent


class NoHomeError(CaddieError):
    """There is nowhere to keep anything: the user has no home and ``CADDIE_HOME`` names no other place."""


def shipped(name: str) -> Path:
    """Path of a shipped file or folder such as ``"grammars/en"`` or ``"demo_bag/bag.toml"``.

    A wheel carries the data inside the package, a checkout beside it.

    Raises:
        CaddieError: if neither place has it.
    """
    for root in (_PACKAGE / "shipped", _PACKAGE.parent):
        if (root / name).exists():
            return root / name
    raise CaddieError(f"the installation has no {name}: install caddie again")


def home() -> Path:
    """The player's data directory (not created here); ``CADDIE_HOME`` moves it.

    Raises:
        NoHomeError: if the user has no home.
        CaddieError: if ``CADDIE_HOME`` begins with the home of nobody known.
    """
    moved = os.environ.get("CADDIE_HOME")
    if not moved:
        # Without a home, platformdirs refuses or, in older versions, gives "~" back as it is.
        with contextlib.suppress(RuntimeError):
            usual = platformdirs.user_data_path("caddie", appauthor=False)
            if usual.is_absolute():
                return usual
        raise NoHomeError(
            "this user has no home directory: set CADDIE_HOME to a folder where caddie may keep its files"
        )
    place = os.path.expanduser(moved)
    if place.startswith("~"):
        raise CaddieError(f"CADDIE_HOME is {moved}: nobody of that name has a home here; give a full path")
    return Path(place)
