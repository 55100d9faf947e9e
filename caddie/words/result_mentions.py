"""What of an utterance tells where a ball ended: mentions of results that belong to no longer phrase."""

from caddie.situation import Finish
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
        and not ("not_left" in m and _goes_on_to_where(scene, m))
        and not any(
            (fact.start <= m.start and m.end <= fact.end and fact.end - fact.start > m.end - m.start)
            or ("break" in fact and fact.start < m.end and m.start < fact.end and fact.end - fact.start > 2)
            for fact in longer
        )
    ]


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
