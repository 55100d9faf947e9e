"""What of an utterance tells where a ball ended: mentions of results that belong to no longer phrase."""

from caddie.situation import Finish, Lie, Side
from caddie.words.mentions import Mention
from caddie.words.scene import Scene

_BESIDE_THE_HOLE = frozenset(
    {"past", "by", "left", "right", "short", "long", "from", "beyond", "through", "over", "away", "off"}
)


def own_mentions(scene: Scene) -> list[Mention]:
    """Result mentions that are not part of a longer phrase about the situation."""
    longer = [m for m in scene.facts if "hazard" in m or not {"distance", "where", "side"} & _keys(m)]
    return [
        m
        for m in scene.results
        if ("near" not in m or ends_there(scene, m))
        and not _is_denied(scene, m)
        and not ("not_left" in m and _goes_on_to_where(scene, m))
        and not any(
            (fact.start <= m.start and m.end <= fact.end and fact.end - fact.start > m.end - m.start)
            or ("break" in fact and fact.start < m.end and m.start < fact.end and fact.end - fact.start > 2)
            for fact in longer
        )
    ]


def _is_denied(scene: Scene, mention: Mention) -> bool:
    """ "Not holed", "never holed it", "not in the hole": a ball that stayed out."""
    at = mention.start - 1
    holed = mention.get("finish") == Finish.HOLED.value
    return holed and at >= 0 and scene.pieces[at].text in _NOT and not scene.pieces[mention.start].after_break


_NOT = frozenset({"not", "never"})


def _keys(mention: Mention) -> set[str]:
    return {key for reading in mention.readings for key in reading}


def _goes_on_to_where(scene: Scene, mention: Mention) -> bool:
    """ "It only went six feet past" tells where it ended, and not how far it went."""
    if mention.end >= len(scene.pieces) or scene.pieces[mention.end].after_break:
        return False
    return scene.pieces[mention.end].text in _BESIDE_THE_HOLE


def ends_there(scene: Scene, mention: Mention) -> bool:
    """Whether a finish told is where the ball ended, and not on its way."""
    if goes_into(scene, mention):
        return False
    if not mention.get("last"):
        return True
    return mention.end == len(scene.pieces) or scene.pieces[mention.end].after_break


def goes_into(scene: Scene, mention: Mention) -> bool:
    """ "Knocked it in the pond" is not knocked in."""
    at = mention.end
    if mention.get("finish") != Finish.HOLED.value or at >= len(scene.pieces) or scene.pieces[at].after_break:
        return False
    return scene.pieces[at - 1].text == "in" and scene.is_trouble(at)


def places_trouble(scene: Scene, side: Mention) -> bool:
    """ "Water left and long": of trouble named at the head of a clause it tells where that lies."""
    at = side.start - 1
    return at == 0 or (at > 0 and scene.pieces[at].after_break)


def names_trouble(scene: Scene, side: Mention) -> bool:
    """Whether trouble is named right before a side."""
    at = side.start - 1
    return at >= 0 and scene.is_trouble(at) and not scene.pieces[side.start].after_break


_BEGINS_TO_TELL = frozenset({"i", "so", "then", "ok", "we"})
_AS_FAR_AS = frozenset(
    {"in", "into", "over", "through", "past", "by", "beyond", "at", "across", "up", "down"}
)
"""After a bare "right" these make it "all the way": "chunked it right in the bunker"."""


_REMAINING = frozenset({"one", "putt", "tap in", "tiddler"})


def is_no_side(scene: Scene, mention: Mention) -> bool:
    """Whether "right" tells how straight a ball went and not to which side, or "left" how much a miss left."""
    missed = any("stayed_out" in m and m.end <= mention.start for m in own_mentions(scene))
    if missed and mention.quantity is not None and scene.pieces[mention.start].text == Side.LEFT.value:
        return True
    said = scene.pieces[mention.start].text if mention.end - mention.start == 1 else ""
    if said == Side.LEFT.value and mention.start and scene.pieces[mention.start - 1].text in _REMAINING:
        # "Uphill one left": the putt that is still to be made.
        return True
    alone = said == Side.RIGHT.value
    if alone and any(m.get("finish") == "holed" and m.end <= mention.start for m in own_mentions(scene)):
        return True
    if not alone or mention.end >= len(scene.pieces):
        return False
    after = scene.pieces[mention.end]
    if mention.start == 0 and after.text in _BEGINS_TO_TELL:
        # "Right, well, I hit the nine" tells no side.
        return True
    return after.text in _AS_FAR_AS and not after.after_break


_GOES_ON = 3
"""Words between where a ball plugged and what it did then."""


def goes_on_from_there(scene: Scene, lie: Mention) -> bool:
    """ "Plugged a bit, then stopped four paces past": a ball that plugged and went on lies in no sand."""
    if lie.get("lie") != Lie.PLUGGED.value:
        return False
    went_on = [m.start for m in own_mentions(scene) if "played" in m]
    return any(lie.end <= at < lie.end + _GOES_ON for at in went_on)
