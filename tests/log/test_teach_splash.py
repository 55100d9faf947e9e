"""Splashes in the log teach the cells out of sand, and those alone."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from caddie.bag import load_bag
from caddie.bag.models import Carry, Family
from caddie.bag.sand import splash_cells
from caddie.log.change import ChangeKind
from caddie.log.shot import Shot
from caddie.log.teach import LEAST_SPLASHES, teach
from caddie.situation import Finish, Lie, Result, Side, Situation

START = datetime(2026, 6, 1, tzinfo=UTC)


@pytest.fixture(scope="module")
def bag():
    return load_bag()


def expected_m(bag, swing="chest", club="56"):
    return next(cell.carry_m for cell in splash_cells(bag)[club] if cell.swing == swing)


def said(carries_m, swing="chest", lie=Lie.BUNKER):
    """Splashes of which only the carry is told."""
    return [
        Shot(
            time=START + timedelta(minutes=i),
            situation=Situation(lie=lie),
            club="56",
            swing=swing,
            family=Family.SPLASH,
            result=Result(carry_m=float(carry)),
        )
        for i, carry in enumerate(carries_m)
    ]


def played(off_m, model_m, run_m=3.0, share=0.5):
    """Splashes played as advised, ending ``off_m`` past the flag that the plan meant."""
    advice = {
        "club": "56", "swing": "chest", "share": share, "flight": "stock", "carry_m": model_m,
        "run_m": run_m, "leave_m": 3.0,
    }  # fmt: skip
    return [
        Shot(
            time=START + timedelta(minutes=9 * i),
            situation=Situation(pin_m=model_m + run_m, lie=Lie.BUNKER),
            advice=advice,
            club="56",
            swing="chest",
            family=Family.SPLASH,
            flight="stock",
            result=Result(
                distance_m=float(abs(off)), side=(Side.LONG if off > 0 else Side.SHORT,), finish=Finish.GREEN
            ),
        )
        for i, off in enumerate(off_m)
    ]


def splash_of(bag, swing="chest", club="56"):
    return next((cell for cell in bag.club_called(club).splash if cell.swing == swing), None)


def test_said_splash_carries_make_a_cell_and_leave_grass_alone(bag):
    rng = np.random.default_rng(1)
    truth = 0.75 * expected_m(bag)
    lesson = teach(bag, said(rng.normal(truth, 2.0, 40)))
    cell = splash_of(lesson.bag)
    assert cell.carry_m == pytest.approx(truth, rel=0.05)
    assert cell.sd_m == pytest.approx(2.0, rel=0.3)
    assert cell.shots <= 40
    assert lesson.bag.club_called("56").carries == bag.club_called("56").carries
    assert [each.splash for each in lesson.bag.clubs if each.id != "56"] == [()] * 7
    carry = next(change for change in lesson.changes if change.kind is ChangeKind.CARRY)
    assert carry.family is Family.SPLASH
    assert carry.sentence.startswith("your 56 to the chest out of sand carries ")
    assert "was estimated at" in carry.sentence


def test_few_splashes_move_the_estimate_little_and_too_few_write_nothing(bag):
    expected = expected_m(bag)
    truth = 0.7 * expected
    assert splash_of(teach(bag, said([truth] * int(LEAST_SPLASHES - 1))).bag) is None
    moved = [(expected - splash_of(teach(bag, said([truth] * n)).bag).carry_m) / (expected - truth)
             for n in (3, 10, 40)]  # fmt: skip
    # The estimate counts for two balls, which newer ones make fade.
    assert moved[0] == pytest.approx(3 / 5, abs=0.05)
    assert moved == sorted(moved)
    assert moved[2] > 0.93


def test_where_advised_splashes_ended_teaches_them(bag):
    rng = np.random.default_rng(4)
    expected = expected_m(bag)
    off = -0.25 * expected
    lesson = teach(bag, played(rng.normal(off, 2.0, 60), expected))
    cell = splash_of(lesson.bag)
    # Only the finish is told: carry and run share the difference by how uncertain each is.
    assert 0.75 * expected < cell.carry_m < 0.85 * expected
    assert cell.run_bias_m < 0.0
    assert cell.carry_m + cell.run_bias_m == pytest.approx(0.75 * expected, abs=0.6)


def test_a_measured_splash_counts_by_its_balls_and_its_order_is_kept(bag):
    cells = (
        Carry(swing="chest", carry_m=12.0, sd_m=2.0, shots=20),
        Carry(swing="full", carry_m=14.0, sd_m=2.0, shots=20),
    )
    clubs = tuple(c.with_cells(cells, sand=True) if c.id == "56" else c for c in bag.clubs)
    measured = bag.model_copy(update={"clubs": clubs})
    assert splash_of(teach(measured, said([13.0] * 5)).bag).carry_m == pytest.approx(12.2, abs=0.1)
    held = teach(measured, said([15.0] * 60))
    assert held.bag.club_called("56").splash == cells
    (change,) = [each for each in held.changes if each.kind is ChangeKind.HELD]
    assert "your 56 out of sand is left as it was" in change.sentence


def test_a_later_lesson_knows_how_surely_the_sands_run_is_known(bag):
    expected = expected_m(bag)
    first = teach(bag, played([-2.0, -1.0, -2.5, -1.5, -2.0, -1.0, -3.0, -2.0], expected))
    (run,) = [each for each in first.changes if each.kind is ChangeKind.RUN]
    assert run.family is Family.SPLASH
    later = teach(first.bag, played([1.0] * 6, expected), first.changes)
    (again,) = [each for each in later.changes if each.kind is ChangeKind.RUN]
    assert again.se < run.se


def test_a_plugged_ball_tells_nothing_without_advice_and_grass_shots_tell_sand_nothing(bag):
    assert splash_of(teach(bag, said([9.0] * 20, lie=Lie.PLUGGED)).bag) is None
    grass = [shot.model_copy(update={"family": Family.PITCH, "situation": Situation(lie=Lie.FAIRWAY)})
             for shot in said([60.0] * 10)]  # fmt: skip
    assert all(not club.splash for club in teach(bag, grass).bag.clubs)


def test_a_swing_between_two_teaches_both_in_parts(bag):
    shots = [shot.model_copy(update={"advice": {**shot.advice, "share": 0.625}})
             for shot in played([-1.0] * 20, expected_m(bag))]  # fmt: skip
    taught = teach(bag, shots).bag
    chest, shoulder = splash_of(taught), splash_of(taught, "shoulder")
    assert chest is not None and shoulder is not None
    assert splash_of(taught, "full") is None
    assert chest.carry_m < shoulder.carry_m
