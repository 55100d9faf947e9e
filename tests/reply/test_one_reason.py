"""What is said and what is written of one shot agree, and what stands beside it is another choice."""

import pytest

from caddie.bag import load_bag
from caddie.plan.choose import advise
from caddie.plan.option import Plan
from caddie.reply.cue import cue_for
from caddie.reply.why import why_said
from caddie.reply.written import write
from caddie.situation import Lie, Situation
from caddie.units import YARD_M

BAG = load_bag()
PLANS = {
    yards: advise(Situation(pin_m=yards * YARD_M, lie=Lie.FAIRWAY), BAG) for yards in (14, 32, 50, 62, 80)
}


@pytest.mark.parametrize("plan", PLANS.values(), ids=[f"{yards} yards" for yards in PLANS])
def test_a_measured_swing_is_no_trust_in_a_kind_of_shot(plan: Plan) -> None:
    """Written and said, a shot of the same kind as the best by numbers is not played for trust in its kind."""
    best = plan.options[0]
    said = why_said(plan, BAG)
    told = ("You trust a" in said, "You have measured" in said, "nearer to a swing of yours" in said)
    if not plan.chosen.trusted:
        assert told == (False, False, False)
    elif plan.chosen.family is best.family:
        assert told == (False, plan.chosen.owned, not plan.chosen.owned)
        written = " ".join(plan.reasons)
        assert ("you have measured" in written) == plan.chosen.owned


@pytest.mark.parametrize("plan", PLANS.values(), ids=[f"{yards} yards" for yards in PLANS])
def test_each_shot_beside_the_advice_is_of_another_club_or_kind(plan: Plan) -> None:
    lines = write(plan, BAG, cue_for(plan, BAG)).splitlines()
    shots = [line.split(":", 2)[1] for line in lines if line.startswith(("Shot:", "Also:"))]
    choices = [(shot.split("(")[0], shot.rpartition("(")[2]) for shot in shots]
    assert len(set(choices)) == len(choices)
    assert all("±" not in line for line in lines)
