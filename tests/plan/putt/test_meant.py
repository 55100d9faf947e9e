"""Where a putt goes that is struck just as meant, on its own line and on another."""

from caddie.bag.file import load_bag
from caddie.plan.choose import advise
from caddie.plan.option import Plan
from caddie.plan.putt.choose import putt_at
from caddie.plan.putt.meant import as_meant
from caddie.situation import Fall, Green, Lie, Situation
from caddie.units import FOOT_M

BAG = load_bag()


def putt() -> Plan:
    green = Green(fall=Fall.RIGHT_TO_LEFT, fall_slope=0.02)
    return advise(Situation(pin_m=12 * FOOT_M, lie=Lie.GREEN, green=green), BAG)


def test_on_its_own_line_it_drops() -> None:
    plan = putt()
    assert as_meant(plan, plan.chosen, BAG).drops


def test_with_less_break_it_passes_low_and_with_more_high() -> None:
    plan = putt()
    assert plan.chosen.line is not None
    past_m = plan.chosen.line.past_flat_m
    low, high = (
        as_meant(plan, putt_at(plan, past_m, BAG, share * plan.chosen.aim_left_m), BAG)
        for share in (0.0, 2.0)
    )
    assert low.low and not low.drops
    assert not high.low and not high.drops
