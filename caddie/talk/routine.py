"""The routine after "ready": the picture, the cue, a quiet count.

The Rules recommend playing within 40 seconds of being able to (5.6b); this one is over well inside that.
"""

from caddie.bag import Bag, Family
from caddie.plan.shot import Plan
from caddie.reply.cue import Cue
from caddie.reply.phrases import ball_said, landing_short, rolled_said
from caddie.reply.spoken import shortest

COUNT = ("one", "two", "three")
SECONDS_A_COUNT = 1.0
SECONDS_A_WORD = 0.45
"""Unhurried speech (common practice, no source)."""
LOOK_SECONDS = 8.0
"""One look along the line after the picture (common practice, no source)."""
MOST_SECONDS = 40.0
"""Rule 5.6b: the time a stroke should take once the player can play."""
PACE = "Rule 5.6b: play within 40 seconds of being able to."


def routine(plan: Plan, bag: Bag, cue: Cue) -> str:
    """What is said from ready to the swing: see it, feel it, count."""
    option = plan.chosen
    count = [*COUNT]
    if option.pace_m is not None:
        return shortest([["see it roll over your spot and drop", cue.say, *count], [cue.say, *count]])
    if option.family is Family.PUTT:
        picture = f"see it {rolled_said(option, 'rolling')}"
        return shortest([[picture, cue.say, *count], [cue.say, *count]])
    picture = f"see it: {ball_said(option, plan.situation, bag)}"
    short = f"see it: {landing_short(option, bag)}"
    return shortest([[picture, cue.say, *count], [short, cue.say, *count], [cue.say, *count]])


def seconds_of(spoken: str) -> float:
    """How long a routine takes from "ready" to the swing [s]."""
    words = len(spoken.replace("-", " ").split()) - len(COUNT)
    return words * SECONDS_A_WORD + LOOK_SECONDS + len(COUNT) * SECONDS_A_COUNT
