"""Which gap in what was said matters: the unknown whose answer would change the shot most.

For every gap the plausible answers are tried; a gap's weight is the expected regret [strokes] of playing the
shot chosen under the assumption when another answer is true, over what that shot costs under the assumption
itself (a trusted shot may cost a little there). If no gap weighs :data:`WORTH_ASKING`, nothing is asked and
the assumption is named instead.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass

from caddie.bag import Bag
from caddie.plan.option import Plan
from caddie.plan.regret import Shared, regret, regret_and_launches
from caddie.situation import Fall, Firmness, HazardKind, Lie, PinPosition, Situation, WindKnownBy

WORTH_ASKING = 0.05
"""Strokes: less than this is not worth the breath of a question (common practice, no source)."""
LIE_WORTH_ASKING = 0.03
"""The same for the lie, which every caddie asks for first."""


WIND_WORTH_ASKING = 0.11
"""The same for where a wind's speed was taken: a player who tells one is content with it, and the answer mostly
changes the landing by a pace or two."""


FLOWN_ANEW = ("lie", "wind.known_by")


@dataclass(frozen=True)
class Unknown:
    """A gap, how to ask about it, and its plausible answers with how likely they are."""

    field: str
    question: str
    answers: tuple[tuple[float, Callable[[Situation], Situation]], ...]


def _lie(lie: Lie) -> Callable[[Situation], Situation]:
    return lambda situation: situation.model_copy(update={"lie": lie})


def _pin(position: PinPosition) -> Callable[[Situation], Situation]:
    return lambda situation: situation.model_copy(update={"pin_position": position})


def _firm(firmness: Firmness) -> Callable[[Situation], Situation]:
    return lambda situation: situation.model_copy(
        update={"green": situation.green.model_copy(update={"firmness": firmness})}
    )


def _fall(fall: Fall) -> Callable[[Situation], Situation]:
    return lambda situation: situation.model_copy(
        update={"green": situation.green.model_copy(update={"fall": fall, "fall_slope": 0.025})}
    )


def _felt(situation: Situation) -> Situation:
    wind = situation.wind.model_copy(update={"known_by": WindKnownBy.FELT})
    return situation.model_copy(update={"wind": wind})


UNKNOWNS = (
    Unknown(
        "lie",
        "What is it lying on?",
        ((0.1, _lie(Lie.BUNKER)), (0.1, _lie(Lie.HEAVY_ROUGH)), (0.25, _lie(Lie.LIGHT_ROUGH))),
    ),
    Unknown(
        "pin_position",
        "Is the flag front, middle or back?",
        ((0.3, _pin(PinPosition.FRONT)), (0.3, _pin(PinPosition.BACK))),
    ),
    Unknown(
        "green.firmness",
        "Is the green soft or firm?",
        ((0.15, _firm(Firmness.SOFT)), (0.25, _firm(Firmness.FIRM))),
    ),
    Unknown(
        "green.fall",
        "Does the green fall toward you or away?",
        ((0.35, _fall(Fall.TOWARD)), (0.2, _fall(Fall.AWAY))),
    ),
    Unknown("wind.known_by", "Is that wind the forecast, or what you feel?", ((0.35, _felt),)),
)


def most_telling(said: Situation, plan: Plan, bag: Bag, asked: Collection[str] = ()) -> Unknown | None:
    """The gap worth asking about, or None when no plausible answer would change the shot enough.

    The lie comes before everything else when it matters: what the other gaps are worth hangs on it.

    Args:
        said: the situation as spoken, before anything was assumed.
        plan: what was advised for it.
        asked: fields that were asked about before; they are not asked again.
    """
    gaps = [gap for gap in UNKNOWNS if gap.field not in asked and _is_open(gap.field, said, plan)]
    if not gaps or plan.situation.lie is Lie.GREEN or plan.chosen.sideways:
        return None
    today, shared = regret_and_launches(said, plan.chosen, bag, plan.seed)
    telling: list[tuple[float, Unknown]] = []
    for gap in gaps:
        # The launches of the assumed lie and wind serve every answer that leaves those alone.
        weight = _weight(gap, said, plan, bag, today, None if gap.field in FLOWN_ANEW else shared)
        if gap.field == "lie" and weight >= LIE_WORTH_ASKING:
            return gap
        if weight >= (WIND_WORTH_ASKING if gap.field == "wind.known_by" else WORTH_ASKING):
            telling.append((weight, gap))
    return max(telling, key=lambda pair: pair[0])[1] if telling else None


def _is_open(field: str, said: Situation, plan: Plan) -> bool:
    if field == "green.fall":
        stepped = any(hazard.kind is HazardKind.TIER for hazard in said.hazards)
        return said.green.fall is None and said.green.side_fall is None and not stepped
    if field == "pin_position" and plan.situation.lie is Lie.PLUGGED:
        return False  # Anywhere on the green will do.
    return field in plan.assumed


def _weight(
    gap: Unknown, said: Situation, plan: Plan, bag: Bag, today: float, shared: Shared | None
) -> float:
    """Expected regret of not asking; a lie's is only counted until it is enough to ask."""
    weight = 0.0
    for share, answer in gap.answers:
        weight += share * max(
            regret(answer(said), plan.chosen, bag, plan.seed, shared) - max(today, 0.0), 0.0
        )
        if shared is None and weight >= LIE_WORTH_ASKING:
            break
    return weight
