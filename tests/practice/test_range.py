import json
import os
from datetime import datetime
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import typer
from click.testing import Result
from typer.testing import CliRunner

from caddie.bag import Bag, load_bag
from caddie.cli import practice_range
from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.practice.range_talk import hear, run_range
from caddie.range.bucket import Order, RangePlan, next_target, plan_range, standings
from caddie.range.csv_import import STRIKE_WORDS, import_csv
from caddie.range.gapping import well_known
from caddie.range.journal import Journal, read_events, unfinished
from caddie.range.session import RangeSession, resume_range, start_range
from caddie.range.shots import RangeBall
from caddie.range.told import BallTold, Command
from caddie.situation import Side, Strike
from caddie.units import Unit
from caddie.words import Expecting, understand
from caddie.words.listened_for import range_sentences

YARD_M = 0.9144
NOW = datetime(2026, 5, 2, 10, 15)


def ball(text: str, unit: Unit = Unit.YARDS) -> BallTold | None:
    return understand(text, expecting=Expecting.CARRY, unit=unit).ball


@pytest.fixture
def bag() -> Bag:
    return load_bag()


def play(plan: RangePlan, rng: np.random.Generator, share_of_sd: float = 1.0) -> list[RangeBall]:
    """A whole session of clean balls about what is expected."""
    shots: list[RangeBall] = []
    while (target := next_target(plan, shots)) is not None:
        carry = rng.normal(target.expected_m, share_of_sd * target.expected_sd_m)
        shots.append(RangeBall(club=target.club, swing=target.swing, carry_m=carry))
    return shots


@pytest.mark.parametrize(
    ("text", "number", "side", "side_yards", "strike"),
    [
        ("sixty-three", 63, None, None, None),
        ("Sixty-three.", 63, None, None, None),
        ("63", 63, None, None, None),
        ("sixty-three, left", 63, Side.LEFT, None, None),
        ("sixty three, five left", 63, Side.LEFT, -5, None),
        ("left five, sixty three", None, None, None, None),
        ("63 yards, 4 right", 63, Side.RIGHT, 4, None),
        ("a hundred and five, right", 105, Side.RIGHT, None, None),
        ("one oh five", 105, None, None, None),
        ("70.5", 70.5, None, None, None),
        ("thin", None, None, None, Strike.THIN),
        ("heavy, thirty one", 31, None, None, Strike.HEAVY),
        ("um about forty I think", 40, None, None, None),
        ("shank", None, None, None, Strike.SHANK),
    ],
)
def test_what_is_said_of_a_ball(
    text: str, number: float | None, side: Side | None, side_yards: float | None, strike: Strike | None
) -> None:
    heard = ball(text)
    assert heard is not None
    if text.startswith("left five"):
        # Which number is the carry is anybody's guess, and a wrong carry is worse than asking again.
        assert heard.side is Side.LEFT
        return
    assert (heard.number, heard.side, heard.strike) == (number, side, strike)
    if number is not None:
        assert heard.carry_m == pytest.approx(number * YARD_M)
    assert heard.side_m == (None if side_yards is None else pytest.approx(side_yards * YARD_M))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("scratch that", Command.SCRATCH),
        ("Scratch that!", Command.SCRATCH),
        ("pause", Command.PAUSE),
        ("go on", Command.GO_ON),
        ("finish", Command.FINISH),
        ("say again", Command.REPEAT),
        ("lovely weather", None),
        ("sixty or seventy", None),
        ("clean", None),
        ("", None),
    ],
)
def test_words_to_the_session(text: str, said: Command | None) -> None:
    reply = understand(text, expecting=Expecting.CARRY)
    assert (reply.command, reply.ball) == (said, None)


def test_every_sentence_for_the_recogniser_is_understood() -> None:
    sentences = range_sentences()
    assert len(sentences) > 1000
    for sentence in dict.fromkeys(sentences):
        reply = understand(sentence, expecting=Expecting.CARRY)
        assert reply.ball or reply.command, sentence
    seven_left = ball("fifty five seven left")
    assert seven_left is not None
    assert seven_left.number == 55


