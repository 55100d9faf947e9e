"""Whose sand it is: a bunker that the ball lies in, one that it lies beside, one in the way."""

from itertools import pairwise

from caddie.situation import IN_SAND, Lie, Stance
from caddie.words.mentions import Mention
from caddie.words.scene import Scene

STANDS_IN_SAND = "perhaps the ball"
"""What tells that the player stands in sand, and the ball with him if nothing else is told."""
OUT_OF = frozenset({"of", "from", "in"})
_FACE = frozenset({"lip", "face"})
_MADE = frozenset("bunker bunkers trap traps pot pit hole hollow".split())
_DEEP = frozenset("deep cavernous steep revetted faced pot".split())
_LEADS = frozenset({"fairway", "greenside", "cross", "left", "right", "front", "back"})
"""What may stand before a bunker that is named first."""
_BEFORE_TROUBLE = frozenset(
    {
        "with",
        "over",
        "and",
        "past",
        "near",
        "by",
        "beside",
        "behind",
        "there",
        "one",
        "to",
        "of",
        "carry",
        "clear",
        "is",
        "has",
        "have",
        "about",
        "around",
        "at",
        "next",
        "miss",
        "avoid",
        "but",
        "or",
        "can",
        "see",
        "beyond",
        "before",
        "after",
        "across",
        "between",
        "until",
        "CORRECTION",
    }
)


def is_beside_the_sand(scene: Scene) -> bool:
    """ "Just outside the bunker", "my feet are in the sand": the ball on grass, whatever sand is told besides."""
    feet = any(
        mention.get("feet_in_sand") is True
        or (mention.get("feet_in_sand") == STANDS_IN_SAND and _is_outside(scene))
        for mention in scene.having("feet_in_sand")
    )
    beside = any(_names_what_is_beside(scene, mention) for mention in scene.having("beside_sand"))
    return beside or (feet and not any(_says_in_sand(m) for m in scene.facts))


def _names_what_is_beside(scene: Scene, mention: Mention) -> bool:
    """ "On the bank of the bunker" is grass beside it; its upslope is a part of the sand."""
    slopes = [piece.said for piece in scene.pieces[mention.start : mention.end] if piece.text == "UPSLOPE"]
    return mention.get("lie") not in IN_SAND or not slopes or any("bank" in said for said in slopes)


def is_other_sand(scene: Scene, mention: Mention) -> bool:
    """ "On the fairway, the sand's wet": how the sand is, where the ball lies elsewhere."""
    return "of_sand" in mention and told_on_grass(scene)


def told_on_grass(scene: Scene) -> bool:
    """Whether the ball is told to lie on grass."""
    return any(m.get("lie") not in (None, *IN_SAND) for m in scene.having("lie"))


def _is_outside(scene: Scene) -> bool:
    """Whether the ball of a player who stands in sand is told to lie out of it: on grass, or above the feet."""
    return (
        told_on_grass(scene)
        or any(scene.having("on_grass"))
        or any(m.get("stance") == Stance.BALL_ABOVE for m in scene.having("stance"))
    )


def _says_in_sand(mention: Mention) -> bool:
    return mention.get("lie") in (Lie.BUNKER, Lie.PLUGGED) and "feet_in_sand" not in mention


def bunker_lain_in(scene: Scene, lies: list[Lie]) -> tuple[list[Lie], set[int]]:
    """The lies with the one that a bunker's name alone tells, and the pieces that name the bunker the ball lies in."""
    bunkers = [at for at, piece in enumerate(scene.pieces) if piece.text == "BUNKER"]
    unplaced = [at for at in bunkers if not is_placed(scene, at)]
    mine: set[int] = set()
    stands = [m for m in scene.having("feet_in_sand") if m.get("feet_in_sand") == STANDS_IN_SAND]
    if stands and not is_beside_the_sand(scene):
        lies = [*lies, Lie.BUNKER]
        mine.update(at for m in stands for at in range(m.start, m.end) if scene.pieces[at].text == "BUNKER")
    if Lie.BUNKER not in lies and any(scene.having("in_it")):
        named = [at for at in bunkers if at not in scene.denied]
        lies = [*lies, Lie.BUNKER] if named else lies
        mine.update(named[-1:])
    if Lie.BUNKER in lies:
        mine.update(at for at in unplaced if at > 0 and scene.pieces[at - 1].text in OUT_OF)
        mine.update(at for at in unplaced if _is_his(scene, at))
    if Lie.PLUGGED in lies:
        mine.update(unplaced)
    if lies:
        return lies, mine
    alone = _told_of_first(scene)
    alone = _lone_bunker(scene) if alone is None and not _is_well_on_grass(scene) else alone
    if alone is not None and not kept_clear(scene, alone):
        lies = [Lie.BUNKER]
        mine |= {alone, *(at for at in unplaced if at != alone and _is_same_sand(scene, at))}
    return lies, mine


def water_lain_in(scene: Scene) -> set[int]:
    """The pieces that name the water a ball lies in: none that is placed elsewhere."""
    return {at for at, piece in enumerate(scene.pieces) if piece.text == "WATER" and not is_placed(scene, at)}


