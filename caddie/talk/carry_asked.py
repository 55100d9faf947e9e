""" "Can I carry the pond?", asked with the shot: yes or no before the advice."""

from caddie.bag import Bag
from caddie.plan.option import Plan
from caddie.reply.phrases import times_in_ten
from caddie.reply.situation import distance_said
from caddie.situation import HazardKind, Side
from caddie.words import Understanding
from caddie.words.sayings import begins
from caddie.words.turns import CARRY_LEAD

SURELY_CARRIES, HARDLY_CARRIES = 0.08, 0.3
"""A carry that fails no oftener is one to count on, and one that fails oftener is none (common practice, no source)."""


def answering(heard: Understanding, plan: Plan, distance: str, bag: Bag, lead: str) -> str:
    """The distance, behind what is said first or the answer to "can I carry it?" where that was asked."""
    pin_m = plan.situation.pin_m
    answer = lead or (carries_said(plan) if begins(heard.heard, CARRY_LEAD) else "")
    if not answer or pin_m is None:
        return distance
    length = distance or distance_said(pin_m, plan.situation, bag)
    return f"{answer}. {length[:1].upper()}{length[1:]}"


def carries_said(plan: Plan) -> str:
    """Whether the advised shot carries what lies before the green, for who asks; nothing when nothing does."""
    surfaces = {"water": HazardKind.WATER, "sand": HazardKind.BUNKER, "trees": HazardKind.TREES}
    before = {each.kind for each in plan.situation.hazards if each.side in (Side.SHORT, None)}
    caught = [plan.chosen.trouble.get(name, 0.0) for name, kind in surfaces.items() if kind in before]
    if not caught:
        return ""
    share = max(caught)
    if plan.chosen.lay_up or share > HARDLY_CARRIES:
        return "No, not to count on"
    return "Yes" if share < SURELY_CARRIES else f"Yes, {times_in_ten(1.0 - share)}"
