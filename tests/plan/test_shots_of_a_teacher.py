"""Shots that a teacher would sign, and laws of trouble that never helps (common practice, no source)."""

import numpy as np
import pytest

from caddie.bag import Family, load_bag
from caddie.ball.launch import Flight, face_sensitivity
from caddie.plan.assume import complete
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.launches import OPEN_LEAN_RAD
from caddie.plan.option import Option
from caddie.plan.scene import lay_out
from caddie.plan.search import launch_rows
from caddie.plan.shapes import lies_before_flag, top_m
from caddie.plan.strikes import strike_rates
from caddie.plan.trust import plainer
from caddie.situation import Hazard, HazardKind, Lie, PinPosition, Side, Situation
from caddie.units import FOOT_M, YARD_M

BAG = load_bag()


def at(pin_yd: float, lie: Lie, **said: object) -> Situation:
    return Situation(pin_m=pin_yd * YARD_M, lie=lie, **said)


@pytest.mark.parametrize("lie", [Lie.FAIRWAY, Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH])
@pytest.mark.parametrize("pin_yd", [12, 15, 20, 25])
def test_with_green_to_work_with_the_face_is_not_laid_open(pin_yd: int, lie: Lie) -> None:
    shot = advise(at(pin_yd, lie), BAG).chosen
    assert shot.family in (Family.PUTT, Family.CHIP, Family.BUMP_AND_RUN, Family.PITCH)
    assert not shot.wide_open
    assert shot.share <= 0.3, "no long swing for a short shot"


def test_a_long_swing_under_an_open_face_goes_wrong_as_often_to_a_near_flag() -> None:
    """The course's share of mishits goes with the size of the swing where the flag is near."""
    share = np.array([0.5])
    near, far = (complete(at(pin_yd, Lie.FAIRWAY))[0] for pin_yd in (12, 70))
    long_m = 60.0
    rates = [
        strike_rates(BAG.player, situation, Family.LOB, 60.0, share, None, long_m)[0][0]
        for situation in (near, far)
    ]
    small = strike_rates(BAG.player, near, Family.LOB, 60.0, share, None)[0][0]
    assert rates[0] == pytest.approx(rates[1])
    assert small < rates[0]


def test_the_more_open_the_face_the_more_its_error_tells() -> None:
    """Ball speed goes with the cosine of the spin loft: its share of change a radian is the tangent."""
    loft = float(np.radians(56))
    plain, open_, wide = (
        float(face_sensitivity(loft, Flight.STOCK)),
        float(face_sensitivity(loft, Flight.HIGH)),
        float(face_sensitivity(loft, Flight.HIGH, OPEN_LEAN_RAD)),
    )
    assert plain == 0.0 < open_ < wide
    spin_loft, stock = np.radians([56 - 1.5 + 5, 56 - 12 + 5])
    assert open_ == pytest.approx(np.tan(spin_loft) - np.tan(stock), rel=1e-6)


def test_a_wide_open_face_gives_way_to_a_plainer_shot_that_is_as_good() -> None:
    near = complete(at(15, Lie.FAIRWAY))[0]
    best = advise(near, BAG, only=Only(club="56")).options[0]
    lob = best.model_copy(
        update={"wide_open": True, "flight": Flight.HIGH, "rank_score": 2.8, "in_trouble": 0.1}
    )
    chip = best.model_copy(update={"wide_open": False, "rank_score": 2.82, "in_trouble": 0.1})
    assert plainer((lob, chip), near) == chip
    riskier = chip.model_copy(update={"in_trouble": 0.2})
    worse = chip.model_copy(update={"rank_score": 2.95})
    assert plainer((lob, riskier, worse), near) == lob
    more_loft = lob.model_copy(update={"loft_deg": 60.0, "rank_score": 2.82})
    assert plainer((lob, more_loft), near) == more_loft


def test_a_low_flight_never_carries_farther_than_the_plain_one_of_the_same_swing() -> None:
    """In still air, from every lie that lets a low ball through, at every swing length of every club."""
    for lie in (Lie.FAIRWAY, Lie.LIGHT_ROUGH, Lie.BARE, Lie.DIVOT, Lie.PINE_STRAW, Lie.FRINGE):
        scene = lay_out(complete(at(90, lie))[0], BAG)
        rows = launch_rows(scene, BAG, Only(flight=Flight.LOW))
        stock = {kind.curve: i for i, kind in enumerate(rows.kinds) if kind.flight is Flight.STOCK}
        for i, kind in enumerate(rows.kinds):
            if kind.flight is not Flight.LOW:
                continue
            share = np.array([0.1, 0.25, 0.5, 0.75, rows.curve_of(i).longest])
            low_m, plain_m = (
                np.interp(
                    rows.curve_of(row).speed_at(share) * rows.geometry[row],
                    rows.speed_m_s[row],
                    rows.carry_m[row],
                )
                for row in (i, stock[kind.curve])
            )
            assert np.all(low_m <= plain_m + 0.05), f"{rows.curve_of(i).club.id} from {lie.value}"


def test_a_lob_wedge_is_played_low_only_when_that_is_asked() -> None:
    asked = advise(at(30, Lie.FAIRWAY), BAG, only=Only(club="60"))
    assert all(shot.flight is not Flight.LOW for shot in asked.options)
    low = advise(at(30, Lie.FAIRWAY), BAG, only=Only(club="60", flight=Flight.LOW))
    assert low.chosen.flight is Flight.LOW