def calls_it_deep(scene: Scene, mention: Mention) -> bool:
    """ "It's a deep one", "the bunker's deep": its face is high; of sand, "deep" says how soft it is."""
    pieces = scene.pieces[mention.start : mention.end]
    bunkers = [piece for piece in pieces if piece.text == "BUNKER"]
    if "deep_bunker" in mention:
        return not bunkers or not any(_is_only_sand(piece.said) for piece in bunkers)
    deep = any(piece.text == "deep" for piece in pieces) and len(pieces) == len(bunkers) + 1
    return deep and "sand" in mention and not any(_is_only_sand(piece.said) for piece in bunkers)


def is_named_deep(scene: Scene, mine: set[int]) -> bool:
    """Whether the bunker that the ball lies in has a name that says how deep it is: "pot bunker", "deep trap"."""
    names = (scene.pieces[at].said for at in mine if scene.pieces[at].text == "BUNKER")
    return any(not _is_only_sand(name) and _DEEP & {*name.split()[:-1]} for name in names)


def _is_only_sand(name: str) -> bool:
    return not _MADE & {*name.split()}


def kept_clear(scene: Scene, start: int) -> bool:
    """ "Away from the bunker", "clear of the sand": what the ball is to stay out of."""
    words = [piece.text for piece in scene.pieces[max(start - 2, 0) : start + 2]]
    return any(word in _CLEAR and then in ("from", "of") for word, then in pairwise(words))


_CLEAR = frozenset({"away", "clear", "wide"})


def _told_of_first(scene: Scene) -> int | None:
    """ "Sand, twenty yards, clean lie, low lip": named first, with a lip or how the ball lies, it is his."""
    first = bunker_named_first(scene)
    if first is None:
        return None
    if any(_belongs(scene, m, first) for m in scene.having("where", "side") if "before_green" not in m):
        return None
    lip = any(piece.text in _FACE for piece in scene.pieces)
    stands = any(scene.having("stance")) and _has_one_length(scene)
    return first if lip or stands or any(scene.having("good_lie", "sitting", "lip", "lip_m")) else None


def bunker_named_first(scene: Scene) -> int | None:
    """The piece that names a bunker with which the utterance begins, none before it but what kind it is."""
    first = next((at for at in (0, 1) if at < len(scene.pieces) and scene.pieces[at].text == "BUNKER"), None)
    if first is None or scene.pieces[first].value == "several" or first in scene.denied:
        return None
    return None if first and scene.pieces[0].text not in _LEADS else first


def _has_one_length(scene: Scene) -> bool:
    """Whether no second length is told, one of which would be the bunker's."""
    return sum(piece.quantity is not None and piece.quantity.is_length for piece in scene.pieces) == 1


def _is_well_on_grass(scene: Scene) -> bool:
    """ "Fifty yards, good lie, bunker": a good lie is the fairway's, unless a lip is told of with it."""
    lip = any(piece.text in _FACE for piece in scene.pieces)
    return any(scene.having("good_lie")) and not lip


def _is_his(scene: Scene, at: int) -> bool:
    """Sand spoken of beside a ball in sand is the same sand, unless a word puts it elsewhere."""
    before = scene.pieces[at - 1].text if at and not scene.pieces[at].after_break else ""
    return scene.pieces[at].value != "several" and before not in _BEFORE_TROUBLE and before != "#"


def _is_same_sand(scene: Scene, at: int) -> bool:
    """ "The sand on that beach", "sitting on top of the sand, 14 yards, trap"."""
    return _is_his(scene, at) or scene.pieces[at - 1].text in ("on", "of")


def is_placed(scene: Scene, at: int) -> bool:
    """Whether a place was told of the trouble there."""
    return any(_belongs(scene, mention, at) for mention in scene.having("where", "side"))


def _belongs(scene: Scene, place: Mention, at: int) -> bool:
    """Whether a place may be the bunker's: close by, nothing else that has a place between."""
    low, high = (at + 1, place.start) if place.start > at else (place.end, at)
    between = [piece.text for piece in scene.pieces[low:high]]
    return len(between) <= 3 and not any(text.isupper() or text == "#" for text in between)


def _lone_bunker(scene: Scene) -> int | None:
    """A bunker named with no side and nothing to say it is in the way is where the ball lies."""
    placed = {
        mention.trouble_at
        for mention in scene.facts
        if mention.get("with") == "trouble" and mention.trouble_at is not None
    }
    for at, piece in enumerate(scene.pieces):
        if piece.text != "BUNKER" or piece.value == "several" or at in placed or at in scene.denied:
            continue
        before = scene.pieces[at - 1].text if at else ""
        if before in _BEFORE_TROUBLE and not piece.after_break:
            continue
        near = [m for m in scene.having("where", "side") if _belongs(scene, m, at)]
        if any(
            scene.breaks_between(at, m.start) == 0
            or ("where" not in m and m.start == at + 1)
            or ("warned" in m and m.end == at)
            for m in near
        ):
            continue
        return at
    return None