def test_a_strike_is_told_by_every_word_that_a_table_tells_it_by() -> None:
    for word, strike in STRIKE_WORDS.items():
        told = ball(f"sixty {word}")
        assert told is not None
        assert told.strike is strike, word


def test_metres_when_the_player_or_the_word_says_so() -> None:
    for told in (ball("sixty", Unit.METRES), ball("sixty metres")):
        assert told is not None
        assert told.carry_m == 60


def test_the_usual_plan_is_three_wedges_at_three_lengths(bag: Bag) -> None:
    plan = plan_range(bag, 100)
    cells = [(target.club, target.swing) for target in plan.targets]
    assert cells == [(c, s) for c in ("60", "56", "52") for s in ("chest", "shoulder", "full")]
    assert plan.share == 7
    for target in plan.targets:
        held = next(c for c in bag.club_called(target.club).carries if c.swing == target.swing)  # type: ignore[union-attr]
        assert target.expected_m == pytest.approx(held.carry_m, rel=0.05)


@pytest.mark.parametrize("order", Order)
def test_every_cell_gets_its_share_first_and_no_ball_is_lost(bag: Bag, order: Order) -> None:
    plan = plan_range(bag, 100, order=order)
    # Too wild to be known early: all balls are hit.
    shots = play(plan, np.random.default_rng(1), 3.0)
    first = shots[: plan.share * len(plan.targets)]
    counts = dict.fromkeys(((t.club, t.swing) for t in plan.targets), 0)
    for shot in first:
        counts[shot.club, shot.swing] += 1
    assert set(counts.values()) == {plan.share}
    assert len(shots) == 100


def test_mixed_never_calls_a_cell_twice_running_and_blocked_stays(bag: Bag) -> None:
    mixed = play(plan_range(bag, 60, order=Order.MIXED), np.random.default_rng(2), 3.0)[:36]
    cells = [(shot.club, shot.swing) for shot in mixed]
    assert all(one != other for one, other in pairwise(cells))
    blocked = play(plan_range(bag, 60, order=Order.BLOCKED), np.random.default_rng(2), 3.0)[:36]
    cells = [(shot.club, shot.swing) for shot in blocked]
    assert sum(one != other for one, other in pairwise(cells)) == 8


def test_another_seed_mixes_otherwise_and_the_same_one_the_same(bag: Bag) -> None:
    def called(seed: int) -> list[tuple[str, str]]:
        shots = play(plan_range(bag, 60, seed=seed), np.random.default_rng(2), 3.0)
        return [(shot.club, shot.swing) for shot in shots]

    assert called(1) == called(1)
    assert called(1) != called(2)


def test_a_known_cell_gets_no_more_balls_and_a_steady_player_ends_early(bag: Bag) -> None:
    plan = plan_range(bag, 300)
    shots = play(plan, np.random.default_rng(4), 0.6)
    assert len(shots) < 300
    for standing in standings(plan, shots):
        assert standing.known
        assert standing.clean >= 5
        assert standing.half_width_m is not None
        assert standing.half_width_m <= max(2 * YARD_M, 0.03 * (standing.mean_m or 0))
    # Without its last ball the last cell was not known: no ball was wasted.
    assert sum(not each.known for each in standings(plan, shots[:-1])) == 1


def test_the_rule_is_the_bags(bag: Bag) -> None:
    assert not well_known(60, 3, 4)


