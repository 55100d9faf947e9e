"""Whether the shot is a putt: said outright, or plain from what is said."""

from collections.abc import Sequence

from caddie.bag.models import Family
from caddie.situation import Hazard, HazardKind, Lie, PinPosition, Side
from caddie.units import SMALL_UNITS, Unit
from caddie.words.borrow import break_amounts, counts_alone
from caddie.words.breaks import two_ways
from caddie.words.clubs import ShotNamed
from caddie.words.distances import Distances
from caddie.words.green import GreenSaid
from caddie.words.heads import TroubleSaid
from caddie.words.lies import LieSaid
from caddie.words.mentions import Mention
from caddie.words.quantities import COUNTS, LENGTHS, clause_start
from caddie.words.rises import is_a_rise, is_of_a_putt
from caddie.words.scene import Scene

FARTHEST_BREAK_M = 20.0
"""A break from farther away is the green's, seen from off it."""
FARTHEST_IN_FEET_M = 40.0
"""Feet from farther away are no putt's."""
LEVEL_PUTT_M = 3.0
"""Up to here "straight" is said of a putt."""
_WAY_TO = {PinPosition.BACK: "up", PinPosition.FRONT: "down"}
_ON_GREEN = (HazardKind.RIDGE, HazardKind.TIER, HazardKind.SWALE)
_OF_THE_ROLL = ("stimp", "stimp_ft", "degree", "straight")
"""Told beside how far and which way, of a putt as well: "12 feet downhill, fast", "11 feet uphill and straight"."""
_OFF_GREEN = ("stance", "sitting", "greenside", "family", "club", "wind_from", "elevation", "room")


def says_putt(scene: Scene, lie: LieSaid, shot: ShotNamed) -> bool:
    """On the green, a putt, a twelve footer."""
    if lie.lie is not None:
        return lie.lie is Lie.GREEN
    wished = {m.quantity_at for m in scene.facts if m.get("distance") == "ignore"}
    if any(
        p.quantity is not None and p.quantity.footer and at not in wished for at, p in enumerate(scene.pieces)
    ):
        return True
    off = any("distance" in m and m.get("distance") == "front" for m in scene.facts)
    off = off or _will_be_putted(scene) or _is_quoted(scene) or _has_the_green_ahead(scene)
    return shot.family is Family.PUTT and not any(scene.intents) and not lie.greenside and not off


_PUTTS = frozenset({"putt", "putting"})
_WISHES = frozenset({"will", "to", "would", "could", "can", "should", "shall", "lets", "rather", "fancy"})
_THE_BALL = frozenset({"it", "this", "that", "from"})


_SAID_TO_ME = frozenset({"told", "said", "gave", "advised", "suggested", "recommended"})


def _is_quoted(scene: Scene) -> bool:
    """ "You just told me putter": the club of a reply, wherever the ball lies."""
    putters = [at for at, piece in enumerate(scene.pieces) if piece.value == "putter"]
    before = [{p.text for p in scene.pieces[clause_start(scene.pieces, at) : at]} for at in putters]
    return bool(before) and all("you" in said and said & _SAID_TO_ME for said in before)


def _has_the_green_ahead(scene: Scene) -> bool:
    """ "Swale short of the green. Putter.": what lies before the green lies before a ball that is off it."""
    texts = [piece.text for piece in scene.pieces]
    return any(
        tuple(texts[max(at - len(before), 0) : at]) == before
        for at, text in enumerate(texts)
        if text == _GREEN
        for before in _BEFORE_IT
    )


_GREEN = "GREEN"
_BEFORE_IT = (("short", "of"), ("front", "of"), ("before",))


def _will_be_putted(scene: Scene) -> bool:
    """ "No, I'll putt it": the club that is wished for, wherever the ball lies."""
    putts = [at for at, piece in enumerate(scene.pieces) if piece.text in _PUTTS]
    return bool(putts) and all(_is_wished(scene, at) for at in putts)


def _is_wished(scene: Scene, putt: int) -> bool:
    before = [piece.text for piece in scene.pieces[max(putt - 2, 0) : putt]]
    rest = scene.pieces[putt + 1 :]
    clause = [p.text for p in rest[: next((at for at, p in enumerate(rest) if p.after_break), len(rest))]]
    of_the_ball = not clause or (clause[0] in _THE_BALL and "#" not in clause)
    return of_the_ball and not _WISHES.isdisjoint(before) and "#" not in before


def is_beyond_trouble(lie: LieSaid, trouble: TroubleSaid) -> bool:
    """ "Putter, a bunker between me and the flag": told of a ball off the green, whatever the club."""
    before = (hazard for hazard in trouble.hazards if hazard.side is Side.SHORT)
    return lie.lie is None and any(hazard.kind not in _ON_GREEN for hazard in before)


