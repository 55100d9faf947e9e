"""Putting drills: how they go on, what they score and what the score is held against."""

import math

import numpy as np
import pytest

from caddie.errors import CaddieError
from caddie.plan.putt.skill import make_chance, skill_for
from caddie.practice.putting import (
    GATE_PUTTS,
    LADDER_FT,
    LADDER_PUTTS,
    RING_PUTTS,
    PaceLadder,
    StartGate,
    Stopped,
    ThreeFootRing,
    gate_chance,
    ladder_points,
    zone_chance,
)
from caddie.units import FOOT_M


def play(drill, answers):
    for answer in answers:
        drill = drill.told(answer)
    return drill


def test_the_ladder_climbs_on_a_putt_in_and_steps_down_on_any_other():
    ladder = play(PaceLadder(), [Stopped.IN_ZONE, Stopped.IN_ZONE, Stopped.SHORT, Stopped.IN_ZONE])
    assert ladder.rung == 2
    assert ladder.points == 1 + 2 + 2
    assert "Twenty feet" in ladder.prompt


def test_the_ladder_ends_and_names_its_misses():
    ladder = play(PaceLadder(), [Stopped.SHORT] * LADDER_PUTTS)
    assert ladder.over
    assert ladder.points == 0
    assert "12 of 12 misses were short" in ladder.summary(14)
    with pytest.raises(CaddieError, match="over"):
        ladder.told(Stopped.LONG)


def test_the_handicaps_ladder_score_is_its_simulated_mean():
    """The chain of rungs against 4,000 simulated ladders: within 3 %."""
    generator = np.random.default_rng(2)
    points = []
    for _ in range(4000):
        rung = score = 0
        for _ in range(LADDER_PUTTS):
            if generator.random() < zone_chance(LADDER_FT[rung] * FOOT_M, 10):
                score += rung + 1
                rung = min(rung + 1, len(LADDER_FT) - 1)
            else:
                rung = max(rung - 1, 0)
        points.append(score)
    assert ladder_points(10) == pytest.approx(np.mean(points), rel=0.03)
    assert ladder_points(0) > ladder_points(10) > ladder_points(30)


def test_the_gate_finds_the_line_that_passed_it():
    """A line SD of 1.5 deg through a gate of 1.30 deg, in the long run: 61 % through."""
    gate = StartGate()
    half = math.degrees(gate.half_angle_rad)
    assert half == pytest.approx(1.30, abs=0.01)
    generator = np.random.default_rng(1)
    through = np.abs(generator.normal(0, 1.5, 4000)) < half
    told = gate.model_copy(update={"through": tuple(bool(each) for each in through)})
    sd, low, high = told.line_sd_rad()
    assert math.degrees(sd) == pytest.approx(1.5, abs=0.05)
    assert low < sd < high


@pytest.mark.parametrize("passed", [0, 5, GATE_PUTTS])
def test_every_gate_score_has_a_sentence(passed):
    gate = play(StartGate(), [True] * passed + [False] * (GATE_PUTTS - passed))
    assert gate.over
    text = gate.summary(14)
    assert text.startswith(f"{passed} of {GATE_PUTTS} through")
    assert "nan" not in text and "inf" not in text


def test_an_untold_gate_asks_for_a_putt():
    with pytest.raises(CaddieError, match="no putt told"):
        StartGate().line_sd_rad()


def test_a_wider_gate_is_easier():
    assert gate_chance(0.03, 14) > gate_chance(0.02, 14) > gate_chance(0.02, 30)


def test_the_ring_counts_runs_and_the_hours_of_the_misses():
    ring = play(ThreeFootRing(), [True, True, False, True, True, True])
    assert ring.longest_run == 3
    assert ring.missed_at() == (2,)
    assert "Missed at two o'clock" in ring.summary(14)
    assert ring.prompt.startswith("Six o'clock")


def test_all_round_says_how_rare_it_is():
    ring = play(ThreeFootRing(), [True] * RING_PUTTS)
    chance = float(make_chance(3 * FOOT_M, skill_for(14)))
    assert f"once in {1 / chance**12:.0f} tries" in ring.summary(14)
    with pytest.raises(CaddieError, match="over"):
        ring.told(True)
