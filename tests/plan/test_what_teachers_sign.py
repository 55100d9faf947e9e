"""Shots that teachers were asked to sign: trouble at a corner, what no putter rolls over, the way out of sand, a gale
(common practice, no source, where nothing else is named)."""

import pytest

from caddie.bag import load_bag
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.plan.putt.wind import wind_slope
from caddie.plan.trust import stays_in
from caddie.reply.cue import cue_for
from caddie.reply.spoken import speak
from caddie.situation import (
    Fall,
    Green,
    Hazard,
    HazardKind,
    InLine,
    Lie,
    PinPosition,
    Side,
    Sitting,
    Situation,
    Stance,
    Steepness,
    Wind,
    WindFrom,
    WindKnownBy,
)
from caddie.units import FOOT_M, MPH_M_S, YARD_M

BAG = load_bag()
FRONT_LEFT = (
    Hazard(kind=HazardKind.BUNKER, side=Side.SHORT, corner=Side.LEFT),
    Hazard(kind=HazardKind.BUNKER, side=Side.LEFT, corner=Side.SHORT),
)
GALE = Wind(from_=WindFrom.LEFT, speed_m_s=40 * MPH_M_S, known_by=WindKnownBy.FORECAST)


def plan_from(pin_yd: float, lie: Lie, only: Only | None = None, **said: object) -> Plan:
    there = Situation(pin_m=pin_yd * YARD_M, lie=lie, **said)
    return advise(there, BAG) if only is None else advise(there, BAG, only=only)


def spoken_of(plan: Plan) -> str:
    return speak(plan, BAG, cue_for(plan, BAG))


def rolled_from(lie_said: dict[str, object]) -> float:
    putt = plan_from(10, Lie.FRINGE, Only(club="putter"), **lie_said).chosen
    assert putt.roll_m is not None
    return putt.roll_m


@pytest.mark.parametrize(
    ("flag", "before"),
    [(PinPosition.MIDDLE_LEFT, True), (PinPosition.MIDDLE, False), (PinPosition.MIDDLE_RIGHT, False)],
)
def test_a_bunker_at_a_corner_is_in_the_way_of_a_flag_on_its_side_alone(
    flag: PinPosition, before: bool
) -> None:
    plan = plan_from(20, Lie.FAIRWAY, hazards=FRONT_LEFT, pin_position=flag)
    assert any(each.side is Side.SHORT for each in plan.situation.hazards) is before
    assert any(each.side is Side.LEFT for each in plan.situation.hazards)
    assert ("flies the bunker" in spoken_of(plan).lower()) is before


@pytest.mark.parametrize("kind", [HazardKind.BUNKER, HazardKind.WATER])
@pytest.mark.parametrize("lie", [Lie.FAIRWAY, Lie.FRINGE, Lie.BARE])
def test_no_putter_rolls_over_what_holds_the_ball(kind: HazardKind, lie: Lie) -> None:
    before = (Hazard(kind=kind, side=Side.SHORT),)
    with pytest.raises(CaddieError):
        plan_from(20, lie, Only(club="putter"), hazards=before)
    assert plan_from(20, lie, Only(club="putter")).chosen.club == "putter"


def test_over_a_sprinkler_head_it_is_chipped() -> None:
    assert plan_from(12, Lie.FRINGE).chosen.club == "putter"
    assert plan_from(12, Lie.FRINGE, in_line=InLine.SPRINKLER).chosen.carry_m > 1.0


def test_wet_and_long_fringe_take_more_pace() -> None:
    plain, wet, long = (rolled_from(each) for each in ({}, {"wet": True}, {"sitting": Sitting.DOWN}))
    assert plain <= wet < long


def test_plugged_before_a_chest_high_lip_the_way_out_is_sideways() -> None:
    water = (Hazard(kind=HazardKind.WATER, side=Side.LONG),)
    plan = plan_from(12, Lie.PLUGGED, lip_m=1.3, hazards=water)
    assert plan.chosen.sideways and "out sideways" in spoken_of(plan).lower()


