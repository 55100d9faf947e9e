import pytest

from caddie.errors import CaddieError
from caddie.log.games import note_game, scores
from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.practice.games import RULES, outcome, play, points_said, start
from caddie.situation import Finish, Result
from caddie.units import FOOT_M, YARD_M

IN = Result(finish=Finish.HOLED)


def ended(feet):
    return Result(distance_m=feet * FOOT_M)


def played(rule, players, bag, *turns):
    now = start(rule, players, bag)
    for turn in turns:
        now, _ = play(now, strokes=turn) if isinstance(turn, int) else play(now, turn)
    return now


def test_nearest_gives_the_point_to_the_nearer_ball(bag):
    now = played("nearest", ("Ash", "Bryn"), bag, ended(8), ended(5), ended(2), ended(9), IN, ended(1))
    assert now.points == {"Ash": 2 + 3, "Bryn": 1}


def test_nearest_shares_nothing_on_a_tie_and_waits_for_both(bag):
    now = played("nearest", ("Ash", "Bryn"), bag, ended(5), ended(5), ended(1))
    assert now.points == {"Ash": 0, "Bryn": 0}


def test_nearest_alone_scores_inside_six_feet(bag):
    now = played("nearest", ("Ash",), bag, ended(7), ended(5), ended(2), IN)
    assert now.points == {"Ash": 0 + 1 + 2 + 3}


def test_a_ball_in_the_water_is_never_nearest(bag):
    now = played("nearest", ("Ash", "Bryn"), bag, Result(finish=Finish.WATER), ended(14))
    assert now.points == {"Ash": 0, "Bryn": 1}
    assert points_said(now) == "Ash zero, Bryn one point."


def test_down_in_two(bag):
    now = played("down_in_two", ("Ash",), bag, 2, 3, 1, 2)
    assert now.points == {"Ash": 2 + 0 + 4 + 2}


def test_nine_spots_counts_strokes_and_fewest_win(bag):
    now = played("nine_spots", ("Ash", "Bryn"), bag, *([2, 3] * 9))
    assert now.over
    assert now.points == {"Ash": 18, "Bryn": 27}
    assert outcome(now) == "Nine Spots: Ash eighteen, Bryn twenty-seven strokes. Ash wins."
    lies = [turn.situation.lie.value for turn in now.of("Ash")]
    assert lies[2::3] == ["bunker"] * 3


def test_the_ladder_goes_up_and_down(bag):
    now = start("ladder", ("Ash",), bag)
    far = [now.situation.pin_m / YARD_M]
    for feet in (3, 6, 20, 5):
        now, _ = play(now, ended(feet))
        far.append(now.situation.pin_m / YARD_M)
    assert far == pytest.approx([8, 12, 16, 12, 16])
    assert now.points == {"Ash": 2}


def test_the_wedge_check_has_its_published_yardstick(bag):
    """Ten elite amateurs: 19.0 % at 45 m, 8.4 % at 85 m (Open Sports Sci. J. 14, 86, 2021, abstract)."""
    now = played("wedge_check", ("Ash",), bag, *[Result(distance_m=9.0)] * 5, *[Result(distance_m=8.5)] * 5)
    assert now.over
    assert now.points == {"Ash": pytest.approx((20 + 10) / 2)}
    assert "from 45 m 20.0%, elite amateurs 19.0%" in outcome(now)
    assert "from 85 m 10.0%, elite amateurs 8.4%" in outcome(now)


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("players", [("Ash",), ("Ash", "Bryn")])
def test_every_game_ends_and_both_meet_the_same_spots(bag, rule, players):
    now = start(rule, players, bag, seed=4)
    count = 0
    while not now.over:
        assert now.prompt
        now, line = play(now, ended(4), strokes=2)
        assert "\n" not in line
        assert len(line.split()) < 20
        count += 1
    assert count == RULES[rule].spots * len(players)
    if len(players) == 2:
        assert [t.situation for t in now.of("Ash")] == [t.situation for t in now.of("Bryn")]
        assert "All square." in outcome(now) or rule == "wedge_check"
    shots = now.shots()
    assert {shot.mode for shot in shots} == {Mode.GAME}
    assert {shot.player for shot in shots} == set(players)
    with pytest.raises(CaddieError, match="is over"):
        play(now, ended(4), strokes=2)


def test_what_a_game_asks_for_must_be_said(bag):
    with pytest.raises(CaddieError, match="how many strokes"):
        play(start("down_in_two", ("Ash",), bag), ended(4))
    with pytest.raises(CaddieError, match="how far from the hole"):
        play(start("nearest", ("Ash",), bag), Result(finish=Finish.GREEN))


def test_who_and_what_is_checked(bag):
    with pytest.raises(CaddieError, match="choose nearest, down_in_two"):
        start("darts", ("Ash",), bag)
    for players in ((), ("Ash", "Ash"), ("a", "b", "c")):
        with pytest.raises(CaddieError, match="one or two players"):
            start("nearest", players, bag)


def test_results_are_kept_and_forgotten_with_their_player(tmp_path):
    with Log(tmp_path / "log.sqlite3") as log:
        note_game(log, "nearest", {"Ash": 3, "Bryn": 1}, "Ash wins.")
        note_game(log, "ladder", {"Cory": 4})
        assert [score.points for score in scores(log, "nearest")] == [{"Ash": 3, "Bryn": 1}]
        log.forget("Bryn")
        assert [score.name for score in scores(log)] == ["ladder"]
