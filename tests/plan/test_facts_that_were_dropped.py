"""Facts that change a shot and were once passed over: the green's size, the ground, an open side, a deep bunker, mud,
a wet bank and free relief (common practice, no source, but for the Rules of Golf, January 2023)."""

import pytest

from caddie import advise, load_bag, understand
from caddie.bag import Family
from caddie.plan.lip import DEEP_M
from caddie.plan.option import Plan
from caddie.reply.cue import cue_for
from caddie.reply.spoken import speak
from caddie.talk.miss_side import safe_side

BAG = load_bag()


def plan_of(said: str) -> Plan:
    return advise(understand(said).situation, BAG)


def spoken(plan: Plan) -> str:
    return speak(plan, BAG, cue_for(plan, BAG))


def test_a_small_green_is_hit_less_and_its_bunkers_catch_more() -> None:
    usual, small = (
        plan_of(f"eighty-five yards, fairway, into the wind, {size} raised green, bunkers both sides")
        for size in ("a", "small")
    )
    assert small.chosen.on_green < usual.chosen.on_green - 0.1
    assert small.chosen.trouble["sand"] > 1.5 * usual.chosen.trouble["sand"]


@pytest.mark.parametrize("said", ["narrow green", "tiny green", "postage stamp of a green"])
def test_a_green_of_less_size_is_missed_more(said: str) -> None:
    assert (
        plan_of(f"eighty yards, fairway, {said}").chosen.on_green
        < plan_of("eighty yards, fairway").chosen.on_green
    )


def test_on_soft_ground_a_ball_runs_less_and_on_firm_ground_more() -> None:
    way = "eight paces off the green on the fairway, flag twenty-five paces on"
    grounds = (", ground is soft", "", ", ground is firm")
    soft, plain, firm = (plan_of(f"{way}{ground}") for ground in grounds)
    assert soft.chosen.run_m < plain.chosen.run_m
    # On firm ground the same run is had from a shorter flight.
    assert firm.chosen.run_m / firm.chosen.carry_m > soft.chosen.run_m / soft.chosen.carry_m


def test_the_greens_own_word_counts_before_that_of_the_ground() -> None:
    assert understand("twenty yards, ground's soft but the green is firm").situation.green.firmness == "firm"


def test_the_open_side_is_where_to_miss_and_no_place_of_the_flag() -> None:
    plan = plan_of("seventy-five yards, tree on my left, open to the right, flag in the middle, light rough")
    assert plan.chosen.aim_left_m < 1.0
    assert "left, miss right" in spoken(plan)
    alone = plan_of("sixty yards, fairway, plenty of room on the left")
    assert safe_side(alone, BAG) == "miss it left"


def test_a_deep_bunker_has_a_high_face_that_is_taken_and_named() -> None:
    deep, usual = plan_of("in a deep bunker, fifteen yards"), plan_of("in a bunker, fifteen yards")
    assert deep.assumed["lip_m"] == DEEP_M
    assert deep.chosen.trouble["sand"] > usual.chosen.trouble["sand"] + 0.1
    assert "three in ten" in spoken(deep)
    told = plan_of("in a deep bunker, two foot lip, fifteen yards")
    assert "lip_m" not in told.assumed


def test_deep_sand_is_soft_and_no_face() -> None:
    situation = understand("in the bunker, fifteen yards, the sand is deep").situation
    assert (situation.sand, situation.deep_bunker) == ("soft", None)


def test_a_muddy_ball_is_not_putted_through_grass_but_wiped_on_the_green() -> None:
    """Rule 14.1c: on the putting green the ball may be lifted and cleaned."""
    plan = plan_of("twenty-five yards, mud on my ball, flag on the top tier just over the ridge, wet fairway")
    assert plan.chosen.family is not Family.PUTT
    assert "muddy ball, it may curve" in spoken(plan_of("seventy yards, mud on the ball, fairway")).lower()
    assert "wipe the mud off" in spoken(plan_of("twenty foot putt, uphill, mud on my ball, left to right"))


@pytest.mark.parametrize("ground", ["a bare muddy patch", "wet fairway"])
def test_no_putter_goes_up_a_soft_bank(ground: str) -> None:
    plan = plan_of(
        f"four paces off a raised green, two yards below it, flag twelve yards on, ball on {ground}"
    )
    assert all(option.family is not Family.PUTT for option in plan.options)


@pytest.mark.parametrize(
    ("said", "first"),
    [
        (
            "ball sitting right down in casual water in the bunker, twenty yards to the flag",
            "free drop in the sand",
        ),
        ("forty yards, ball in ground under repair, fairway", "ground under repair: free drop"),
        ("my ball's in a puddle on the fairway, sixty yards", "temporary water: free drop"),
    ],
)
def test_temporary_water_and_ground_under_repair_give_a_free_drop(said: str, first: str) -> None:
    """Rule 16.1b and c."""
    assert first in spoken(plan_of(said)).lower()


@pytest.mark.parametrize(
    ("said", "start"),
    [
        ("eight yards off the green on the fairway, flag twenty-five yards on", "Eight yards to the green"),
        ("sixty-five yards to the front, fairway", "Sixty-five yards to the green"),
        ("forty yards, fairway", "Forty yards."),
    ],
)
def test_the_first_distance_is_one_that_was_told(said: str, start: str) -> None:
    assert spoken(plan_of(said)).startswith(start)


def test_a_slope_of_which_no_side_was_told_is_named_as_not_followed() -> None:
    assert understand("forty yards, sidehill lie, fairway").left_over == ("sidehill",)
    assert understand("forty yards, sidehill lie, ball above my feet").left_over == ()
