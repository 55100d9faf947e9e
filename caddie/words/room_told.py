"""How much green there is before the flag and behind it, of what is told of the green as a whole."""

from caddie.plan.assume import MOST_ROOM_M, room_in_depth
from caddie.situation import PinPosition
from caddie.words.distances import Distances
from caddie.words.mentions import Mention
from caddie.words.scene import Scene


def settle_the_room(scene: Scene, distances: Distances, position: PinPosition | None) -> None:
    """Take the room from a depth told, and leave it out where it was hardly told and the edge is at the ball.

    How far its far edge is tells what is behind the flag.

    "Just off the green, not much to work with": what lies before the flag is what is left of the way to it.
    """
    if distances.room_is_tucked and position is not None:
        distances.room_m = None  # "Tucked front right" tells where it is cut.
    near = list(scene.having("greenside"))
    at_the_edge = bool(near) and all(mention.get("at_edge") for mention in near)
    if distances.room_is_vague and at_the_edge and distances.pin_m is not None:
        distances.room_m = None
    if distances.behind_m is None and distances.pin_m is not None:
        far = next((m for m in scene.having("distance") if m.get("distance") == "to_back"), None)
        if far is not None and far.quantity is not None and far.quantity.is_length:
            behind_m = scene.length_m(far.quantity) - distances.pin_m
            distances.behind_m = behind_m if 0 < behind_m <= MOST_ROOM_M else None
    lengths = (distances.pin_m, distances.front_m)
    if distances.room_m is not None or None not in lengths or position is None:
        return
    deep = next((m for m in scene.having("distance") if _is_of_the_green(scene, m)), None)
    if deep is not None and deep.quantity is not None and deep.quantity.is_length:
        distances.room_m = room_in_depth(scene.length_m(deep.quantity), position)


def _is_of_the_green(scene: Scene, mention: Mention) -> bool:
    """Whether a depth is the green's: it is named with it, or right before."""
    near = scene.pieces[max(mention.start - 1, 0) : mention.end]
    return mention.get("distance") == "depth" and any(piece.text == "GREEN" for piece in near)
