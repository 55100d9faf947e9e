"""Numbers without a unit that are a wind's speed: right behind or before a wind, and farther told elsewhere."""

from collections.abc import Sequence

from caddie.words.mentions import Mention
from caddie.words.quantities import Piece
from caddie.words.scene import Scene

LIKELY_MPH = 25
"""Up to here a bare number behind a wind is its speed, when a longer one tells how far."""
_BLOWN_AT = frozenset({"face", "faces", "teeth", "chops"})


def is_likely_speed(scene: Scene, at: int) -> bool:
    """ "Into 10": small, nothing behind it, and another number tells how far."""
    quantity = scene.pieces[at].quantity
    ends = at + 1 == len(scene.pieces) or scene.pieces[at + 1].after_break
    if quantity is None or quantity.unit is not None or quantity.middle > LIKELY_MPH or not ends:
        return False
    return _farther_among([*scene.pieces[:at], *scene.pieces[at + 1 :]])


def _farther_among(pieces: Sequence[Piece]) -> bool:
    """Whether a length is told that is too great for a wind's speed: how far it is."""
    told = (piece.quantity for piece in pieces)
    return any(length is not None and length.is_length and length.low > LIKELY_MPH for length in told)


def follows_wind(scene: Scene, at: int, mentions: list[Mention], *, first: bool) -> bool:
    """Right behind a wind with "at" between, or with nothing between when the distance was said before."""
    led = scene.pieces[at - 1].text == "at"
    if not led and _is_alone_behind_wind(scene, at, mentions):
        return True
    if not led and first:
        return _is_a_speed(scene, at, mentions)
    if not led and (first or (at + 1 < len(scene.pieces) and not scene.pieces[at + 1].after_break)):
        return False
    end = at - 1 if led else at
    return any(m.end == end for m in mentions) and not scene.breaks_between(end - 1, at)


def _is_alone_behind_wind(scene: Scene, at: int, mentions: list[Mention]) -> bool:
    """ "74 left. Wind off the left, 20. Tight lie": alone in the clause behind a wind, and farther told before."""
    apart = scene.pieces[at].after_break and any(m.end == at for m in mentions)
    return apart and _farther_among(scene.pieces[:at]) and is_likely_speed(scene, at)


def precedes_wind(scene: Scene, at: int, mentions: list[Mention]) -> bool:
    """ "87, 12 into and off the right": small, right before a wind, and a longer length told how far."""
    quantity = scene.pieces[at].quantity
    if quantity is None or quantity.middle > LIKELY_MPH or not scene.pieces[at].after_break:
        return False
    behind = any(m.start == at + 1 and not scene.pieces[at + 1].after_break for m in mentions)
    return behind and _farther_among(scene.pieces[:at])


def _is_a_speed(scene: Scene, at: int, mentions: list[Mention]) -> bool:
    """ "Hurting about 8, 101 to the flag", "hurting, 10 to 15, 84 yards": small, and a length comes after."""
    quantity = scene.pieces[at].quantity
    ends = at + 1 < len(scene.pieces) and scene.pieces[at + 1].after_break
    if quantity is None or quantity.middle > LIKELY_MPH or not ends:
        return False
    if scene.pieces[at].after_break and quantity.low == quantity.high:
        return False
    return any(mention.end == at for mention in mentions) and _farther_among(scene.pieces[at + 1 :])


def is_bare_speed(scene: Scene, mention: Mention) -> bool:
    """Whether the number within a mention of a wind is its speed, and not how far it is."""
    if "wind_number" not in mention or mention.quantity is None or mention.quantity.unit is not None:
        return False
    at = mention.quantity_at or 0
    beside = scene.pieces[at - 1].text in _BLOWN_AT if at else True
    if (at == mention.start or beside) and mention.quantity.middle > LIKELY_MPH:
        return False  # "The bunker is forty-eight, the wind left to right": said of what stood before.
    return "distance" not in mention and "slope" not in mention
