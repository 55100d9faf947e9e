"""The commitment cue: one positive thought, chosen for shot, lie, main risk and usual miss."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from pydantic import BaseModel, ConfigDict, Field

from caddie.bag import Bag, Family
from caddie.places import shipped
from caddie.plan.hampered import strike_lie
from caddie.plan.option import Option, Plan
from caddie.plan.unplayable import freed
from caddie.reply.obstacles import is_of_the_dropped
from caddie.reply.phrases import OPEN, SQUARE, face_said
from caddie.situation import Against, Hampered, HazardKind, Lie, Sand, Side, Sitting, Situation
from caddie.units import MPH_M_S

STRONG_WIND_M_S, LULL_M_S = 8 * MPH_M_S, 25 * MPH_M_S
SHORT_ROOM_M = 6.0
THIN_CUT_M = 20.0
"""A splash that flies farther takes less sand (common practice, no source)."""
LEARNER_HANDICAP = 24.0
LONG_PUTT_M = 9.0
SHORT_PUTT_M = 2.0
MISHIT_WORTH_A_CUE = 0.06
_WEIGHT = {
    "family": 3.0,
    "face": 0.0,
    "own_strike": 4.5,
    "deep": 3.5,
    "lie": 2.0,
    "ease": 0.5,
    "stance": 7.5,
    "cramped": 7.0,
    "risk": 2.0,
    "weather": 3.0,
    "length": 3.5,
    "miss": 2.5,
    "player": 1.5,
    "told": 0.0,
}
"""How much a met trait counts, by kind: a plugged ball, a divot or a slope wants a strike of its own whoever plays
it, a fairway asks for nothing."""
_STANDS_UP = (Lie.HEAVY_ROUGH, Lie.LIGHT_ROUGH)
_OWN_STRIKE = (Lie.PLUGGED, Lie.DIVOT, Lie.PINE_STRAW, Lie.BARE)
_CANNOT = {Hampered.STANCE: ("no_stance",), Hampered.FOLLOW_THROUGH: ("no_finish",)}
"""What a player so hampered cannot do."""
_FAMILIES = frozenset(family.value for family in Family)
_FACES = frozenset({OPEN, SQUARE})
_SHAPES = {
    HazardKind.RIDGE,
    HazardKind.TIER,
    HazardKind.SWALE,
    HazardKind.UPSLOPE,
    HazardKind.FALSE_FRONT,
    HazardKind.RUN_OFF,
}


class Cue(BaseModel):
    """One cue: its name in the grammar, its words and what it suits."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: str
    say: str
    suits: frozenset[str] = Field(alias="for")
    never: frozenset[str] = frozenset()
    """Traits of a shot with which it cannot be done."""


@cache
def cues() -> tuple[Cue, ...]:
    """All cues, in the grammar's order."""
    content = tomllib.loads(shipped("grammars/en/cues.toml").read_text(encoding="utf-8"))
    return tuple(Cue.model_validate({"id": name, **entry}) for name, entry in content.items())


def cue_for(plan: Plan, bag: Bag, weights: Mapping[str, float] | None = None) -> Cue:
    """The cue that meets most of this shot.

    ``weights`` (cue id to a factor around 1, as :func:`caddie.log.cues.cue_weights` gives it) moves cues
    that have worked for this player forward.
    """
    situation = plan.situation
    if is_of_the_dropped(plan):
        situation = freed(situation)
    return best_cue(traits_of(plan.chosen, situation, bag), weights)


def best_cue(traits: Iterable[tuple[str, str]], weights: Mapping[str, float] | None = None) -> Cue:
    """The cue that meets most of the traits, (kind, word) pairs of which one is the family.

    A family's cue is never said for another family, one of a face for no other face, and none that what was told
    forbids.
    """
    traits = tuple(traits)
    words = {word for _, word in traits}
    family = next(word for kind, word in traits if kind == "family")
    face = next((word for kind, word in traits if kind == "face"), None)
    weights = weights or {}

    def score(cue: Cue) -> float:
        if not cue.never.isdisjoint(words):
            return 0.0
        families = cue.suits & _FAMILIES
        if families and family not in families:
            return 0.0
        if face is not None and not cue.suits.isdisjoint(_FACES - {face}):
            return 0.0
        met = sum(_WEIGHT[kind] for kind, word in traits if word in cue.suits)
        # A cue written for few things says more about those it meets.
        return met * weights.get(cue.id, 1.0) / (1.0 + 0.04 * len(cue.suits))

    return max(cues(), key=score)


