"""Where the page's bag file is: looked at anew each time, for it may be made beside the page."""

from pathlib import Path

from caddie.bag.file import kept_bag, own_bag


class BagPlace:
    """The file named on the command line, or the player's own."""

    def __init__(self, named: Path | None = None) -> None:
        """None is the player's own in the data directory."""
        self._named = named

    @property
    def path(self) -> Path | None:
        """The file, or None while there is none: then the demo bag is shown, which is not edited."""
        return self._named or kept_bag()

    @property
    def first(self) -> Path:
        """Where a first bag goes."""
        return self._named or own_bag()
