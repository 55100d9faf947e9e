"""A bag whose splashes were measured: the plan splashes by them, and by what they say of the other clubs."""

from itertools import pairwise

import numpy as np
import pytest

from caddie.bag import Bag, Carry, Family, load_bag
from caddie.plan.assume import complete
from caddie.plan.candidates import Only, build
from caddie.plan.choose import advise
from caddie.plan.dispersion import SPREAD_BY_LIE, on_course
from caddie.plan.launches import Rows
from caddie.plan.option import Option
from caddie.plan.scene import Scene, lay_out
from caddie.plan.search import launch_rows
from caddie.plan.splash import with_splashes
from caddie.plan.swings import cell_spread, swing_curves
from caddie.situation import Lie, Sitting, Situation

BAG = load_bag()
MEASURED_M = {"chest": 17.0, "full": 26.0}
SD_M = 1.5
SHOTS = 30
SHARES = np.array([0.25, 0.5, 0.75, 1.0])


def splashing(carries_m: dict[str, float], club: str = "56", sd_m: float = SD_M) -> Bag:
    cells = tuple(
        Carry(swing=swing, carry_m=carry_m, sd_m=sd_m, side_sd_m=sd_m, shots=SHOTS)
        for swing, carry_m in carries_m.items()
    )
    clubs = tuple(
        each.model_copy(update={"splash": cells}) if each.id == club else each for each in BAG.clubs
    )
    return BAG.model_copy(update={"clubs": clubs})


def halved(carries_m: dict[str, float]) -> dict[str, float]:
    return {swing: carry_m / 2 for swing, carry_m in carries_m.items()}


def chosen(bag: Bag, pin_m: float, **only: object) -> Option:
    asked = Only(family=Family.SPLASH, **only)
    return advise(Situation(pin_m=pin_m, lie=Lie.BUNKER), bag, only=asked).chosen


def splash_row(bag: Bag, club: str = "56", **said: object) -> tuple[Scene, Rows, int]:
    scene = lay_out(complete(Situation(**({"pin_m": 20.0, "lie": Lie.BUNKER} | said)))[0], bag)
    rows = launch_rows(scene, bag, Only(club=club))
    return scene, rows, next(i for i, kind in enumerate(rows.kinds) if kind.splash)


def carries_m(bag: Bag, club: str = "56", **said: object) -> np.ndarray:
    """Level carries of the splash with the standard swings."""
    _, rows, row = splash_row(bag, club, **said)
    speed = rows.curve_of(row).speed_at(SHARES) * rows.geometry[row]
    return np.interp(speed, rows.speed_m_s[row], rows.carry_m[row])


def spread_m(bag: Bag, carry_m: float, **said: object) -> tuple[float, float]:
    scene, rows, row = splash_row(bag, **said)
    shot = build(scene, rows, bag, np.array([row]), np.array([carry_m]))
    return float(shot.length_sd_m[0]), float(shot.side_sd_m[0])


@pytest.mark.parametrize("swing", MEASURED_M)
def test_a_measured_splash_carries_what_was_measured(swing: str) -> None:
    option = chosen(splashing(MEASURED_M), 30.0, club="56", swing=swing)
    assert option.family is Family.SPLASH
    assert option.swing == swing
    # The face of the bunker lifts the landing a little, so that the ball comes down a little sooner.
    assert option.carry_m == pytest.approx(MEASURED_M[swing], rel=0.03)


def test_on_level_ground_the_measured_carries_are_met_and_the_other_swings_lie_about_them() -> None:
    hip, chest, shoulder, full = carries_m(splashing(MEASURED_M))
    assert (chest, full) == pytest.approx((17.0, 26.0), rel=0.003)
    assert 0.0 < hip < chest < shoulder < full
    only_chest = carries_m(splashing({"chest": 17.0}))
    assert only_chest[1] == pytest.approx(17.0, rel=0.003)
    assert all(shorter < longer for shorter, longer in pairwise(only_chest))


def test_a_splash_measured_half_as_far_is_swung_longer() -> None:
    usual = chosen(splashing(MEASURED_M), 14.0, club="56")
    weak = chosen(splashing(halved(MEASURED_M)), 14.0, club="56")
    assert weak.share > usual.share + 0.2
    assert weak.carry_m == pytest.approx(usual.carry_m, abs=4.0)


@pytest.mark.parametrize("club", ["60", "52", "PW", "9i"])
def test_the_other_clubs_splash_at_the_measured_share(club: str) -> None:
    _, usual, row = splash_row(splashing(MEASURED_M), club)
    _, weak, _ = splash_row(splashing(halved(MEASURED_M)), club)
    _, sand, mine = splash_row(splashing(halved(MEASURED_M)))
    assert weak.geometry[row] < 0.8 * usual.geometry[row]
    assert np.all(
        carries_m(splashing(halved(MEASURED_M)), club) < 0.65 * carries_m(splashing(MEASURED_M), club)
    )
    grass = sand.curves[sand.kinds[mine].curve]
    at = np.array([0.5, 1.0])
    shown = np.mean(sand.curve_of(mine).speed_at(at) / grass.speed_at(at))
    assert weak.geometry[row] == pytest.approx(shown)


def test_a_swing_longer_than_any_from_grass_and_one_alone_still_carry_as_measured() -> None:
    clubs = tuple(
        club.model_copy(update={"carries": club.carries[:2]}) if club.id == "56" else club
        for club in splashing({"full": 26.0}).clubs
    )
    hip, chest, shoulder, full = carries_m(BAG.model_copy(update={"clubs": clubs}))
    assert full == pytest.approx(26.0, rel=0.003)
    assert hip < chest < shoulder < full


def test_the_spread_is_that_of_the_cell_with_the_prior_and_sand_widens_it_no_more() -> None:
    handicap, carry_m, flag_m = BAG.player.handicap, np.array([17.0]), 20.0
    cell = Carry(swing="chest", carry_m=17.0, sd_m=SD_M, side_sd_m=SD_M, shots=SHOTS)
    pattern = cell_spread([cell], carry_m, handicap, wider=SPREAD_BY_LIE[Lie.BUNKER])
    told = on_course(*pattern, carry_m, flag_m, handicap, np.ones(1))
    found = spread_m(splashing(MEASURED_M), 17.0)
    assert found == pytest.approx(tuple(float(each[0]) for each in told), rel=0.02)
    assert spread_m(splashing(MEASURED_M, sd_m=4.0), 17.0) > found


def test_a_ball_sitting_down_or_plugged_is_less_certain_than_a_clean_one() -> None:
    bag = splashing(MEASURED_M)
    clean, plugged = carries_m(bag), carries_m(bag, lie=Lie.PLUGGED)
    assert np.all(plugged < 0.75 * clean)
    chest = 1
    share = spread_m(bag, clean[chest])[1] / clean[chest]
    assert spread_m(bag, plugged[chest], lie=Lie.PLUGGED)[1] / plugged[chest] > 1.2 * share
    down = spread_m(bag, 17.0, sitting=Sitting.DOWN)[1]
    # Sand that holds the ball also takes speed, so the same carry needs a longer swing.
    assert down > 1.25 * spread_m(bag, 17.0)[1]


def test_without_cells_nothing_changes_and_from_grass_they_say_nothing() -> None:
    air = splash_row(BAG)[0].measured_air
    curves = swing_curves(BAG, air)
    assert with_splashes(curves, BAG, air) is curves
    grass = Situation(pin_m=30.0, lie=Lie.FAIRWAY)
    assert advise(grass, splashing(MEASURED_M)).options == advise(grass, BAG).options
