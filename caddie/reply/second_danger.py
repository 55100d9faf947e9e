"""Trouble that is said beside the one that is named: a flag between two dangers has both spoken of."""

from caddie.plan.called import name_of
from caddie.reply.phrases import WORTH_NAMING
from caddie.situation import Hazard, HazardKind, Side, Situation


def behind_too_said(named: Hazard | None, situation: Situation) -> str:
    """What else waits behind: "falls off behind", "pond behind"."""
    if named is None or named.side is Side.LONG or named.kind not in WORTH_NAMING:
        return ""
    waits = (each for each in situation.hazards if each is not named and each.side is Side.LONG)
    other = next((each for each in waits if each.kind in (*WORTH_NAMING, HazardKind.RUN_OFF)), None)
    if other is None:
        return ""
    return "falls off behind" if other.kind is HazardKind.RUN_OFF else f"{name_of(other)} behind"
