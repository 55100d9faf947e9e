"""Reads against outcomes: break left out, found from what a player told."""

import numpy as np
import pytest

from caddie.errors import CaddieError
from caddie.log.shot import Shot
from caddie.log.table import table_of
from caddie.practice.putting_reads import read_habits, share_said
from caddie.situation import Fall, Finish, Green, Lie, Result, Side, Situation


def told(aim_left_m, off_left_m=None, long_m=None, holed=False):
    """A putt of 5 m with a read, and where it ended from the hole."""
    side, distance = [], 0.0
    if off_left_m:
        side.append(Side.LEFT if off_left_m > 0 else Side.RIGHT)
        distance = abs(off_left_m)
    if long_m:
        side.append(Side.LONG if long_m > 0 else Side.SHORT)
        distance = float(np.hypot(distance, long_m))
    fall = Fall.LEFT_TO_RIGHT if aim_left_m > 0 else Fall.RIGHT_TO_LEFT
    return Shot(
        situation=Situation(pin_m=5.0, lie=Lie.GREEN, green=Green(fall=fall)),
        advice={"aim_left_m": aim_left_m},
        result=Result(finish=Finish.HOLED)
        if holed
        else Result(distance_m=distance or None, side=tuple(side), finish=Finish.GREEN),
    )


def test_a_third_of_the_break_left_out_is_found():
    """Invented putts that start a third of the break too low, with 8 cm of scatter, breaking both ways."""
    generator = np.random.default_rng(5)
    shots = []
    for i in range(40):
        aim = 0.4 if i % 2 else -0.4
        miss_low = aim / 3 + generator.normal(0, 0.08)
        shots.append(told(aim, off_left_m=-miss_low))
    habits = read_habits(table_of(shots))
    assert habits.missing_break == pytest.approx(1 / 3, abs=0.08)
    assert habits.interval.low > 0
    assert any("You play too little break: by a third" in sentence for sentence in habits.says)


def test_too_much_break_is_told_apart():
    habits = read_habits(table_of([told(0.4, off_left_m=0.2 + 0.01 * (i % 3)) for i in range(12)]))
    assert habits.missing_break < 0
    assert any("too much break: by a half" in sentence for sentence in habits.says)


def test_scatter_without_bias_says_nothing():
    generator = np.random.default_rng(6)
    shots = [told(0.4, off_left_m=value) for value in generator.normal(0, 0.25, 20)]
    shots += [told(-0.4, off_left_m=-value) for value in generator.normal(0, 0.25, 20)]
    assert read_habits(table_of(shots)).says == ()


def test_few_putts_say_nothing():
    assert read_habits(table_of([told(0.4, off_left_m=-0.2)] * 4)).says == ()
    assert read_habits(table_of([])).missing_break is None


def test_holed_putts_count_as_read_right():
    shots = [told(0.4, off_left_m=-0.3 + 0.01 * i) for i in range(6)] + [told(0.4, holed=True)] * 12
    habits = read_habits(table_of(shots))
    assert habits.breaking == 18
    assert habits.missing_break < 0.3


def test_coming_up_short_is_named():
    shots = [told(0.0, long_m=-0.6)] * 14 + [told(0.0, long_m=0.5)] * 2
    assert any("14 of 16 misses stopped short" in sentence for sentence in read_habits(table_of(shots)).says)


def test_straight_putts_and_shots_off_the_green_say_nothing_of_break():
    off = told(0.4, off_left_m=-0.3)
    off = off.model_copy(update={"situation": Situation(pin_m=20.0, lie=Lie.FAIRWAY)})
    habits = read_habits(table_of([off] * 10 + [told(0.0, off_left_m=-0.2)] * 10))
    assert habits.breaking == 0


def test_a_share_must_be_above_nothing():
    with pytest.raises(CaddieError):
        share_said(0.0)
