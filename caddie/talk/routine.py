"""The routine after "ready": the picture, the cue, a quiet count.

The Rules recommend playing within 40 seconds of being able to (5.6b); this one is over well inside that.
"""

from caddie.bag import Bag, Family
from caddie.plan.option import Plan
from caddie.reply.cue import Cue
from caddie.reply.phrases import ball_said, landing_short
from caddie.reply.rolled import rolled_said
from caddie.reply.spoken import shortest

COUNT = ("one", "two", "three")
PACE = "Rule 5.6b: play within 40 seconds of being able to."


def routine(plan: Plan, bag: Bag, cue: Cue) -> str:
    """What is said from ready to the swing: see it, feel it, count."""
    option = plan.chosen
    count = [*COUNT]
    if option.pace_m is not None:
        return shortest([["see it roll over your spot and drop", cue.say, *count], [cue.say, *count]])
    if option.family is Family.PUTT:
        picture = f"see it {rolled_said(option, bag, 'rolling')}"
        return shortest([[picture, cue.say, *count], [cue.say, *count]])
    picture = f"see it: {ball_said(option, plan.situation, bag)}"
    short = f"see it: {landing_short(option, plan.situation, bag)}"
    return shortest([[picture, cue.say, *count], [short, cue.say, *count], [cue.say, *count]])
