import time

import numpy as np
import pytest

from caddie.log.shot import Mode
from caddie.log.table import table_of
from caddie.practice.kinds import GROUP_LIES, LieGroup, bands, kinds, putt_bands, round_of
from caddie.practice.next import most_to_gain, too_few
from caddie.situation import Finish, Lie
from caddie.units import Unit


def a_round(made, number, sand_left_m):
    """Four chips, two bunker shots and their putts, on one day."""
    shots = []
    start = 1440.0 * number
    for hole in range(6):
        minute = start + 15 * hole
        lie, left_m = (Lie.BUNKER, sand_left_m) if hole < 2 else (Lie.FAIRWAY, 1.0)
        shots.append(made(minute, pin_m=12.0, lie=lie, left_m=left_m))
        shots.append(made(minute + 2, pin_m=max(left_m, 0.3), lie=Lie.GREEN, finish=Finish.HOLED))
    return shots


@pytest.fixture
def clock_at(monkeypatch):
    """Set the player's own clock to a time zone."""

    def at(zone):
        monkeypatch.setenv("TZ", zone)
        time.tzset()

    yield at
    monkeypatch.undo()
    time.tzset()


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="the zone of a process cannot be set here")
@pytest.mark.parametrize(
    ("zone", "rounds"),
    [("UTC+7", 1), ("UTC+8", 1), ("UTC-9", 1), ("UTC0", 2)],
    ids="west west_more east utc".split(),
)
def test_a_round_ends_with_the_day_of_the_players_clock(made, clock_at, zone, rounds):
    """Eleven at night to three in the morning in Greenwich."""
    clock_at(zone)
    before_midnight = 14 * 60  # The first shot would be at nine in the morning.
    shots = [made(before_midnight + 20 * hole) for hole in range(12)]
    assert round_of(table_of(shots))[1] == rounds


def test_every_lie_is_of_one_group():
    assert sorted(lie for lies in GROUP_LIES.values() for lie in lies) == sorted(Lie)


def test_the_weak_and_frequent_shot_comes_first(made):
    shots = [shot for number in range(30) for shot in a_round(made, number, 9.0)]
    gains = most_to_gain(table_of(shots), 14)
    off = [gain for gain in gains if gain.kind.ground is not LieGroup.GREEN]
    assert off[0].kind.name == "sand, under 20 yards"
    assert off[0].shots == 60
    assert off[0].per_round == pytest.approx(2.0, abs=0.15)
    assert off[0].lost > 0.12


def test_a_strong_shot_is_left_alone(made):
    shots = [shot for number in range(30) for shot in a_round(made, number, 0.3)]
    gain = next(g for g in most_to_gain(table_of(shots), 14) if g.kind.name == "sand, under 20 yards")
    assert gain.strokes < 0.003
    assert gain.first < 0.05


def test_more_shots_make_it_surer(made):
    few, many = (
        next(
            gain
            for gain in most_to_gain(table_of([s for n in range(rounds) for s in a_round(made, n, 9.0)]), 14)
            if gain.kind.name == "sand, under 20 yards"
        )
        for rounds in (2, 40)
    )
    assert many.lost_se < few.lost_se / 2
    assert (many.high - many.low) / many.strokes < (few.high - few.low) / few.strokes


def test_chances_of_being_first_sum_to_one(table):
    gains = most_to_gain(table, 14)
    assert sum(gain.first for gain in gains) == pytest.approx(1)
    assert all(gain.low <= gain.strokes <= gain.high or gain.strokes < 1e-3 for gain in gains)
    assert [gain.strokes for gain in gains] == sorted((gain.strokes for gain in gains), reverse=True)


def test_an_empty_log_gives_a_typical_players_list():
    gains = most_to_gain(table_of([]), 18)
    assert len(gains) == len(kinds(Unit.YARDS))
    assert gains[0].strokes > 0
    assert gains[0].shots == 0


def test_the_same_seed_gives_the_same_list(table):
    assert most_to_gain(table, 14, seed=3) == most_to_gain(table, 14, seed=3)


def test_drills_do_not_say_how_often_a_shot_comes_up(made):
    drills = [made(i, lie=Lie.BUNKER, mode=Mode.REHEARSAL) for i in range(200)]
    gain = next(g for g in most_to_gain(table_of(drills), 14) if g.kind.name == "sand, under 20 yards")
    assert gain.per_round < 1
    assert gain.shots == 200


def test_a_scratch_player_and_better_can_still_gain():
    assert most_to_gain(table_of([]), -5)[0].strokes >= 0


@pytest.mark.parametrize("unit", [Unit.YARDS, Unit.METRES])
def test_bands_cover_every_distance_once(unit):
    distances = np.linspace(0.01, 109, 500)
    for found in (bands(unit), putt_bands(unit)):
        inside = distances[distances < found[-1].high_m]
        assert sum(band.holds(inside).astype(int) for band in found).tolist() == [1] * len(inside)
    assert bands(unit)[0].name == f"under 10 {unit.value}"


def test_rounds_are_counted_by_player_and_day(made):
    shots = [made(0), made(30), made(1440), made(60, player="Ash")]
    number, count = round_of(table_of(shots))
    assert count == 3
    assert len(set(number.tolist())) == 3


@pytest.mark.parametrize(
    ("count", "told"), [(0, "No shots are"), (1, "One shot is"), (19, "19 shots are"), (20, "")]
)
def test_of_few_shots_no_list_is_made(made, count, told):
    few = too_few(table_of([made(3 * number) for number in range(count)]))
    assert few.startswith(told) and bool(few) == (count < 20)
