"""The planned putt: line, pace, odds and choices, for every kind of slope."""

import math

import pytest
from scenarios import putter_bag as bag

from caddie.bag import Bag, Club, ClubKind
from caddie.ball.ground import flat
from caddie.errors import CaddieError
from caddie.plan.choose import advise
from caddie.plan.putt.after import simulate
from caddie.plan.putt.choose import PASTS_M, choose_putt
from caddie.plan.putt.green import PuttGreen
from caddie.plan.putt.player import errors, stroke_for
from caddie.plan.putt.read import read_putt
from caddie.situation import Fall, Green, Hazard, HazardKind, Lie, Situation, Wind, WindFrom
from caddie.units import FOOT_M, MPH_M_S


def putt(feet, fall=None, slope=None, side=None, side_slope=None, stimp_ft=None, **more):
    green = Green(fall=fall, fall_slope=slope, side_fall=side, side_slope=side_slope, stimp_ft=stimp_ft)
    return Situation(pin_m=feet * FOOT_M, lie=Lie.GREEN, green=green, **more)


def chosen(situation, owned=None):
    return advise(situation, owned or bag()).chosen


@pytest.mark.parametrize("feet", [1, 4, 12, 30, 60, 150])
def test_a_level_putt_goes_at_the_middle_with_its_own_pace(feet):
    option = chosen(putt(feet))
    assert option.family.value == "putt"
    assert option.aim_left_m == 0
    assert option.pace_m == pytest.approx(feet * FOOT_M, rel=0.01)
    assert option.make + option.three_putt <= 1


def test_uphill_takes_more_pace_and_downhill_less():
    """5/7 g 0.02 against the deceleration at stimp 9.5 is 24 %: a 12-footer rolls as 15 up and 9 down."""
    up, down = chosen(putt(12, Fall.TOWARD, 0.02)), chosen(putt(12, Fall.AWAY, 0.02))
    assert up.pace_m / FOOT_M == pytest.approx(14.9, abs=0.3)
    assert down.pace_m / FOOT_M == pytest.approx(9.1, abs=0.3)
    assert down.three_putt > up.three_putt


@pytest.mark.parametrize(("along", "slope"), [(None, None), (Fall.TOWARD, 0.02), (Fall.AWAY, 0.03)])
def test_left_and_right_are_mirror_images(along, slope):
    falls = (Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT)
    if along is None:
        one, other = (chosen(putt(15, fall, 0.02)) for fall in falls)
    else:
        one, other = (chosen(putt(15, along, slope, fall, 0.02)) for fall in falls)
    assert one.aim_left_m > 0
    assert one.aim_left_m == pytest.approx(-other.aim_left_m, abs=0.002)
    assert one.make == pytest.approx(other.make, abs=0.002)
    assert one.strokes == pytest.approx(other.strokes, abs=0.003)


def test_a_left_hander_is_given_the_same_line():
    situation = putt(15, Fall.LEFT_TO_RIGHT, 0.02)
    assert chosen(situation, bag(handed="left")) == chosen(situation, bag(handed="right"))


def test_downhill_and_quick_greens_break_more():
    flat = chosen(putt(12, Fall.LEFT_TO_RIGHT, 0.02)).aim_left_m
    down = chosen(putt(12, Fall.AWAY, 0.02, Fall.LEFT_TO_RIGHT, 0.02)).aim_left_m
    up = chosen(putt(12, Fall.TOWARD, 0.02, Fall.LEFT_TO_RIGHT, 0.02)).aim_left_m
    quick = chosen(putt(12, Fall.LEFT_TO_RIGHT, 0.02, stimp_ft=12)).aim_left_m
    assert up < flat < down
    assert quick > flat * 1.1


def test_the_odds_follow_length_and_skill():
    lengths = [chosen(putt(feet)) for feet in (3, 6, 12, 25, 50)]
    makes, threes, putts = zip(*((o.make, o.three_putt, o.strokes) for o in lengths), strict=True)
    assert list(makes) == sorted(makes, reverse=True)
    assert list(threes) == sorted(threes)
    assert list(putts) == sorted(putts)
    better, worse = chosen(putt(12), bag(0)), chosen(putt(12), bag(28))
    assert better.make > worse.make
    assert better.strokes < worse.strokes


