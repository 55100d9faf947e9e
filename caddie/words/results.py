"""What became of the shot: strike, where it finished, how far from the hole."""

import math
from dataclasses import replace
from itertools import pairwise

from caddie.situation import FARTHEST_M, Finish, Lie, Result, Side, Strike
from caddie.units import SMALL_UNITS, Unit
from caddie.words.mentions import Mention
from caddie.words.result_mentions import (
    ends_there,
    goes_into,
    goes_on_from_there,
    is_no_side,
    names_trouble,
    own_mentions,
    places_trouble,
)
from caddie.words.scene import Scene
from caddie.words.strokes_told import holed_out, missed_before_holing
from caddie.words.to_come import asks_how, supposed, tells_a_shot_to_come

NEAR_M = 0.5
"""A ball "stiff" or "stone dead" from the hole."""
FINISH_OF_LIE = {
    Lie.FAIRWAY: Finish.FAIRWAY,
    Lie.FRINGE: Finish.FRINGE,
    Lie.FIRST_CUT: Finish.ROUGH,
    Lie.LIGHT_ROUGH: Finish.ROUGH,
    Lie.HEAVY_ROUGH: Finish.ROUGH,
    Lie.BUNKER: Finish.BUNKER,
    Lie.PLUGGED: Finish.BUNKER,
    Lie.GREEN: Finish.GREEN,
    Lie.PINE_STRAW: Finish.TREES,
}
_SAID_OF_IT = frozenset(
    {
        "it",
        "in",
        "into",
        "the",
        "gone",
        "i",
        "that",
        "found",
        "hit",
        "oh",
        "no",
        "has",
        "straight",
        "ended",
        "up",
    }
)
"""Words beside trouble that leave it all that was said: "oh no, it has gone in the water"."""
_OPPOSITE = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT, Side.SHORT: Side.LONG, Side.LONG: Side.SHORT}
_OF_A_HABIT = frozenset({"those", "these", "always", "usually", "tend", "would", "might", "could", "should"})
"""Words of what a player does as a rule, or only thinks of: "I always chunk those", "I would not trust it"."""
_FEARED = frozenset({"not", "to", "can", "cannot", "could", "will", "never"})
_NAMED_SIDES = {"back": Side.LONG, "front": Side.SHORT}
"""What a side that trouble is named by comes to."""
_FINISH_OF_TROUBLE = {
    "BUNKER": Finish.BUNKER,
    "WATER": Finish.WATER,
    "TREES": Finish.TREES,
    "SCRUB": Finish.ROUGH,
    "BUSH": Finish.TREES,
    "BRANCH": Finish.TREES,
    "OUT_OF_BOUNDS": Finish.OUT_OF_BOUNDS,
}


def is_result(scene: Scene) -> bool:
    """Whether the utterance tells what a played shot did."""
    mentions = own_mentions(scene)
    if any("odds" in m for m in scene.facts):
        return False
    if not _OF_A_HABIT.isdisjoint(piece.text for piece in scene.pieces):
        return False
    if tells_a_shot_to_come(scene, mentions) or asks_how(scene) or supposed(scene):
        return False
    if any(("commitment" in m and "weak" not in m) or holed_out(scene, m) for m in mentions):
        return True
    told = (m for m in mentions if ("strike" in m or "finish" in m) and "weak" not in m)
    if any(ends_there(scene, m) and not _only_thought_of(scene, m) for m in told):
        return True
    if any("weak" in m and _tells(scene, m, mentions) for m in mentions):
        return True
    if any("left_over" in m and m.quantity is not None and m.quantity.unit == Unit.FEET for m in mentions):
        return True
    to_carry = [m for m in scene.having("distance") if m.get("distance") == "carry"]
    mentions = [m for m in mentions if not _still_to_hole(scene, m)]
    played = [
        m
        for m in mentions
        if goes_into(scene, m)
        or ("played" in m and not any(c.start <= m.start and m.end <= c.end for c in to_carry))
    ]
    if not played and any(m.get("where") == "sides" for m in scene.facts):
        # "Bunkers, left and right": no ball ends on both.
        return False
    if not played:
        return _only_result(scene, mentions) or _in_trouble_alone(scene)
    where = any(key in m for m in mentions for key in ("result_distance", "result_side", "near", "weak"))
    where = where or any(scene.having("where")) or _putt_left(scene)
    return where or any(scene.having("lie")) or any(scene.is_trouble(at) for at in range(len(scene.pieces)))


