"""The parts of a reply: true of the shot, in one unit, singular and plural right."""

import pytest

from caddie.bag import Bag, Family, load_bag
from caddie.ball.launch import Flight
from caddie.plan.assume import complete
from caddie.plan.choose import advise
from caddie.plan.option import Option
from caddie.reply import speak, write
from caddie.reply.aim import aim_said
from caddie.reply.cue import cue_for
from caddie.reply.phrases import (
    ball_said,
    flight_said,
    landing_said,
    rolled_said,
    said,
    trouble_said,
)
from caddie.situation import Hazard, HazardKind, Lie, Side, Situation
from caddie.units import FOOT_M, YARD_M, Unit

BAG = load_bag()
METRES = BAG.model_copy(update={"player": BAG.player.model_copy(update={"distances_in": Unit.METRES})})
PITCH = advise(Situation(pin_m=60 * YARD_M, lie=Lie.FAIRWAY), BAG).chosen


def shot(pin_yd: float, carry_yd: float, run_yd: float, **changed: object) -> Option:
    place = {"carry_m": carry_yd * YARD_M, "run_m": run_yd * YARD_M}
    place["land_short_of_pin_m"] = (pin_yd - carry_yd) * YARD_M
    return PITCH.model_copy(update=place | changed)


def facing(pin_yd: float, *hazards: Hazard, **said: object) -> Situation:
    return complete(Situation(pin_m=pin_yd * YARD_M, lie=Lie.FAIRWAY, hazards=hazards, **said))[0]


@pytest.mark.parametrize(
    ("kind", "carry_yd", "needed_yd", "told"),
    [
        (HazardKind.WATER, 50, 40, "clears the water by ten paces"),
        (HazardKind.WATER, 30, 40, "stays short of the water"),
        (HazardKind.BUNKER, 50, None, "flies the bunker"),
        (HazardKind.BUNKER, 20, None, "stays short of the bunker"),
        (HazardKind.TREES, 0.5, None, "stays short of the trees"),
        (HazardKind.TREES, 50, None, "over the trees"),
        (HazardKind.RIDGE, 50, None, "up over the ridge"),
    ],
)
def test_trouble_is_only_flown_when_the_ball_carries_it(
    kind: HazardKind, carry_yd: float, needed_yd: float | None, told: str
) -> None:
    hazard = Hazard(kind=kind, side=Side.SHORT, carry_m=needed_yd and needed_yd * YARD_M)
    assert trouble_said(hazard, shot(60, carry_yd, 5), facing(60, hazard), BAG) == told


def test_landing_and_run_share_a_unit() -> None:
    far = ball_said(shot(80, 40, 33), facing(80), BAG)
    assert far == "land it twenty-eight yards short of the green, it runs thirty-three yards"
    near = ball_said(shot(30, 25, 4), facing(30), BAG)
    assert "paces" in near and "yards" not in near
    mixed = ball_said(shot(60, 49, 27), facing(60), BAG)
    assert "pace" not in mixed


def test_a_length_behind_is_as_long_as_one_ahead() -> None:
    assert said(-30 * YARD_M, BAG) == said(30 * YARD_M, BAG) == "thirty yards"


def test_at_the_edge_is_said_as_the_front_edge() -> None:
    situation = facing(60, front_m=50 * YARD_M)
    assert landing_said(shot(60, 50.2, 8), situation, BAG) == "land it on the front edge"
    assert landing_said(shot(60, 51, 8), situation, BAG) == "land it a pace on the green"


@pytest.mark.parametrize(
    ("carry_yd", "told"),
    [
        (4, "land it four paces out"),
        (7, "land it three paces short of the green"),
        (17, "land it seven paces on the green"),
        (25, "land it five paces short of the flag"),
        (33, "land it three paces past the flag"),
        (30.3, "fly it to the flag"),
    ],
)
def test_a_landing_spot_is_told_from_the_nearest_mark(carry_yd: float, told: str) -> None:
    situation = facing(30, front_m=10 * YARD_M)
    assert landing_said(shot(30, carry_yd, 8), situation, BAG) == told


def test_a_plugged_ball_is_told_one_face_and_not_two() -> None:
    plan = advise(Situation(pin_m=14.0, lie=Lie.PLUGGED), BAG)
    spoken = speak(plan, BAG, cue_for(plan, BAG))
    assert "open face" not in spoken and "square face" in spoken.lower()
    splash = shot(14, 12, 2, family=Family.SPLASH, flight=Flight.STOCK)
    assert flight_said(splash) == "open face"


@pytest.mark.parametrize(
    ("left_m", "bag", "told"),
    [
        (2.0, BAG, "aim two paces left"),
        (-6.4, BAG, "aim seven paces right"),
        (6.4, METRES, "aim six metres left"),
        (0.4, BAG, ""),
    ],
)
def test_an_aim_far_from_the_flag_is_walked(left_m: float, bag: Bag, told: str) -> None:
    assert aim_said(shot(60, 55, 4, aim_left_m=left_m), bag) == told


@pytest.mark.parametrize(
    ("past_m", "told"),
    [(0.0, "to die at the hole"), (FOOT_M, "a foot past the hole"), (1.0, "three feet past the hole")],
)
def test_the_pace_of_a_putt_from_off_the_green(past_m: float, told: str) -> None:
    putt = shot(10, 0, 10 + past_m / YARD_M, family=Family.PUTT)
    assert rolled_said(putt, load_bag()) == f"roll it {told}"
    assert ball_said(putt, facing(10), BAG) == f"roll it {told}"


def test_a_putt_on_a_slope_from_the_fringe_says_where_to_start_it() -> None:
    putt = shot(10, 0, 10, family=Family.PUTT, aim_left_m=-0.9, club="putter")
    assert aim_said(putt, BAG) == "Start it three feet right of the hole"
    assert aim_said(putt.model_copy(update={"aim_left_m": 0.01}), BAG) == ""


def test_one_yard_is_singular_and_nothing_is_none() -> None:
    plan = advise(Situation(pin_m=5 * YARD_M, lie=Lie.FRINGE), BAG)
    written = write(plan, BAG, cue_for(plan, BAG))
    assert "1 yards" not in written and " 0 yards" not in written
    assert "green from 1" in written
