"""What a short-game teacher would and would not tell a pupil (common practice, no source, if nothing else is said)."""

from dataclasses import replace

import numpy as np
import pytest

from caddie.bag import Bag, Carry, ClubKind, Family, load_bag
from caddie.ball.ground import Surface
from caddie.ball.launch import Flight
from caddie.plan.assume import complete
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.dispersion import draw
from caddie.plan.finish import finish
from caddie.plan.option import Option
from caddie.plan.putt.off_green import putts_onto_green
from caddie.plan.scene import lay_out
from caddie.plan.search import launch_rows
from caddie.plan.strikes import strike_rates
from caddie.plan.strokes import hole_out_table
from caddie.plan.trust import MEASURED_WORTH, chosen_of, fits, plainer, practised, trusted
from caddie.situation import Fall, Green, Hazard, HazardKind, Lie, PinPosition, Side, Situation
from caddie.units import YARD_M

BAG = load_bag()


def at(pin_yd: float, lie: Lie, **said: object) -> Situation:
    return Situation(pin_m=pin_yd * YARD_M, lie=lie, **said)


def scene_of(situation: Situation):
    return lay_out(complete(situation)[0], BAG)


def playing_off(handicap: float, shorter: float = 1.0, wider: float = 1.0) -> Bag:
    def cell(carry: Carry) -> Carry:
        update = {"carry_m": shorter * carry.carry_m, "sd_m": wider * carry.sd_m, "side_sd_m": None}
        return carry.model_copy(update=update)

    clubs = tuple(
        club.model_copy(update={"carries": tuple(cell(carry) for carry in club.carries)})
        for club in BAG.clubs
    )
    player = BAG.player.model_copy(update={"handicap": handicap, "usual_misses": ()})
    return BAG.model_copy(update={"clubs": clubs, "player": player})


FAIRWAY, SAND = (complete(at(60, lie))[0] for lie in (Lie.FAIRWAY, Lie.BUNKER))


def option(**changed: object) -> Option:
    return advise(at(60, Lie.FAIRWAY), BAG).chosen.model_copy(update={"trusted": False, **changed})


def test_trust_wins_a_near_tie_and_no_poor_fit():
    best = option(club="52", trust=0.5, rank_score=3.0, leave_m=4.0, on_green=0.8, in_trouble=0.02)
    running = {"club": "PW", "family": Family.BUMP_AND_RUN, "trust": 0.8, "rank_score": 3.06}
    near = best.model_copy(update=running)
    assert trusted((best, near), 0.1, FAIRWAY).club == "PW"
    for poor in ({"leave_m": 6.5}, {"on_green": 0.7}, {"in_trouble": 0.08}):
        favourite = near.model_copy(update=poor)
        assert not fits(favourite, best, FAIRWAY)
        assert trusted((best, favourite), 0.1, FAIRWAY) == best


def test_having_measured_a_swing_is_worth_little_and_nothing_past_the_flag():
    best = option(trust=0.56, rank_score=3.0, land_short_of_pin_m=3.0, run_m=3.0)
    measured = best.model_copy(update={"club": "56", "trust": 0.7, "rank_score": 3.0 + 0.9 * MEASURED_WORTH})
    assert trusted((best, measured), 0.1, FAIRWAY).club == "56"
    dear = measured.model_copy(update={"rank_score": 3.0 + 1.1 * MEASURED_WORTH})
    past = measured.model_copy(update={"land_short_of_pin_m": -4.0, "run_m": 2.0})
    for poor in (dear, past):
        assert trusted((best, poor), 0.1, FAIRWAY) == best


@pytest.mark.parametrize("pin_yd", [44, 55, 72, 82])
def test_a_measured_swing_finishes_about_where_the_best_by_numbers_does(pin_yd: int):
    for fall in (None, Fall.AWAY):
        plan = advise(at(pin_yd, Lie.FAIRWAY, green=Green(fall=fall)), BAG)
        shot, best = plan.chosen, plan.options[0]
        past_m = [each.run_m - each.land_short_of_pin_m for each in (shot, best)]
        assert abs(past_m[0]) <= abs(past_m[1]) + 3.0
        assert shot.family is not best.family or shot.rank_score <= best.rank_score + MEASURED_WORTH