def _still_to_hole(scene: Scene, mention: Mention) -> bool:
    """ "Got to clean up this tap-in": a putt that is left, and no ball that was hit."""
    if "near" not in mention:
        return False
    before = [piece.text for piece in scene.pieces[max(mention.start - _REACH, 0) : mention.start]]
    has_to = any(first in _HAS and second == "to" for first, second in pairwise(before))
    return has_to or not _WILL.isdisjoint(before)


_REACH = 5
_HAS = frozenset({"got", "have", "has", "need", "needs", "want", "going", "still"})
_WILL = frozenset({"must", "will", "can", "should"})


def _only_thought_of(scene: Scene, mention: Mention) -> bool:
    """ "Something I can't chunk": feared, and not done."""
    at = mention.start - 1
    if at < 0 or scene.pieces[mention.start].after_break or "finish" in mention:
        return False
    return scene.pieces[at].text in _FEARED


def _putt_left(scene: Scene) -> bool:
    """ "Lagged it, eighteen inches": a length of its own in what putts are counted in."""
    return any(
        piece.quantity is not None
        and piece.quantity.unit in SMALL_UNITS
        and (at == 0 or piece.after_break)
        and (at + 1 == len(scene.pieces) or scene.pieces[at + 1].after_break)
        for at, piece in enumerate(scene.pieces)
    )


def _tells(scene: Scene, strike: Mention, mentions: list[Mention]) -> bool:
    """ "Fat" alone, "fat into the pond" or "fat, ten yards short" is a strike; "heavy" before rough is not."""
    if strike.end == len(scene.pieces):
        return strike.start == 0
    far = any("result_distance" in m or "result_side" in m for m in mentions)
    far = far or _stopped_in(scene, strike)
    if strike.end - strike.start > 1:
        # "Bit fat, short of the bunker"; a bare "heavy" may be the grass.
        far = far or any(scene.having("where", "side"))
    into = scene.pieces[strike.end].text == "into" and _stopped_in(scene, strike)
    return strike.start == 0 and (into or (scene.pieces[strike.end].after_break and far))


def _stopped_in(scene: Scene, strike: Mention) -> bool:
    """ "Fat. In the rough", "bit heavy, in the bunker": a bare "heavy" may be the grass."""
    at, struck = strike.end, [piece.text for piece in scene.pieces[strike.start : strike.end]]
    rest = [piece.text for piece in scene.pieces[at:]]
    if len(rest) == len(_NAMED_SIDES) and rest[0] in _NAMED_SIDES and rest[1] == "BUNKER":
        return True
    if struck == ["heavy"] or scene.pieces[at].text not in _THERE:
        return False
    lies = any(m.start in (at, at + 1) for m in scene.having("lie"))
    return lies or any(scene.is_trouble(i) for i in range(at, min(at + 3, len(scene.pieces))))


def _only_result(scene: Scene, mentions: list[Mention]) -> bool:
    """Nothing but how far and which side: "long and left, eighteen feet"."""
    covered = {at for mention in mentions for at in range(mention.start, mention.end)}
    for at, piece in enumerate(scene.pieces):
        following = [p.text for p in scene.pieces[at + 1 : at + 3]]
        if piece.text == "on" and (following[:1] == ["GREEN"] or following == ["in", "one"]):
            covered.update(range(at, at + 1 + len(following[: 1 + (following[0] == "in")])))
    rest = [piece for at, piece in enumerate(scene.pieces) if at not in covered]
    sides = [mention for mention in mentions if "result_side" in mention]
    named = [side for side in sides if names_trouble(scene, side)]
    if len(named) > 1 or any(places_trouble(scene, side) for side in named):
        # A ball ends in one of them: "sixty-six yards trees left bunker right" tells where they stand.
        return False
    far = any(piece.quantity is not None and piece.quantity.is_length for piece in scene.pieces)
    if sides and far:
        # "Fifteen feet past on the fringe".
        there = {
            at for m in scene.having("lie") if m.start and _is_there(scene, m) for at in range(m.start, m.end)
        }
        rest = [piece for at, piece in enumerate(scene.pieces) if at not in covered | there]
    if len(sides) > 1:
        rest = [piece for piece in rest if piece.text not in scene.troubles]
    if any(piece.text not in ("and", "of", "it", "me", "to", "#", "by") for piece in rest):
        return any("near" in m and m.end - m.start == len(scene.pieces) for m in mentions)
    feet = any(piece.quantity is not None and piece.quantity.unit == Unit.FEET for piece in scene.pieces)
    if any("pin_high" in m for m in mentions) and not feet:
        return False
    return bool(sides) and (far or len(sides) > 1)


def _is_there(scene: Scene, lie: Mention) -> bool:
    """Whether a lie says where a ball ended, behind how far and to which side."""
    return scene.pieces[lie.start].text in _THERE and not scene.pieces[lie.start].after_break