def test_the_balls_left_go_where_they_are_uncertain_and_useful(bag: Bag) -> None:
    plan = plan_range(bag, 60, clubs=["56"], swings=["half", "full"])
    half, full = plan.targets
    plan = plan.model_copy(
        update={
            "targets": (half.model_copy(update={"useful_m": 2.0}), full.model_copy(update={"useful_m": 20.0}))
        }
    )
    spread = [-8.0, 8.0, -7.0, 7.0, -6.0, 6.0, 0.0]
    shots = [
        RangeBall(club="56", swing=target.swing, carry_m=target.expected_m + off)
        for off in spread * 3
        for target in (half, full)
    ]
    assert len(shots) == 2 * plan.share
    target = next_target(plan, shots)
    assert target is not None
    assert target.swing == "full"


def test_too_few_balls_and_unknown_clubs_are_refused(bag: Bag) -> None:
    with pytest.raises(CaddieError, match="fewer balls than the 9 club and swing pairs"):
        plan_range(bag, 5)
    with pytest.raises(CaddieError, match="--clubs driver: the bag has 60, 56"):
        plan_range(bag, 50, clubs=["driver"])
    with pytest.raises(CaddieError, match="--swings flop: the bag has hip"):
        plan_range(bag, 50, swings=["flop"])
    with pytest.raises(CaddieError, match="give 1 to 500"):
        plan_range(bag, 5000)


@pytest.fixture
def session(bag: Bag, tmp_path: Path) -> RangeSession:
    plan = plan_range(bag, 20, clubs=["56"], swings=["half", "full"])
    return start_range(plan, bag.player, tmp_path / "range" / "s.jsonl", NOW)


def test_a_ball_is_called_taken_down_and_answered(session: RangeSession) -> None:
    target = session.target
    assert target is not None
    assert session.call == f"{target.club}, {target.swing}. Ball 1 of 20."
    near = round(target.expected_m / YARD_M)
    assert hear(session, f"{near}, left", NOW) == f"{near}, left."
    assert session.shots[0].carry_m == pytest.approx(near * YARD_M)
    assert session.shots[0].note == "left"


def test_scratch_takes_back_the_last_ball_and_calls_it_again(session: RangeSession) -> None:
    first = session.target
    assert hear(session, "scratch that", NOW) == "Nothing to scratch."
    hear(session, "thin", NOW)
    assert hear(session, "scratch that", NOW) == f"Scratched: 56 {first.swing}, the mishit."  # type: ignore[union-attr]
    assert session.target == first
    assert session.shots == ()


def test_pause_and_going_on(session: RangeSession) -> None:
    assert "Paused" in hear(session, "pause", NOW)
    assert session.paused
    assert hear(session, "go on", NOW) == "Going on."
    hear(session, "pause", NOW)
    near = round(session.target.expected_m / YARD_M)  # type: ignore[union-attr]
    assert hear(session, str(near), NOW) == f"{near}."
    assert not session.paused


def test_a_number_that_sounds_like_another_is_asked_about(bag: Bag, tmp_path: Path) -> None:
    plan = plan_range(bag, 5, clubs=["60"], swings=["full"])
    session = start_range(plan, bag.player, tmp_path / "s.jsonl", NOW)
    assert hear(session, "seventeen", NOW) == "17 or 70? Say it again."
    assert session.shots == ()
    assert hear(session, "seventy", NOW) == "70."
    assert hear(session, "a hundred and eighty", NOW) == "180 is far off 70. Say it again to keep it."
    hear(session, "a hundred and eighty", NOW)
    assert len(session.shots) == 2
    assert hear(session, "nine hundred", NOW) == "900 cannot be a carry; say it again."


def test_a_cell_that_becomes_known_is_told(bag: Bag, tmp_path: Path) -> None:
    plan = plan_range(bag, 40, clubs=["56"], swings=["half"])
    session = start_range(plan, bag.player, tmp_path / "s.jsonl", NOW)
    answers = []
    while session.target is not None:
        answers.append(hear(session, str([65, 66, 64][len(session.shots) % 3]), NOW))
    assert len(session.shots) < 20
    assert answers[-1].endswith("56 chest is known: 65.")
    assert session.call.startswith(f"Done: {len(session.shots)} balls, 1 of 1 carries known")


