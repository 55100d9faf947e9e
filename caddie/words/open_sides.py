"""The sides where nothing is to be feared: "open to the right", "room on the left", "nothing long"."""

from collections.abc import Iterable

from caddie.situation import Hazard, Side
from caddie.words.scene import Scene


def read_open_sides(scene: Scene, hazards: Iterable[Hazard]) -> tuple[Side, ...]:
    """The open sides as said, but those where trouble was told of too."""
    told = dict.fromkeys(Side(str(mention.get("open_side"))) for mention in scene.having("open_side"))
    bad = {hazard.side for hazard in hazards}
    return tuple(side for side in told if side not in bad)