def _in_trouble_alone(scene: Scene) -> bool:
    """ "In the water" says where the ball went; a bunker may be where it lies now."""
    texts = [piece.text for piece in scene.pieces]
    if any(scene.is_trouble(at) for at in scene.denied):
        return False
    if "in" in texts or "into" in texts:
        texts = [text for text in texts if text not in ("short", "long", "left", "right", "back")]
    rest = [text for text in texts if text not in _SAID_OF_IT]
    return len(rest) == 1 and rest[0] in ("WATER", "OUT_OF_BOUNDS", "TREES", "SCRUB", "BUSH", "BRANCH")


def read_commitment(scene: Scene) -> str | None:
    """How the player went through with the shot, as told: committed, quit or rush."""
    said = [str(m.get("commitment")) for m in own_mentions(scene) if "commitment" in m]
    return said[-1] if said else None


def read_result(scene: Scene) -> Result:
    """The result as said; a bare number is in feet."""
    strike = finish = distance_m = None
    sure = False
    sides: list[Side] = []
    away_m: dict[Side, float] = {}
    for mention in _where_it_stopped(scene):
        if (value := mention.get("strike")) is not None and not (strike and sure and _is_less_sure(mention)):
            # "Hit it", and then how: "bit thin".
            strike, sure = Strike(str(value)), "apart" not in mention
        if (value := mention.get("finish")) is not None and ends_there(scene, mention):
            finish = Finish(str(value))
        if (value := mention.get("result_side")) is not None and not is_no_side(scene, mention):
            sides.append(Side(str(value)))
        if any(key in mention for key in _NO_LENGTH) and mention.quantity_at is not None:
            scene.used.add(mention.quantity_at)
        if "result_distance" in mention and mention.quantity is not None and mention.quantity.is_length:
            scene.used.update(range(mention.start, mention.end))
            metres = scene.length_m(mention.quantity, scene.small_unit)
            distance_m = metres if 0 <= metres <= FARTHEST_M else distance_m
            distance_m = _thought_again(scene, mention) or distance_m
            if value is not None and distance_m is not None:
                away_m[Side(str(value))] = distance_m
    distance_m = _both_ways(away_m) or distance_m
    near = any("near" in mention for mention in own_mentions(scene))
    if distance_m is None:
        distance_m = _loose_distance(scene, in_feet=near)
    if distance_m is None and near:
        distance_m = NEAR_M
    if finish is None:
        finish = _finish(scene)
    if finish is Finish.GREEN and any("off_green" in m for m in own_mentions(scene)):
        finish = None
    if finish is Finish.HOLED and missed_before_holing(scene):
        finish = None
    if finish is Finish.HOLED:
        distance_m, sides = None, []
    if finish in _FINISH_OF_TROUBLE.values():
        sides = sides or _side_of_the_trouble(scene)
    return Result(distance_m=distance_m, side=_where_it_ended(scene, sides), strike=strike, finish=finish)


def _both_ways(away_m: dict[Side, float]) -> float | None:
    """ "Three metres past and one left": how far from the hole that is [m]; None where it is told one way alone."""
    along = next((away_m[side] for side in (Side.LONG, Side.SHORT) if side in away_m), None)
    across = next((away_m[side] for side in (Side.LEFT, Side.RIGHT) if side in away_m), None)
    return None if along is None or across is None else math.hypot(along, across)


def _where_it_stopped(scene: Scene) -> list[Mention]:
    """ "Landed three short and ran six past": where it came down is not where it ended, when that is told too."""
    mentions = own_mentions(scene)
    landed = [m for m in mentions if "lands" in m]
    ended = [
        m for m in mentions if "result_distance" in m and not any(_is_within(m, each) for each in landed)
    ]
    if not landed or not ended:
        return mentions
    return [m for m in mentions if not any(_is_within(m, each) for each in landed)]


def _is_within(mention: Mention, other: Mention) -> bool:
    return other.start <= mention.start and mention.end <= other.end


def _thought_again(scene: Scene, told: Mention) -> float | None:
    """ "Eight feet short. Well, maybe ten feet": a like length by itself right behind it is the better guess."""
    at = next((at for at in range(told.end, len(scene.pieces)) if scene.pieces[at].text == "#"), None)
    if at is None or not scene.pieces[at].after_break or told.quantity is None:
        return None
    ends = (
        at + 1 == len(scene.pieces)
        or scene.pieces[at + 1].after_break
        or scene.pieces[at + 1].text in _GUESSED
    )
    first, second = told.quantity, scene.pieces[at].quantity
    beside = any(m.start <= at < m.end and "result_side" in m for m in own_mentions(scene))
    if not ends or beside or second is None or second.unit not in (None, first.unit) or second.footer:
        return None
    metres = scene.length_m(replace(second, unit=first.unit), scene.small_unit)
    before = scene.length_m(first, scene.small_unit)
    if not before / _ALIKE <= metres <= before * _ALIKE:
        return None
    scene.used.add(at)
    return metres


