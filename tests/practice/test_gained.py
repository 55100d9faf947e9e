import numpy as np
import pytest

from caddie.bag.amateurs import TOUR_HANDICAP
from caddie.log.table import table_of
from caddie.plan.putt.skill import expected_putts, skill_for
from caddie.practice.gained import strokes_after, strokes_before, strokes_gained
from caddie.situation import Finish, Lie
from caddie.units import YARD_M


def test_before_is_the_published_table(made):
    """M. Broadie, Interfaces 42(2), 146-165 (2012), table 9: fairway, rough and sand from 20 and 50 yd."""
    table = table_of(
        [
            made(pin_m=20 * YARD_M, lie=Lie.FAIRWAY),
            made(pin_m=50 * YARD_M, lie=Lie.FAIRWAY),
            made(pin_m=20 * YARD_M, lie=Lie.BUNKER),
            made(pin_m=50 * YARD_M, lie=Lie.BUNKER),
        ]
    )
    assert strokes_before(table) == pytest.approx([2.40, 2.66, 2.53, 2.92], abs=0.011)


def test_gained_is_before_less_one_less_after(made):
    table = table_of([made(pin_m=20 * YARD_M, left_m=3.0)])
    putts = float(expected_putts(np.array(3.0), skill_for(TOUR_HANDICAP)))
    assert strokes_gained(table)[0] == pytest.approx(2.40 - 1 - putts, abs=0.011)


def test_holing_it_gains_all_but_one(made):
    table = table_of([made(pin_m=20 * YARD_M, finish=Finish.HOLED)])
    assert strokes_gained(table)[0] == pytest.approx(1.40, abs=0.011)


def test_water_costs_the_stroke_and_the_shot_again(made):
    table = table_of([made(pin_m=40.0, finish=Finish.WATER), made(pin_m=40.0, finish=Finish.OUT_OF_BOUNDS)])
    assert strokes_gained(table) == pytest.approx([-2, -2])


def test_where_it_ended_matters(made):
    table = table_of(
        [
            made(minute=i, finish=finish, left_m=8.0)
            for i, finish in enumerate(
                (Finish.GREEN, Finish.FRINGE, Finish.ROUGH, Finish.BUNKER, Finish.TREES)
            )
        ]
    )
    after = strokes_after(table)
    assert (np.diff(after) > 0).all()


def test_a_leave_with_no_word_of_where_is_on_the_green_when_near(made):
    near, far = (made(minute=m, left_m=left, finish=None) for m, left in ((0, 5.0), (1, 25.0)))
    green, rough = made(minute=2, left_m=5.0), made(minute=3, left_m=25.0, finish=Finish.ROUGH)
    after = strokes_after(table_of([near, far, green, rough]))
    assert after[0] == after[2]
    assert after[1] == after[3]


def test_what_cannot_be_known_is_not(made):
    from caddie.log.shot import Shot

    assert np.isnan(strokes_gained(table_of([Shot(), made(pin_m=None)]))).all()
    assert len(strokes_gained(table_of([]))) == 0
