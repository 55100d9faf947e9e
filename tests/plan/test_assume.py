import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.errors import CaddieError
from caddie.plan.assume import ASK_DISTANCE, USUAL_STIMP_FT, complete, question_for
from caddie.situation import (
    Fall,
    Firmness,
    Green,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Situation,
    Wind,
    WindFrom,
    WindKnownBy,
)
from caddie.talk.laid_over import merged
from caddie.units import YARD_M
from caddie.words import understand


def test_no_distance_is_the_one_question():
    assert question_for(Situation(lie=Lie.BUNKER)) == ASK_DISTANCE
    with pytest.raises(CaddieError, match="distance"):
        complete(Situation(lie=Lie.BUNKER))


def test_greenside_with_room_needs_no_distance_and_says_what_was_taken():
    situation = Situation(lie=Lie.LIGHT_ROUGH, greenside=True, room_m=2 * YARD_M)
    filled, taken = complete(situation)
    assert question_for(situation) is None
    assert filled.pin_m == pytest.approx(4 * YARD_M)
    assert taken["pin_m"] == filled.pin_m


def test_front_edge_and_back_flag_give_the_distance():
    filled, taken = complete(Situation(front_m=20 * YARD_M, pin_position=PinPosition.BACK))
    assert filled.pin_m == pytest.approx(40 * YARD_M)
    assert set(taken) >= {"pin_m", "room_m", "lie"}


@given(
    pin_m=st.floats(2, 110),
    room_m=st.none() | st.floats(0.5, 60),
    lie=st.sampled_from([lie for lie in Lie if lie is not Lie.GREEN]),
    position=st.none() | st.sampled_from(PinPosition),
)
def test_distances_always_add_up(pin_m, room_m, lie, position):
    filled, taken = complete(Situation(pin_m=pin_m, room_m=room_m, lie=lie, pin_position=position))
    assert filled.pin_m == pytest.approx(filled.front_m + filled.room_m)
    assert filled.front_m >= 0
    assert "pin_m" not in taken


def test_what_was_said_is_never_replaced():
    said = Situation(
        pin_m=30,
        front_m=20,
        lie=Lie.BARE,
        pin_position=PinPosition.BACK_LEFT,
        elevation_m=1.5,
        green=Green(fall=Fall.AWAY, fall_slope=0.03, stimp_ft=11, firmness=Firmness.FIRM),
        wind=Wind(from_=WindFrom.LEFT, speed_m_s=3, known_by=WindKnownBy.FELT),
    )
    filled, taken = complete(said)
    assert taken == {}
    assert filled == said.model_copy(update={"room_m": 10.0})


def test_contradicting_distances_are_refused_in_one_line():
    with pytest.raises(CaddieError, match="front edge cannot be as far"):
        complete(Situation(pin_m=20, front_m=25))


def test_a_carry_over_trouble_leaves_the_green_beyond_it():
    filled, _ = complete(
        Situation(pin_m=30, lie=Lie.FAIRWAY, hazards=(Hazard(kind=HazardKind.BUNKER, carry_m=26),))
    )
    assert filled.front_m >= 26 - 1e-9


def test_a_named_fall_without_slope_is_a_named_assumption():
    filled, taken = complete(Situation(pin_m=30, green=Green(fall=Fall.TOWARD)))
    assert taken["green.fall_slope"] == filled.green.fall_slope == 0.02


def test_in_the_wet_an_unsaid_green_is_soft_and_slow_and_the_answer_says_so():
    filled, taken = complete(Situation(pin_m=30, wet=True))
    assert taken["green.firmness"] is Firmness.SOFT
    assert taken["green.stimp_ft"] == pytest.approx(0.9 * USUAL_STIMP_FT)
    assert filled.green.firmness is Firmness.SOFT
    said = complete(Situation(pin_m=30, wet=True, green=Green(firmness=Firmness.FIRM, stimp_ft=11)))[0]
    assert (said.green.firmness, said.green.stimp_ft) == (Firmness.FIRM, 11)
    # On the green the putt takes the wet off the speed itself.
    assert complete(Situation(pin_m=5, lie=Lie.GREEN, wet=True))[1]["green.stimp_ft"] == USUAL_STIMP_FT


def test_a_lie_that_only_the_place_tells_is_named_as_taken():
    among = understand("in the wood, fifty yards to the flag").situation
    assert complete(among)[1]["lie"] is Lie.PINE_STRAW
    on_grass = understand("in the wood, fifty yards to the flag, first cut").situation
    assert "lie" not in complete(on_grass)[1]


def test_a_lie_told_later_is_no_guess():
    among = understand("among the trees, fifty yards to the flag").situation
    told = merged(among, understand("it's heavy rough").situation)
    assert told.lie is Lie.HEAVY_ROUGH
    assert "lie" not in complete(told)[1]