def test_a_ball_that_often_stays_in_the_sand_is_given_a_surer_way_out_for_little():
    best = option(family=Family.SPLASH, rank_score=3.0, trouble={"sand": 0.38}, in_trouble=0.38)
    surer = best.model_copy(update={"club": "60", "rank_score": 3.06, "trouble": {"sand": 0.2}})
    assert chosen_of((best, surer), 0.1, SAND).club == "60"
    assert chosen_of((best, surer), 0.1, FAIRWAY).club == best.club, (
        "sand before the green is no sand to get out of"
    )
    dear = surer.model_copy(update={"rank_score": 3.2})
    assert chosen_of((best, dear), 0.1, SAND).club == best.club


def test_no_greenside_sand_is_splashed_with_a_full_swing_where_a_shorter_one_is_as_good():
    full = option(family=Family.SPLASH, rank_score=3.0, share=1.0, swing="full", trouble={})
    shorter = full.model_copy(update={"club": "52", "share": 0.75, "rank_score": 3.02})
    assert plainer((full, shorter), SAND).club == "52"
    assert plainer((full, shorter.model_copy(update={"rank_score": 3.1})), SAND) == full


@pytest.mark.parametrize("pin_yd", [10, 14, 20])
def test_from_thick_rough_by_the_green_the_club_has_the_loft_of_a_sand_wedge(pin_yd: int):
    shot = advise(at(pin_yd, Lie.HEAVY_ROUGH), BAG).chosen
    assert shot.loft_deg >= 56.0


def test_thick_rough_stops_a_short_swing_oftener_and_less_loft_oftener():
    situation = complete(at(14, Lie.HEAVY_ROUGH))[0]
    share = np.array([0.1, 0.2, 0.3])
    lofted, _ = strike_rates(BAG.player, situation, Family.CHIP, 56.0, share, None)
    running, _ = strike_rates(BAG.player, situation, Family.CHIP, 46.0, share, None)
    assert (np.diff(lofted) < 0).all()
    assert (running > lofted).all()


def test_a_little_more_trust_decides_only_what_is_as_good():
    best = option(club="52", trust=0.63, rank_score=3.0)
    favourite = best.model_copy(update={"club": "56", "trust": 0.7, "rank_score": 3.02})
    assert trusted((best, favourite), 0.1, FAIRWAY).club == "56"
    assert trusted((best, favourite.model_copy(update={"rank_score": 3.05})), 0.1, FAIRWAY).club == "52"


def test_a_28_handicap_in_a_divot_at_eighty_yards_is_not_told_to_run_an_iron_there():
    bag = playing_off(28, shorter=0.85, wider=1.45)
    shot = advise(at(80, Lie.DIVOT), bag).chosen
    assert shot.family is Family.PITCH
    assert bag.club_called(shot.club).kind is ClubKind.WEDGE


@pytest.mark.parametrize("lie", [Lie.FAIRWAY, Lie.BARE, Lie.DIVOT, Lie.LIGHT_ROUGH])
def test_nothing_is_landed_half_way_down_a_long_approach(lie: Lie):
    for pin_yd in range(60, 101, 10):
        shot = advise(at(pin_yd, lie), BAG).chosen
        assert shot.carry_m >= 0.6 * pin_yd * YARD_M, f"{pin_yd} yards: {shot.club} {shot.swing}"


def test_a_running_shot_is_the_safer_strike_only_while_its_swing_is_small():
    situation = complete(at(60, Lie.DIVOT))[0]
    share = np.array([0.2, 0.35, 0.5, 0.7])
    run, _ = strike_rates(BAG.player, situation, Family.BUMP_AND_RUN, 46.0, share, None)
    pitch, _ = strike_rates(BAG.player, situation, Family.PITCH, 46.0, share, None)
    assert run[0] < 0.7 * pitch[0]
    assert run[1] < pitch[1]
    assert run[2:] == pytest.approx(pitch[2:])


def test_only_what_was_measured_keeps_its_whole_trust():
    scene = scene_of(at(60, Lie.FAIRWAY))
    rows = launch_rows(scene, BAG, Only(club="56"))
    stock, low = (
        next(i for i, kind in enumerate(rows.kinds) if kind.flight is flight)
        for flight in (Flight.STOCK, Flight.LOW)
    )
    chest, near, between = 0.5, 0.46, 0.38
    kept = [practised(Family.PITCH, rows, stock, share, BAG) for share in (chest, near, between)]
    assert kept[0] == 1.0 > kept[1] > kept[2]
    assert practised(Family.PITCH, rows, low, chest, BAG) < 1.0, "carries are measured with the stock flight"
    assert practised(Family.CHIP, rows, stock, between, BAG) == 1.0, "a chip is played by feel"


