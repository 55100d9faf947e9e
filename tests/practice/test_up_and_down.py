"""What the log can tell of getting up and down: hand-made rounds with the answer known."""

import numpy as np
import pytest

from caddie.log.shot import Mode
from caddie.log.table import table_of
from caddie.situation import Finish, Lie


def told(*shots):
    return [None if np.isnan(value) else int(value) for value in table_of(shots).up_and_down]


def putt(made, minute, holed, **fields):
    return made(minute, pin_m=2.0, lie=Lie.GREEN, finish=Finish.HOLED if holed else Finish.GREEN, **fields)


def test_a_chip_and_a_putt(made):
    assert told(made(0), putt(made, 2, True)) == [1, None]


def test_a_chip_and_two_putts(made):
    assert told(made(0), putt(made, 2, False), putt(made, 3, True)) == [0, None, None]


def test_chipping_in(made):
    assert told(made(0, finish=Finish.HOLED)) == [1]


def test_a_miss_and_a_chip_in(made):
    assert told(made(0, finish=Finish.FRINGE), made(2, finish=Finish.HOLED)) == [1, 1]


def test_two_chips_and_a_putt_save_only_the_second(made):
    shots = (made(0, finish=Finish.ROUGH), made(2), putt(made, 4, True))
    assert told(*shots) == [0, 1, None]


def test_a_green_reached_with_no_putt_in_the_log_is_not_known(made):
    assert told(made(0), made(12)) == [None, None]


def test_the_next_hole_says_nothing_of_this_one(made):
    assert told(made(0), putt(made, 25, True)) == [None, None]


def test_another_player_says_nothing_of_this_one(made):
    assert told(made(0, player="Ash"), putt(made, 2, True, player="Bryn")) == [None, None]


def test_another_mode_is_another_occasion(made):
    assert told(made(0), putt(made, 2, True, mode=Mode.GAME)) == [None, None]


def test_water_is_no_up_and_down(made):
    assert told(made(0, finish=Finish.WATER)) == [0]


@pytest.mark.parametrize(("strokes", "made_it"), [(1, 1), (2, 1), (3, 0)])
def test_what_the_player_says_counts(made, strokes, made_it):
    assert told(made(0, down_in=strokes), putt(made, 2, False)) == [made_it, None]


def test_shots_are_put_in_order_of_time(made):
    assert told(putt(made, 2, True), made(0)) == [1, None]