def reads_as_putt(
    scene: Scene, lie: LieSaid, distances: Distances, trouble: TroubleSaid, green: GreenSaid
) -> bool:
    """A flag so many feet away, or a break near by, with nothing in sight that lies off the green."""
    tells_line = _tells_line(scene) or two_ways(scene) is not None
    placed = trouble.pin_position is not None and not tells_line
    if lie.lie is not None or distances.front_m is not None or placed:
        return False
    breaks = break_amounts(scene)
    lengths = [
        p.quantity.unit
        for at, p in enumerate(scene.pieces)
        if p.quantity is not None and p.quantity.unit in LENGTHS and at not in breaks
    ]
    off_green = (
        m
        for m in scene.having(*_OFF_GREEN)
        if m.get("stance") != "side"
        and m.get("family") != Family.PUTT.value
        and not _says_how_far(scene, m, lengths)
        and not is_of_a_putt(scene, m, distances.pin_m)
    )
    if any(hazard.kind not in _ON_GREEN for hazard in trouble.hazards):
        return False
    if _counts_break(scene) and Unit.YARDS not in lengths:
        return True
    if any(off_green):
        return False
    in_feet = any(_says_how_far(scene, m, lengths) for m in scene.having("elevation"))
    if (distances.pin_m is None or _in_yards(lengths)) and not in_feet and _speaks_of_green(scene):
        return False
    near = distances.pin_m is None or distances.pin_m <= FARTHEST_BREAK_M
    if near and (green.breaks or _speaks_of_break(scene) or any(scene.having("double_break"))):
        return True
    if distances.pin_m is not None and distances.pin_m <= LEVEL_PUTT_M and any(scene.having("level")):
        return True
    alone = any(_says_how_far(scene, m, lengths) for m in scene.having("elevation"))
    facts = [m for m in scene.facts if "nothing" not in m and not any(key in m for key in _OF_THE_ROLL)]
    if distances.pin_m is None and alone and len(facts) == 1:
        return True
    small = bool(lengths) and set(lengths) <= set(SMALL_UNITS)
    return distances.pin_m is not None and distances.pin_m <= FARTHEST_IN_FEET_M and small


def tiers_told(scene: Scene, trouble: TroubleSaid) -> tuple[Hazard, ...]:
    """The trouble of a putt, its tier with the way over it: up is short of the hole, down beyond the step.

    A flag at the back of a green with tiers is on the upper one, a flag at the front on the lower one.
    """
    # "Up the bank" is how the putt climbs.
    climbs = any(scene.having("of_a_putt"))
    hazards = tuple(h for h in trouble.hazards if not (climbs and h.kind is HazardKind.UPSLOPE))
    said = [str(m.get("tier_way")) for m in scene.having("tier_way")]
    tiers = [hazard for hazard in hazards if hazard.kind is HazardKind.TIER]
    if tiers and not said and trouble.pin_position in _WAY_TO:
        said = [_WAY_TO[trouble.pin_position]]
    if not said:
        return hazards
    side = Side.LONG if said[-1] == "down" else Side.SHORT
    # "Up a tier a yard high": no lip of sand is told of a putt.
    told = (tiers[0] if tiers else Hazard(kind=HazardKind.TIER, height_m=trouble.lip_m)).model_copy(
        update={"side": side, "down": side is Side.LONG}
    )
    return (*(hazard for hazard in hazards if hazard.kind is not HazardKind.TIER), told)


def _in_yards(lengths: Sequence[str | None]) -> bool:
    """Putts are counted in feet or paces."""
    return Unit.YARDS in lengths and Unit.FEET not in lengths


def _says_how_far(scene: Scene, mention: Mention, lengths: Sequence[str | None]) -> bool:
    """ "20 ft downhill, left to right": the only length is the putt's, not how far down the green lies."""
    words = {piece.text for piece in scene.pieces[mention.start : mention.end]}
    if is_a_rise(scene, mention):
        return False
    return "elevation" in mention and lengths == [Unit.FEET] and bool(words & {"uphill", "downhill"})


def _speaks_of_green(scene: Scene) -> bool:
    """ "The low side is left and the green is firm" is what is seen from off it."""
    texts = {piece.text for piece in scene.pieces}
    return (
        "GREEN" in texts
        or bool(texts & {"low", "high", "side", "lower", "higher"})
        or any(scene.having("firmness"))
    )


def _tells_line(scene: Scene) -> bool:
    """ "Left centre" and "dead centre" tell the line of a putt, where no flag is said to be there."""
    flagged = any(piece.text == "FLAG" for piece in scene.pieces)
    return any(scene.having("high")) or (not flagged and any(scene.having("straight")))


def _counts_break(scene: Scene) -> bool:
    """ "Two cups", "six inches of break": nothing else is told so."""
    counts = (m.quantity.unit for m in scene.having("borrow") if m.quantity is not None)
    return any(unit in COUNTS for unit in counts) or bool(counts_alone(scene) or break_amounts(scene))


def _speaks_of_break(scene: Scene) -> bool:
    level = (scene.pieces[m.start : m.end] for m in scene.having("level"))
    return any(piece.text in ("break", "borrow") for pieces in level for piece in pieces)
