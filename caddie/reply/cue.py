"""The commitment cue: one positive thought, chosen for shot, lie, main risk and usual miss."""

import tomllib
from collections.abc import Mapping
from functools import cache

from pydantic import BaseModel, ConfigDict, Field

from caddie.bag import Bag, Family
from caddie.places import shipped
from caddie.plan.shot import Option, Plan
from caddie.situation import HazardKind, Side, Situation
from caddie.units import MPH_M_S

STRONG_WIND_M_S = 8 * MPH_M_S
SHORT_ROOM_M = 6.0
_WEIGHT = {"family": 3.0, "lie": 2.0, "stance": 2.5, "risk": 2.0, "miss": 2.5}
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


@cache
def cues() -> tuple[Cue, ...]:
    """All cues, in the grammar's order."""
    content = tomllib.loads(shipped("grammars/en/cues.toml").read_text(encoding="utf-8"))
    return tuple(Cue.model_validate({"id": name, **entry}) for name, entry in content.items())


def cue_for(plan: Plan, bag: Bag, weights: Mapping[str, float] | None = None) -> Cue:
    """The cue that meets most of this shot.

    ``weights`` (cue id to a factor around 1) moves cues that have worked for this player forward.
    A family's cue is never said for another family unless it is about the lie or the stance.
    """
    traits = traits_of(plan.chosen, plan.situation, bag)
    weights = weights or {}

    def score(cue: Cue) -> float:
        met = sum(_WEIGHT[kind] for kind, trait in traits if trait in cue.suits)
        families = cue.suits & {family.value for family in Family}
        if families and plan.chosen.family.value not in families:
            return 0.0
        # A cue written for few things says more about those it meets.
        return met * weights.get(cue.id, 1.0) / (1.0 + 0.04 * len(cue.suits))

    return max(cues(), key=score)


def traits_of(option: Option, situation: Situation, bag: Bag) -> list[tuple[str, str]]:
    """What the shot is like, as (kind, word) pairs that cues are matched against."""
    traits = [("family", option.family.value)]
    if situation.lie:
        traits.append(("lie", situation.lie.value))
    traits += [("stance", stance.value) for stance in situation.stance]
    traits += [("miss", miss.value) for miss in bag.player.usual_misses]
    trouble = [hazard for hazard in situation.hazards if hazard.kind not in _SHAPES]
    if any(hazard.side in (Side.SHORT, None) for hazard in trouble):
        traits.append(("risk", "trouble_short"))
    if any(hazard.side is Side.LONG for hazard in trouble):
        traits.append(("risk", "trouble_long"))
    if (situation.room_m or 99.0) <= SHORT_ROOM_M:
        traits.append(("risk", "room_short"))
    if (situation.wind.speed_m_s or 0.0) >= STRONG_WIND_M_S:
        traits.append(("risk", "wind"))
    if option.heavy > option.thin and option.heavy > 0.06:
        traits.append(("risk", "heavy"))
    elif option.thin > 0.06:
        traits.append(("risk", "thin"))
    return traits
