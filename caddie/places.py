"""Where the files live: the data shipped with the package and the player's own data."""

import os
from pathlib import Path

import platformdirs

from caddie.errors import CaddieError

_PACKAGE = Path(__file__).parent


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
        CaddieError: if ``CADDIE_HOME`` begins with the home of nobody known.
    """
    moved = os.environ.get("CADDIE_HOME")
    if not moved:
        return platformdirs.user_data_path("caddie", appauthor=False)
    place = os.path.expanduser(moved)
    if place.startswith("~"):
        raise CaddieError(f"CADDIE_HOME is {moved}: nobody of that name has a home here; give a full path")
    return Path(place)