def test_a_swing_measured_on_grass_is_not_measured_in_sand():
    plan = advise(at(8, Lie.BUNKER, room_m=3 * YARD_M), BAG)
    assert not any("measured" in reason for reason in plan.reasons)


def test_the_swing_and_club_change_smoothly_along_the_fairway():
    """Carry grows with every four yards, no wedge is forced, and a measured swing may stand apart by 17."""
    shots = [advise(at(pin_yd, Lie.FAIRWAY), BAG).chosen for pin_yd in range(18, 99, 4)]
    carries = np.array([shot.carry_m for shot in shots if shot.family is not Family.PUTT]) / YARD_M
    assert np.all(np.diff(carries) > -8) and np.all(np.diff(carries) < 17)
    assert not [shot for shot in shots if shot.club == "60" and shot.swing == "full"]


def test_on_the_fringe_the_ball_lies_at_the_edge_and_loft_goes_down_as_the_green_gets_longer():
    """First the putter, then less and less loft as the flag moves away."""
    loft = []
    for pin_yd in (6, 12, 20, 30, 40, 50):
        plan = advise(at(pin_yd, Lie.FRINGE), BAG)
        assert plan.situation.front_m < 1.0
        # A low flight takes 7.5 degrees off the club.
        punched = plan.chosen.flight is Flight.LOW and plan.chosen.family is not Family.PUTT
        loft.append(plan.chosen.loft_deg - 7.5 * punched)
    assert loft[:3] == [3.0, 3.0, 3.0]
    assert loft[-1] <= 46.0


def test_a_putt_from_the_fringe_costs_little_more_than_one_of_its_length():
    for pin_yd in (4, 8, 14):
        shot = advise(at(pin_yd, Lie.FRINGE), BAG).chosen
        putt = float(hole_out_table(BAG.player.handicap).strokes(pin_yd * YARD_M, Lie.GREEN))
        assert shot.family is Family.PUTT
        assert putt - 0.05 <= shot.strokes <= putt + 0.25


@pytest.mark.parametrize("lie", [Lie.FRINGE, Lie.FAIRWAY])
def test_the_putter_is_never_meant_to_stay_short(lie: Lie):
    for pin_yd in (4, 9, 15):
        shot = advise(at(pin_yd, lie), BAG, only=Only(family=Family.PUTT)).chosen
        assert shot.run_m >= pin_yd * YARD_M - 1e-3


def even(draws):
    still = np.zeros_like(draws.distance)
    return replace(draws, distance=still, direction=still, strike=still + 0.5)


def test_a_putt_from_off_the_green_struck_as_meant_dies_at_the_hole():
    """The pace is found on the bare ground: a hole would hold every speed that drops into it."""
    scene = scene_of(at(10, Lie.FRINGE))
    putts = putts_onto_green(scene, BAG, even(draw(8, seed=1)))
    finishes = putts.finishes
    distance = np.hypot(scene.pin_m - finishes.x_m, finishes.y_m)
    assert np.all(finishes.holed[0] | (distance[0] < 0.3))
    assert putts.meant_m[0] == scene.pin_m


def test_a_bank_makes_the_putter_the_less_certain():
    """Twice the climb, not only twice the way: what is left of the energy on top decides (energy balance)."""

    def miss_m(height_m: float) -> float:
        scene = scene_of(at(20, Lie.FAIRWAY, room_m=4 * YARD_M, elevation_m=height_m))
        finishes = putts_onto_green(scene, BAG, draw(400, seed=1)).finishes
        return float(np.median(np.hypot(scene.pin_m - finishes.x_m[0], finishes.y_m[0])))

    assert miss_m(2.0) > 1.6 * miss_m(0.0)


def test_a_putt_from_the_fringe_starts_on_the_high_side():
    aims = {}
    for fall in (Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT):
        green = Green(fall=fall, fall_slope=0.02)
        aims[fall] = advise(at(10, Lie.FRINGE, green=green), BAG).chosen.aim_left_m
    assert aims[Fall.LEFT_TO_RIGHT] > 0.3
    assert aims[Fall.RIGHT_TO_LEFT] == pytest.approx(-aims[Fall.LEFT_TO_RIGHT], abs=0.02)
    level = advise(at(10, Lie.FRINGE), BAG).chosen
    assert level.aim_left_m == pytest.approx(0.0, abs=1e-3)