def over_water(pin_yd: float, carry_yd: float, lie: Lie) -> Situation:
    water = Hazard(kind=HazardKind.WATER, side=Side.SHORT, carry_m=carry_yd * YARD_M)
    return at(pin_yd, lie, hazards=(water,))


def test_water_before_the_green_brings_a_lay_up_with_a_measured_swing_and_its_strokes() -> None:
    plan = advise(over_water(110, 100, Lie.FAIRWAY), BAG)
    safe = next(option for option in plan.options if option.lay_up)
    assert safe.owned and safe.flight is Flight.STOCK
    assert safe.in_trouble < 0.5 * plan.options[0].in_trouble
    assert safe.carry_m < (100 - 15) * YARD_M
    assert any(f"costs {safe.strokes - plan.chosen.strokes:.2f} strokes more" in why for why in plan.reasons)


def test_from_thick_rough_the_lay_up_is_advised_when_it_costs_next_to_nothing() -> None:
    plan = advise(over_water(100, 90, Lie.HEAVY_ROUGH), BAG)
    best = plan.options[0]
    assert plan.chosen.lay_up
    assert plan.chosen.rank_score - best.rank_score < BAG.player.margin_strokes
    assert plan.chosen.in_trouble <= 0.5 * best.in_trouble
    assert plan.chosen.leave_m > 30 * YARD_M


def test_nothing_is_laid_up_where_no_water_lies_before_the_green() -> None:
    left = Hazard(kind=HazardKind.WATER, side=Side.LEFT)
    for situation in (at(100, Lie.FAIRWAY), at(100, Lie.FAIRWAY, hazards=(left,))):
        assert not any(option.lay_up for option in advise(situation, BAG).options)


def test_water_before_the_green_is_not_gone_round() -> None:
    for shot in advise(over_water(100, 90, Lie.HEAVY_ROUGH), BAG).options:
        assert abs(shot.aim_left_m) < 10.0


def test_water_before_the_green_never_gains_strokes() -> None:
    for pin_yd, carry_yd in ((60, 45), (80, 70), (110, 100)):
        dry, wet = (
            advise(situation, BAG).options[0].strokes
            for situation in (at(pin_yd, Lie.FAIRWAY), over_water(pin_yd, carry_yd, Lie.FAIRWAY))
        )
        assert wet > dry - 0.01


def test_a_false_front_is_landed_beyond() -> None:
    false_front = Hazard(kind=HazardKind.FALSE_FRONT, side=Side.SHORT)
    for pin_yd, position in ((40, PinPosition.FRONT), (40, PinPosition.MIDDLE), (70, PinPosition.FRONT)):
        plan = advise(at(pin_yd, Lie.FAIRWAY, hazards=(false_front,), pin_position=position), BAG)
        top = top_m(false_front, plan.situation)
        assert plan.situation.pin_m - top > 3 * YARD_M, "no hole is cut on it"
        assert plan.chosen.carry_m >= top - 0.3


def test_a_four_foot_bank_is_not_run_up_by_a_ball_that_hardly_flies() -> None:
    bank = Hazard(kind=HazardKind.UPSLOPE, side=Side.SHORT, height_m=4 * FOOT_M)
    for lie in (Lie.FAIRWAY, Lie.LIGHT_ROUGH):
        plan = advise(at(20, lie, hazards=(bank,)), BAG)
        assert plan.chosen.carry_m > top_m(bank, plan.situation), "it carries the bank"


def test_a_bank_is_as_high_as_said() -> None:
    bank = Hazard(kind=HazardKind.UPSLOPE, side=Side.SHORT, height_m=4 * FOOT_M)
    scene = lay_out(complete(at(25, Lie.FAIRWAY, hazards=(bank,)))[0], BAG)
    middle = np.array([scene.front_m + 2.0])
    assert float(scene.ground.height_m(middle, np.zeros(1))[0]) == pytest.approx(4 * FOOT_M, abs=0.02)


def test_a_flag_at_the_front_of_a_tiered_green_is_on_the_lower_tier() -> None:
    tier = Hazard(kind=HazardKind.TIER)
    front, back = (
        complete(at(40, Lie.FAIRWAY, hazards=(tier,), pin_position=position))[0]
        for position in (PinPosition.FRONT, PinPosition.BACK)
    )
    assert not lies_before_flag(tier, front)
    assert lies_before_flag(tier, back)


def test_a_putt_over_a_tier_costs_more_either_way_and_is_rolled_by_its_height() -> None:
    def putt(*hazards: Hazard) -> Option:
        return advise(Situation(pin_m=45 * FOOT_M, lie=Lie.GREEN, hazards=hazards), BAG).chosen

    level = putt()
    up, down = (putt(Hazard(kind=HazardKind.TIER, down=down)) for down in (False, True))
    assert down.pace_m < level.pace_m < up.pace_m
    assert level.strokes < min(up.strokes, down.strokes)


@pytest.mark.parametrize("kind", [HazardKind.TIER, HazardKind.FALSE_FRONT])
@pytest.mark.parametrize("pin_yd", [25, 40, 70])
def test_a_tier_or_a_false_front_before_the_flag_never_gains_strokes(pin_yd: int, kind: HazardKind) -> None:
    said = {"pin_position": PinPosition.MIDDLE, "front_m": (pin_yd - 14) * YARD_M}
    plain, shaped = (
        advise(at(pin_yd, Lie.FAIRWAY, hazards=hazards, **said), BAG).options[0]
        for hazards in ((), (Hazard(kind=kind),))
    )
    assert shaped.strokes > plain.strokes - 0.01