def test_the_chosen_putt_costs_least_of_those_tried():
    green = PuttGreen(flat(stimp_ft=10), 10 * FOOT_M, 0.0, 0.0)
    choice = choose_putt(green, 10.0, 1)
    speed, line = read_putt(green.ground, green.pin_m).at(PASTS_M)
    putts = simulate(green, stroke_for(10.0), speed, line, errors(2000, 1), 10.0).strokes.mean(axis=-1)
    assert choice.putts.strokes.mean() <= putts.min() + 0.01
    assert 0.12 <= choice.past_flat_m <= 0.8


def test_a_tier_on_the_way_is_climbed_or_run_down():
    up = chosen(putt(40, hazards=(Hazard(kind=HazardKind.TIER, carry_m=8.0),)))
    down = chosen(putt(40, hazards=(Hazard(kind=HazardKind.TIER, down=True, carry_m=8.0),)))
    level = chosen(putt(40))
    assert up.pace_m > 1.3 * level.pace_m
    assert down.pace_m < 0.7 * level.pace_m
    assert up.strokes > level.strokes
    assert down.strokes > level.strokes


@pytest.mark.parametrize("fall", list(Fall))
def test_steeper_than_a_ball_can_stop_on_is_said_with_where_it_ends(fall):
    plan = advise(putt(10, fall, 0.10), bag())
    assert not plan.chosen.line.holds
    assert plan.chosen.line.past_m > 5
    assert plan.reasons[0].startswith("At 10% it is steeper than a ball can stop on")
    assert "runs" in plan.reasons[0]


def test_the_same_seed_gives_the_same_putt():
    situation = putt(18, Fall.AWAY, 0.02, Fall.RIGHT_TO_LEFT, 0.02)
    assert advise(situation, bag(), seed=4) == advise(situation, bag(), seed=4)
    one, other = (advise(situation, bag(), seed=seed).chosen for seed in (4, 5))
    assert one.strokes == pytest.approx(other.strokes, abs=0.03)


@pytest.mark.parametrize("feet", [0.1, 151, 200])
def test_lengths_that_are_no_putt_are_refused_in_one_line(feet):
    with pytest.raises(CaddieError, match="say a length from half a foot to 150 feet") as refused:
        advise(putt(feet), bag())
    assert "\n" not in str(refused.value)


def test_wet_grass_needs_more_pace_on_an_uphill_putt_and_says_so():
    dry, wet = (advise(putt(20, Fall.AWAY, 0.03, wet=wet), bag()) for wet in (None, True))
    assert wet.chosen.pace_m > dry.chosen.pace_m
    assert any("Wet grass" in reason for reason in wet.reasons)


def test_a_strong_wind_is_told_as_the_slope_that_it_is_like():
    windy = putt(30, wind=Wind(from_=WindFrom.LEFT, speed_m_s=20 * MPH_M_S))
    assert any("wind pushes" in reason for reason in advise(windy, bag()).reasons)


def test_the_aim_lies_within_its_range_and_an_unsaid_slope_is_the_wider_one():
    said = chosen(putt(15, Fall.LEFT_TO_RIGHT, 0.02, stimp_ft=9.5)).line
    unsaid = chosen(putt(15, Fall.LEFT_TO_RIGHT)).line
    aim = 15 * FOOT_M * math.tan(said.azimuth_rad)
    assert said.aim_least_left_m < aim < said.aim_most_left_m
    assert unsaid.aim_most_left_m - unsaid.aim_least_left_m > said.aim_most_left_m - said.aim_least_left_m


def test_the_spot_lies_on_the_start_line():
    line = chosen(putt(20, Fall.LEFT_TO_RIGHT, 0.03)).line
    assert line.spot_left_m == pytest.approx(line.spot_ahead_m * math.tan(line.azimuth_rad), abs=1e-3)
    assert line.spot_ahead_m == pytest.approx(0.9144)


def test_a_putt_without_a_putter_in_the_bag_is_still_read():
    wedge = Club(id="56", name="sand wedge", kind=ClubKind.WEDGE, loft_deg=56)
    option = advise(putt(10), Bag(clubs=(wedge,))).chosen
    assert option.club == "putter"