_ALIKE = 2.0
"""How far apart two guesses of one length are at most."""
_GUESSED = frozenset({"AFTERTHOUGHT", "CORRECTION", "actually", "more", "rather", "maybe", "like", "nearer"})


def _is_less_sure(mention: Mention) -> bool:
    """ "Heavy" may be the grass, and a ball that dribbled hit so or so."""
    return "weak" in mention or "perhaps" in mention


def _side_of_the_trouble(scene: Scene) -> list[Side]:
    """ "Thinned it into the back bunker", "into the water at the back" is long."""
    placed = [Side(str(m.get("side"))) for m in scene.having("side") if m.get("with") == "trouble"]
    if placed:
        return placed[:1]
    named = (before.text for before, piece in pairwise(scene.pieces) if piece.text in _FINISH_OF_TROUBLE)
    return [_NAMED_SIDES[name] for name in named if name in _NAMED_SIDES][:1]


def _where_it_ended(scene: Scene, sides: list[Side]) -> tuple[Side, ...]:
    """The sides told, of two opposite ones that of the distance, else the later: "pulled it, fifteen feet right"."""
    measured = [
        Side(str(mention.get("result_side")))
        for mention in _where_it_stopped(scene)
        if "result_side" in mention and "result_distance" in mention
    ]
    ended: set[Side] = set()
    for side in (*measured, *reversed(sides)):
        if _OPPOSITE[side] not in ended:
            ended.add(side)
    return tuple(side for side in dict.fromkeys(sides) if side in ended)


_NO_LENGTH = ("down_in", "not_left", "no_length", "score")
"""What a number is that tells nothing of where the ball ended."""


def _loose_distance(scene: Scene, *, in_feet: bool) -> float | None:
    """A length said by itself; beside "close" or "tap in" only one in feet tells what is left."""
    taken = {m.quantity_at for m in own_mentions(scene) if any(key in m for key in _NO_LENGTH)}
    taken |= {at for m in scene.having("club", "nothing") for at in range(m.start, m.end)}
    for at, piece in enumerate(scene.pieces):
        if at in taken or (in_feet and (piece.quantity is None or piece.quantity.unit != Unit.FEET)):
            continue
        if piece.text == "#" and piece.quantity is not None and piece.quantity.is_length:
            metres = scene.length_m(piece.quantity, scene.small_unit)
            scene.used.add(at)
            return metres if 0 <= metres <= FARTHEST_M else None
    return None


def _is_strike(scene: Scene, lie: Mention) -> bool:
    """ "Heavy, short" tells the strike, and no grass."""
    strikes = (m for m in own_mentions(scene) if "strike" in m)
    return any(strike.start <= lie.start and lie.end <= strike.end for strike in strikes)


_GOT_PAST = [[word] for word in ("over", "past", "beyond", "flew", "cleared", "carried", "missed", "avoided")]
_THERE = frozenset({"on", "in", "into"})
_AWAY_FROM = frozenset({"out", "from"})


def _passed_by(scene: Scene, at: int) -> bool:
    """ "Short of the fringe", "over the fringe", "out of the sand": not where it ended."""
    if scene.pieces[at].text in _AWAY_FROM:
        return True
    if scene.pieces[at].text in _THERE:
        # "Twelve feet past on the fringe".
        return False
    before = [piece.text for piece in scene.pieces[max(at - 2, 0) : at]]
    return before in (["short", "of"], ["out", "of"]) or before[-1:] in _GOT_PAST


def _finish(scene: Scene) -> Finish | None:
    lies = [
        Lie(str(m.get("lie")))
        for m in scene.having("lie")
        if m.quantity is None
        and not _passed_by(scene, m.start)
        and not _is_strike(scene, m)
        and not goes_on_from_there(scene, m)
    ]
    found = next((FINISH_OF_LIE[lie] for lie in lies if lie in FINISH_OF_LIE), None)
    if found is not None:
        return found
    passed = {at for m in own_mentions(scene) if "on_its_way" in m for at in range(m.start, m.end)}
    passed |= scene.denied
    named = (at for at, p in enumerate(scene.pieces) if p.text in _FINISH_OF_TROUBLE and at not in passed)
    there = next((at for at in named if not _passed_by(scene, at)), None)
    return None if there is None else _FINISH_OF_TROUBLE[scene.pieces[there].text]