def test_sand_lies_before_a_ball_in_a_bunker_however_much_green_is_said():
    for room_m in (None, 13.0, 15.0):
        filled, _ = complete(at(15, Lie.BUNKER, room_m=room_m))
        assert filled.front_m >= 0.7
        assert filled.pin_m == pytest.approx(filled.front_m + filled.room_m)
    shot = advise(at(15, Lie.BUNKER, room_m=15.0), playing_off(28)).chosen
    assert shot.family is Family.SPLASH and shot.loft_deg >= 50


def test_the_bunker_the_ball_lies_in_is_no_second_one():
    one = Hazard(kind=HazardKind.BUNKER)
    between = Hazard(kind=HazardKind.BUNKER, side=Side.SHORT)
    assert complete(at(15, Lie.BUNKER, hazards=(one,)))[0].hazards == ()
    assert complete(at(15, Lie.BUNKER, hazards=(between,)))[0].hazards == (between,)
    assert complete(at(15, Lie.FAIRWAY, hazards=(one,)))[0].hazards == (one,)


def test_trouble_said_to_be_beyond_the_flag_lies_behind_it():
    water = Hazard(kind=HazardKind.WATER, carry_m=60.0)
    assert complete(at(50, Lie.FAIRWAY, hazards=(water,)))[0].hazards[0].side is Side.LONG
    assert complete(at(90, Lie.FAIRWAY, hazards=(water,)))[0].hazards[0].side is None


def test_a_near_flag_is_splashed_to_with_a_wedge_made_for_it_and_a_far_one_with_less_loft():
    near = advise(at(15, Lie.BUNKER), BAG)
    assert all(each.loft_deg >= 50 for each in near.options if each.family is Family.SPLASH)
    far = advise(at(36, Lie.BUNKER), BAG)
    assert min(each.loft_deg for each in far.options if each.family is Family.SPLASH) <= 46


def test_a_plugged_ball_is_dug_out_with_a_square_face():
    plan = advise(at(15, Lie.PLUGGED), BAG)
    assert {each.flight for each in plan.options} == {Flight.LOW}


def test_a_bare_spot_is_a_spot_and_not_the_whole_way():
    ground = scene_of(at(60, Lie.BARE)).ground
    surfaces = [Surface(int(each)) for each in ground.surface_at(np.array([1.0, 20.0]), np.zeros(2))]
    assert surfaces == [Surface.BARE, Surface.FAIRWAY]


def test_an_iron_that_mostly_runs_is_a_running_shot_low_or_not():
    plan = advise(at(45, Lie.FAIRWAY, pin_position=PinPosition.BACK, room_m=20 * YARD_M), BAG)
    irons = [each for each in plan.options if each.club in ("9i", "8i", "7i")]
    assert irons
    assert all(each.family is Family.BUMP_AND_RUN for each in irons if each.carry_m < 0.55 * 45 * YARD_M)


def test_a_bump_and_run_asked_for_is_no_wedge_of_much_loft():
    shot = advise(at(25, Lie.BARE), BAG, only=Only(family=Family.BUMP_AND_RUN)).chosen
    assert shot.loft_deg <= 50


def test_the_farther_a_ball_must_run_over_the_approach_the_less_sure_it_is():
    """Standard deviation of the run against its mean, landed by the green and far short of it."""
    scene = scene_of(at(60, Lie.FAIRWAY))
    rows = launch_rows(scene, BAG, Only(club="PW"))
    row = next(i for i, kind in enumerate(rows.kinds) if kind.flight is Flight.LOW)
    kick = np.linspace(-1, 1, 201)
    shares = []
    for carry_m in (scene.front_m - 1.0, scene.front_m - 20.0):
        speed = np.full(201, np.interp(carry_m, rows.carry_m[row], rows.speed_m_s[row]))
        rest = finish(scene, rows, np.full(201, row), speed, np.zeros(201), kick, covered=True)
        run_m = rest.x_m - rest.land_x_m
        shares.append(run_m.std() / run_m.mean())
    assert shares[1] > 1.2 * shares[0]


def test_a_club_the_player_will_not_hit_is_left_out():
    plan = advise(at(30, Lie.LIGHT_ROUGH), BAG, only=Only(without=("60", "56")))
    assert not {"60", "56"} & {each.club for each in plan.options}
