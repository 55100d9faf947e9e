"""Why this line and pace, in sentences that quote the plan's own numbers."""

from caddie.plan.putt_green import PuttGreen
from caddie.plan.shot import Option
from caddie.situation import Situation


def putt_reasons(option: Option, situation: Situation, green: PuttGreen) -> tuple[str, ...]:
    """Reasons in order of weight."""
    return ()