def test_a_crash_at_any_moment_loses_no_acknowledged_ball(bag: Bag, tmp_path: Path) -> None:
    """The journal cut every seven bytes: each whole line is there again, and the call is the same."""
    path = tmp_path / "s.jsonl"
    plan = plan_range(bag, 20, clubs=["56"], swings=["half", "full"])
    session = start_range(plan, bag.player, path, NOW)
    calls, lengths = {path.stat().st_size: session.call}, [path.stat().st_size]
    for said in ("63", "thin", "scratch that", "88, left", "pause", "go on", "66"):
        hear(session, said, NOW)
        lengths.append(path.stat().st_size)
        calls[lengths[-1]] = session.call
    whole = path.read_bytes()
    for cut in range(lengths[0], len(whole) + 1, 7):
        torn = tmp_path / f"{cut}.jsonl"
        torn.write_bytes(whole[:cut])
        again = resume_range(torn)
        kept = max(length for length in lengths if length <= cut)
        assert again.call == calls[kept]
        hear(again, "64", NOW)
        assert [event["event"] for event in read_events(torn)][-1] == "shot"
        torn.unlink()


def test_each_ball_is_on_the_disk_before_it_is_answered(
    session: RangeSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced: list[int] = []
    sync = os.fsync
    monkeypatch.setattr(os, "fsync", lambda handle: (synced.append(handle), sync(handle))[1])
    hear(session, "63", NOW)
    hear(session, "scratch that", NOW)
    assert len(synced) == 2


def test_a_full_disk_is_told_and_the_ball_does_not_count(
    session: RangeSession, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(CaddieError, match="No space left on device"):
        hear(session, "63", NOW)
    assert session.shots == ()


def test_a_journal_that_is_none_is_refused_with_its_line(tmp_path: Path, bag: Bag) -> None:
    path = tmp_path / "s.jsonl"
    path.write_text('{"event":"shot"}\n')
    with pytest.raises(CaddieError, match="line 1, column 1: a session's journal begins with its plan"):
        resume_range(path)
    path.unlink()
    start_range(plan_range(bag, 20), bag.player, path, NOW).leave()
    path.write_text(path.read_text() + "hello\n")
    with pytest.raises(CaddieError, match="line 2, column 1"):
        resume_range(path)
    path.write_text(path.read_text().replace("hello", '{"event":"shot","shot":{"club":"56"}}'))
    with pytest.raises(CaddieError, match="line 2, column 1: is no event of a range session"):
        resume_range(path)


def test_a_session_of_a_whole_bucket_by_words(bag: Bag, tmp_path: Path) -> None:
    rng = np.random.default_rng(6)
    plan = plan_range(bag, 30, clubs=["56", "52"], swings=["half", "full"])
    session = start_range(plan, bag.player, tmp_path / "s.jsonl", NOW)
    shown: list[int] = []

    def listen(call: str) -> str:
        target = session.target
        assert target is not None
        return f"{rng.normal(target.expected_m, target.expected_sd_m) / YARD_M:.0f}, left"

    summary = run_range(session, listen, lambda _: None, lambda now: shown.append(now.used), lambda: NOW)
    assert summary.finished
    assert shown == list(range(len(shown)))
    assert [event["event"] for event in read_events(tmp_path / "s.jsonl")][-1] == "finish"
    assert len(session.session().shots) == summary.used


# The command itself.

app = typer.Typer()
app.command("range")(practice_range.range_command)
app.command("other")(lambda: None)


def caddie(*words: str, typed: str) -> Result:
    result = CliRunner().invoke(app, ["range", *words], input=typed)
    if result.exception and not isinstance(result.exception, SystemExit | CaddieError):
        raise result.exception
    return result


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    (tmp_path / "bag.toml").write_text(shipped("demo_bag/bag.toml").read_text(encoding="utf-8"))
    return tmp_path


def test_a_session_cut_off_is_taken_up_and_kept_for_the_bag(home: Path) -> None:
    first = caddie(
        "--balls", "4", "--clubs", "56", "--swings", "half", "--temperature", "9", typed="y\n63\n64\n"
    )
    assert "4 balls, mixed: 56 chest" in first.stdout
    assert "2 balls are kept; run the same command to go on." in first.stdout
    assert unfinished() is not None
    second = caddie(typed="thin\n65, 2 right\n")
    assert "Going on with the session" in second.stdout
    assert "2 balls so far" in second.stdout
    assert unfinished() is None
    (kept,) = (home / "sessions").glob("*.csv")
    session = import_csv(kept, load_bag(home / "bag.toml")).session
    assert session.conditions is not None
    assert session.conditions.temperature_c == 9
    assert [shot.carry_m and round(shot.carry_m / YARD_M) for shot in session.shots] == [63, 64, None, 65]
    assert session.shots[2].strike is Strike.THIN
    assert session.shots[3].side_m == pytest.approx(2 * YARD_M, abs=1e-3)


def test_declined_writes_nothing(home: Path) -> None:
    before = sorted(home.iterdir())
    result = caddie("--balls", "20", typed="n\n")
    assert result.exit_code == 1
    assert "Nothing written." in result.stderr
    assert sorted(home.iterdir()) == before


def test_one_object_at_the_end(home: Path) -> None:
    result = caddie("--balls", "9", "--yes", "--json", typed="60\nfinish\n")
    done = json.loads(result.stdout)
    assert done["used"] == 1
    assert done["kept"]
    assert len(done["cells"]) == 9
    assert "1 of 9 balls" in result.stderr


def test_bad_options_and_no_bag(home: Path) -> None:
    assert "--order chaos: say mixed or blocked" in str(caddie("--order", "chaos", typed="").exception)
    assert "nobody answered" in str(caddie("--balls", "9", typed="").exception)
    (home / "bag.toml").unlink()
    assert "make one with 'caddie bag new'" in str(caddie("--balls", "9", typed="").exception)


def test_journal_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(CaddieError, match="cannot be written"):
        Journal(tmp_path / "file" / "s.jsonl")


def test_a_bucket_from_a_practice_bunker_is_kept_as_splashes(home: Path) -> None:
    result = caddie(
        "--sand", "--balls", "3", "--clubs", "56", "--swings", "half", "--yes", typed="14\n15, left\nheavy\n"
    )
    assert "56, chest, from the sand. Ball 1 of 3." in result.stdout
    (kept,) = (home / "sessions").glob("*bunker*.csv")
    shots = import_csv(kept, load_bag(home / "bag.toml")).session.shots
    assert [shot.sand for shot in shots] == [True, True, True]
    assert shots[2].strike is Strike.HEAVY


def test_a_bucket_in_the_bunker_expects_splashes_and_is_resumed_as_one(bag: Bag, tmp_path: Path) -> None:
    grass, sand = plan_range(bag, 90), plan_range(bag, 90, sand=True)
    for one, other in zip(grass.targets, sand.targets, strict=True):
        assert (one.club, one.swing) == (other.club, other.swing)
        assert 0.1 * one.expected_m < other.expected_m < 0.45 * one.expected_m
    assert max(target.useful_m for target in sand.targets) > 2.0
    path = tmp_path / "s.jsonl"
    session = start_range(sand, bag.player, path, NOW)
    target = session.target
    assert target is not None
    hear(session, f"{target.expected_m / YARD_M:.0f}", NOW)
    session.leave()
    again = resume_range(path)
    assert again.plan.sand
    assert again.shots[0].sand
    bare = bag.model_copy(update={"clubs": (bag.clubs[0].with_cells(()), *bag.clubs[1:])})
    with pytest.raises(CaddieError, match="no carry from grass yet"):
        plan_range(bare, 30, clubs=["60"], sand=True)
