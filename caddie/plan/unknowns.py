"""Which gap in what was said matters: the unknown whose answer would change the shot most.

For every gap the plausible answers are planned for; a gap's weight is the expected regret [strokes] of
playing the shot chosen under the assumption when another answer is true. If no answer costs more than
:data:`WORTH_ASKING`, nothing is asked and the assumption is named instead.
"""

from collections.abc import Callable
from dataclasses import dataclass

from caddie.bag import Bag
from caddie.plan.choose import regret
from caddie.plan.shot import Plan
from caddie.situation import Fall, Firmness, Lie, PinPosition, Situation

WORTH_ASKING = 0.08


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


UNKNOWNS = (
    Unknown(
        "lie",
        "What is it lying on?",
        ((0.25, _lie(Lie.LIGHT_ROUGH)), (0.1, _lie(Lie.HEAVY_ROUGH)), (0.1, _lie(Lie.BUNKER))),
    ),
    Unknown(
        "pin_position",
        "Is the flag front, middle or back?",
        ((0.3, _pin(PinPosition.FRONT)), (0.3, _pin(PinPosition.BACK))),
    ),
    Unknown(
        "green.firmness",
        "Is the green soft or firm?",
        ((0.25, _firm(Firmness.SOFT)), (0.25, _firm(Firmness.FIRM))),
    ),
    Unknown(
        "green.fall",
        "Does the green fall toward you or away?",
        ((0.35, _fall(Fall.TOWARD)), (0.2, _fall(Fall.AWAY))),
    ),
)


def most_telling(said: Situation, plan: Plan, bag: Bag) -> Unknown | None:
    """The gap worth asking about, or None when no plausible answer would change the shot enough.

    ``said`` is the situation as spoken, before anything was assumed.
    """
    weighed = [
        (sum(share * regret(answer(said), plan.chosen, bag, plan.seed) for share, answer in gap.answers), i)
        for i, gap in enumerate(UNKNOWNS)
        if gap.field in plan.assumed or (gap.field == "green.fall" and said.green.fall is None)
    ]
    if not weighed:
        return None
    weight, i = max(weighed, key=lambda pair: (pair[0], -pair[1]))
    return UNKNOWNS[i] if weight >= WORTH_ASKING else None
