"""What several commands share: options and the bag they read.

Read with every command, so it imports no room.
"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from caddie.bag import Bag

BagFile = Annotated[
    Path | None,
    typer.Option("--bag", help="Bag file; your own in the data directory, or else the demo bag."),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object (one a line with -).")]
Seed = Annotated[int, typer.Option(min=0, help="The same seed gives the same answer.")]
Competition = Annotated[
    bool, typer.Option("--competition", help="No advice (Rule 4.3a(1)): distances as said, shots kept.")
]
OneObject = Annotated[bool, typer.Option("--json", help="Print one JSON object.")]
Yes = Annotated[bool, typer.Option("--yes", "-y", help="Do it without asking.")]


def bag_at(path: Path | None) -> "Bag":
    """The bag of a command: the file given, the player's own when there is one, else the demo bag.

    Raises:
        CaddieError: when it cannot be read.
    """
    from caddie.bag.file import kept_bag, load_bag

    return load_bag(path or kept_bag())
