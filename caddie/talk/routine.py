"""The routine after "ready": the picture, the cue, a quiet count.

The Rules recommend playing within 40 seconds of being able to (5.6b); this one is over well inside that.
"""

from caddie.bag import Bag
from caddie.plan.shot import Plan
from caddie.reply.cue import Cue
from caddie.reply.phrases import landing_said, run_said

COUNT = ("one", "two", "three")
SECONDS_A_COUNT = 1.0
MOST_SECONDS = 40.0


def routine(plan: Plan, bag: Bag, cue: Cue) -> str:
    """What is said from ready to the swing: see it, feel it, count."""
    if plan.chosen.pace_m is not None:
        picture = "See it roll over your spot and drop"
    else:
        picture = f"See it: {landing_said(plan.chosen, plan.situation, bag)}, {run_said(plan.chosen, bag)}"
    return f"{picture}. {cue.say} {', '.join(COUNT)}."