@pytest.mark.parametrize("pin_yd", [10, 15])
def test_a_ball_stays_in_the_sand_no_oftener_because_the_green_falls(pin_yd: float) -> None:
    level = plan_from(pin_yd, Lie.BUNKER).chosen
    falls = plan_from(pin_yd, Lie.BUNKER, green=Green(fall=Fall.TOWARD)).chosen
    assert stays_in(level) < 0.2 and abs(stays_in(level) - stays_in(falls)) < 0.08


def test_down_in_thick_rough_loft_is_played_and_the_green_is_no_certainty() -> None:
    plain, down = (plan_from(12, Lie.HEAVY_ROUGH, sitting=each).chosen for each in (None, Sitting.DOWN))
    assert down.loft_deg >= 56.0 and down.share > 0.2
    assert down.on_green < 0.8 < plain.on_green


def test_on_top_of_thick_rough_the_ball_is_swept() -> None:
    plan = plan_from(15, Lie.HEAVY_ROUGH, sitting=Sitting.UP)
    assert "sweep" in cue_for(plan, BAG).say


def test_a_gale_is_played_under_and_a_wide_aim_is_told_in_greens() -> None:
    plan = plan_from(80, Lie.FAIRWAY, wind=GALE)
    assert plan.chosen.flight is Flight.LOW and plan.chosen.aim_left_m > 5.0
    wide = plan.model_copy(update={"chosen": plan.chosen.model_copy(update={"aim_left_m": 45.0})})
    assert "two greens' widths left" in spoken_of(wide)


def putt_in(wind: Wind) -> Option:
    return advise(Situation(pin_m=3 * FOOT_M, lie=Lie.GREEN, wind=wind), BAG).chosen


def test_a_gale_moves_a_short_putt_and_makes_it_harder() -> None:
    calm, blown = putt_in(Wind()), putt_in(GALE)
    assert calm.aim_left_m == 0.0 < blown.aim_left_m
    assert (blown.make or 0.0) < (calm.make or 0.0) - 0.05


def test_the_winds_slope_grows_with_the_square_of_its_speed() -> None:
    one, two = (
        wind_slope(Situation(wind=Wind(from_=WindFrom.RIGHT, speed_m_s=speed, known_by=WindKnownBy.FORECAST)))
        for speed in (5.0, 10.0)
    )
    assert one[0] == two[0] == 0.0 and two[1] == pytest.approx(4 * one[1]) and one[1] < 0.0


@pytest.mark.parametrize("yards", [25, 35, 45, 60])
def test_a_hollow_before_the_green_is_flown_to_the_green_and_not_run_through(yards):
    swale = Hazard(kind=HazardKind.SWALE, side=Side.SHORT)
    plan = advise(Situation(pin_m=yards * YARD_M, lie=Lie.FAIRWAY, hazards=(swale,)), BAG)
    front_m = plan.situation.front_m
    assert front_m is not None
    assert plan.chosen.carry_m > front_m


@pytest.mark.parametrize("yards", [2, 4, 8, 60])
@pytest.mark.parametrize("told", [{"unplayable": True}, {"sitting": Sitting.EMBEDDED}, {}])
def test_a_drop_is_offered_once_where_the_next_shot_is_as_barred(yards, told):
    trees = Hazard(kind=HazardKind.TREES, side=Side.SHORT, height_m=15.0)
    there = Situation(pin_m=yards * YARD_M, lie=Lie.HEAVY_ROUGH, hazards=(trees,), **told)
    assert advise(there, BAG).options


@pytest.mark.parametrize("steepness", [None, Steepness.SEVERE])
def test_over_sand_off_a_downslope_no_lob_is_swung_to_the_shoulder(steepness: Steepness | None) -> None:
    bunker = Hazard(kind=HazardKind.BUNKER, side=Side.SHORT)
    down = {"stance": (Stance.DOWNHILL,), "steepness": steepness, "hazards": (bunker,)}
    level, off_it = plan_from(30, Lie.LIGHT_ROUGH, hazards=(bunker,)), plan_from(30, Lie.LIGHT_ROUGH, **down)
    assert off_it.chosen.flight is not Flight.HIGH or off_it.chosen.share < 0.6
    assert off_it.chosen.strokes > level.chosen.strokes, "a slope gains nothing"
