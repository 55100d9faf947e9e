import numpy as np
import pytest
from invented import PLAYER, invented_season

from caddie.bag import load_bag
from caddie.log.export import read_lines
from caddie.log.shot import Mode
from caddie.log.table import table_of
from caddie.places import shipped


def test_the_same_seed_gives_the_same_season():
    assert invented_season(3, seed=7) == invented_season(3, seed=7)
    assert invented_season(3, seed=7) != invented_season(3, seed=8)


def test_the_demo_season_is_made_by_it():
    assert read_lines(shipped("demo_bag/season.jsonl")) == invented_season()


def test_the_player_is_the_demo_bags():
    assert load_bag().player.name == PLAYER


def test_a_competition_has_no_advice():
    shots = invented_season(8)
    assert any(shot.mode is Mode.COMPETITION for shot in shots)
    assert all(shot.advice is None for shot in shots if shot.mode is Mode.COMPETITION)


def test_it_scatters_as_a_mid_handicapper_does():
    """Up and down between the published shares from 30 yd of a 10 handicap and the tour, 11 % and 46 % (D.
    Pelz, quoted in a secondary text, 2012): most of these shots are shorter."""
    known = table_of(invented_season(40)).up_and_down
    assert 0.11 < np.nanmean(known) < 0.46


def test_the_demo_round_is_one_day_of_this_player():
    shots = read_lines(shipped("demo_bag/round.jsonl"))
    assert len(shots) > 20
    assert {shot.player for shot in shots} == {PLAYER}
    assert len({shot.time.date() for shot in shots}) == 1
    assert {shot.time.date() for shot in shots} == {invented_season(1)[0].time.date()}


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_every_hole_ends_in_the_hole_or_lost(seed):
    table = table_of(invented_season(4, seed=seed))
    last = np.append(np.diff(table.time_s) > 5 * 60, True)
    assert (table.holed | ~table.putt)[last].all()