def traits_of(option: Option, situation: Situation, bag: Bag) -> list[tuple[str, str]]:
    """What the shot is like, as (kind, word) pairs that cues are matched against."""
    traits = [("family", option.family.value)]
    if option.family is not Family.PUTT:
        traits.append(("face", face_said(option)))
    if situation.lie:
        lie = situation.lie if option.family is Family.PUTT else strike_lie(situation)
        traits.append((lie_kind(lie, option.family), lie.value))
    if situation.sitting is Sitting.DOWN:
        traits.append(("own_strike", "sitting_down"))
    if situation.sitting is Sitting.UP and situation.lie in _STANDS_UP and option.family is not Family.PUTT:
        traits = [each for each in traits if each[0] != "deep"] + [("own_strike", "sitting_up")]
    windy_m_s = (situation.wind.speed_m_s or 0.0) if situation.wind.from_ else 0.0
    if option.line is not None and windy_m_s >= LULL_M_S:
        traits.append(("stance", "gale"))
    traits += [("stance", stance.value) for stance in situation.stance]
    if situation.hampered:
        traits.append(("cramped", "cramped"))
        traits += [("told", word) for word in _CANNOT.get(situation.hampered, ())]
    if situation.against is Against.COLLAR:
        traits.append(("cramped", "collar"))
    if option.family is Family.SPLASH and option.carry_m > THIN_CUT_M:
        traits.append(("own_strike", "long_sand"))
    if option.sideways:
        traits.append(("own_strike", "aside"))
    if situation.sand_behind:
        traits.append(("stance", "sand_behind"))
    if situation.lie is Lie.BUNKER and situation.sand in (Sand.FIRM, Sand.THIN):
        traits.append(("own_strike", "hard_sand"))
    traits += [("miss", miss.value) for miss in bag.player.usual_misses]
    if bag.player.handicap >= LEARNER_HANDICAP:
        traits.append(("player", "learner"))
    traits += _risks(option, situation)
    if option.family is not Family.PUTT and (situation.wind.speed_m_s or 0.0) >= STRONG_WIND_M_S:
        traits.append(("weather", "wind"))
    return traits


def lie_kind(lie: Lie, family: Family) -> str:
    """How much a lie has to say about the strike, as a kind of trait.

    A putter off the green and a ball picked clean from sand want a strike of their own too.
    """
    rolled = family is Family.PUTT and lie is not Lie.GREEN
    picked = lie is Lie.BUNKER and family is not Family.SPLASH
    if lie in _OWN_STRIKE or rolled or picked:
        return "own_strike"
    if lie is Lie.HEAVY_ROUGH:
        return "deep"
    return "ease" if lie is Lie.FAIRWAY else "lie"


def _risks(option: Option, situation: Situation) -> Iterator[tuple[str, str]]:
    trouble = [hazard for hazard in situation.hazards if hazard.kind not in _SHAPES]
    if any(hazard.clear_m for hazard in trouble):
        yield "own_strike", "under"
    short = [hazard for hazard in trouble if hazard.side in (Side.SHORT, None) and not hazard.clear_m]
    if short:
        yield "risk", "trouble_short"
    if any(hazard.kind is HazardKind.WATER for hazard in short):
        yield "risk", "water_short"
    if any(hazard.side is Side.LONG for hazard in trouble):
        yield "risk", "trouble_long"
    if option.family is Family.PUTT and situation.pin_m is not None:
        if situation.pin_m >= LONG_PUTT_M:
            yield "length", "long_putt"
        elif situation.pin_m <= SHORT_PUTT_M:
            yield "length", "short_putt"
        return
    if (situation.room_m or 99.0) <= SHORT_ROOM_M:
        yield "risk", "room_short"
    if option.heavy > max(option.thin, MISHIT_WORTH_A_CUE):
        yield "risk", "heavy"
    elif option.thin > MISHIT_WORTH_A_CUE:
        yield "risk", "thin"
