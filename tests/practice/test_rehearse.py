from collections import Counter
from itertools import pairwise

import pytest

from caddie.log.shot import Commitment, Mode
from caddie.log.table import table_of
from caddie.practice.next import most_to_gain
from caddie.practice.rehearse import RehearsalOrder, answered, plan_rehearsal, rehearsal_weight, summary
from caddie.situation import Finish, Result, Side, Strike


def test_situations_are_ones_the_player_has_met(season, bag):
    met = {shot.situation for shot in season}
    rehearsal = plan_rehearsal(season, bag, balls=20)
    assert all(drill.situation in met for drill in rehearsal.drills)


def test_kinds_come_up_as_their_weights_say(season, bag):
    """Blocks are drawn independently apart from never the same kind twice running, so frequent beats rare."""
    drills = plan_rehearsal(season, bag, balls=99, seed=2).drills
    gains = {gain.kind.name: rehearsal_weight(gain) for gain in most_to_gain(table_of(season), 14, seed=2)}
    counts = Counter(drill.kind for drill in drills)
    ranked = sorted((name for name in gains if not name.startswith("putts")), key=gains.get)
    assert sum(counts[name] for name in ranked[-4:]) > 3 * sum(counts[name] for name in ranked[:4])


def test_mixed_never_repeats_a_kind_and_blocked_does(season, bag):
    mixed = plan_rehearsal(season, bag, 12, RehearsalOrder.MIXED).drills
    assert all(one.kind != two.kind for one, two in pairwise(mixed))
    blocked = plan_rehearsal(season, bag, 12, RehearsalOrder.BLOCKED).drills
    assert [blocked[i].situation == blocked[i + 1].situation for i in (0, 1, 2)] == [True] * 3
    assert len({drill.situation for drill in blocked}) <= 3
    rising = plan_rehearsal(season, bag, 12, RehearsalOrder.RISING).drills
    repeats = [one.situation == two.situation for one, two in pairwise(rising)]
    assert sum(repeats[:4]) > sum(repeats[-4:])


@pytest.mark.parametrize("order", list(RehearsalOrder))
@pytest.mark.parametrize("balls", [1, 7, 30])
def test_as_many_balls_as_asked(season, bag, order, balls):
    assert len(plan_rehearsal(season, bag, balls, order).drills) == balls


def test_the_note_is_honest(season, bag):
    note = plan_rehearsal(season, bag, 1).note
    assert "Porter & Magill 2010" in note
    assert "Czyz et al. 2024" in note
    assert "disagrees" in note


def test_it_keeps_to_the_room_there_is(season, bag):
    drills = plan_rehearsal(season, bag, 40, farthest_m=20).drills
    assert max(drill.situation.pin_m for drill in drills) <= 20


def test_a_new_player_gets_plain_situations(bag):
    rehearsal = plan_rehearsal([], bag, 10, farthest_m=30)
    assert all(drill.situation.lie and 0 < drill.situation.pin_m <= 30 for drill in rehearsal.drills)
    assert all(drill.usual_m is None for drill in rehearsal.drills)


def test_the_same_seed_gives_the_same_balls(season, bag):
    assert plan_rehearsal(season, bag, seed=5) == plan_rehearsal(season, bag, seed=5)
    assert plan_rehearsal(season, bag, seed=5) != plan_rehearsal(season, bag, seed=6)


def test_it_is_played_through_as_a_value(season, bag):
    start = plan_rehearsal(season, bag, 3)
    assert start.prompt.startswith("Ball one of three: ")
    now, line = answered(start, Result(distance_m=0.6, side=(Side.SHORT,)))
    assert line.startswith("Two feet short: inside your usual ")
    assert start.played == ()
    now, line = answered(now, Result(finish=Finish.HOLED))
    assert line == "In. Nothing to add."
    now, line = answered(now, Result(distance_m=30.0, side=(Side.LONG,)))
    assert "outside your usual" in line
    assert now.over
    assert summary(now) == "Three balls, half within two feet, 2 of 3 inside your usual."


@pytest.mark.parametrize(
    ("result", "commitment", "wanted"),
    [
        (Result(distance_m=3.0), Commitment.QUIT, "finish as long as you went back"),
        (Result(distance_m=3.0), Commitment.RUSH, "one slow breath"),
        (Result(strike=Strike.HEAVY, distance_m=5.0), None, "heavy"),
        (Result(finish=Finish.BUNKER), None, "In the bunker: outside your usual"),
        (Result(finish=Finish.GREEN), None, "On the green. Written down."),
    ],
)
def test_feedback_is_one_short_line(season, bag, result, commitment, wanted):
    _, line = answered(plan_rehearsal(season, bag, 1), result, commitment)
    assert wanted in line
    assert "\n" not in line
    assert len(line.split()) <= 16
    assert "don't" not in line.lower()


def test_shots_for_the_log(season, bag):
    advice = {"club": "56", "swing": "hip", "family": "chip", "flight": "stock"}
    now, _ = answered(plan_rehearsal(season, bag, 2), Result(distance_m=1.0), Commitment.COMMITTED, advice)
    (shot,) = now.shots()
    assert (shot.mode, shot.player, shot.club) == (Mode.REHEARSAL, "Rowan Fenwick", "56")
    assert shot.situation == now.drills[0].situation
    assert shot.commitment is Commitment.COMMITTED
    assert summary(plan_rehearsal(season, bag, 2)) == "No ball played."
