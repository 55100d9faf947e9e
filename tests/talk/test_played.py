"""What the log gets, and what is said when it cannot get it."""

from typing import Any

from caddie.log.cues import cue_weights
from caddie.log.shot import Commitment
from caddie.log.store import Log
from caddie.situation import Strike

SHOT = "thirty yards, light rough, flag in the middle"


def test_logged_only_when_it_is_on_disk(start: Any, log: Log) -> None:
    conversation = start()
    conversation.turn(SHOT)
    log.close()
    turn = conversation.turn("finished eight feet past")
    assert not turn.logged
    assert turn.spoken == "I could not write it down; the log has a problem."
    assert str(log.path) in turn.written and "\n" not in turn.written
    assert conversation.turn("forty yards, fairway").advice


def test_a_shot_that_was_not_written_may_be_told_again(start: Any, log: Log) -> None:
    broken = start(log=Log(log.path))
    broken.turn(SHOT)
    broken.desk.log.close()
    assert not broken.turn("chunked it").logged
    again = start()
    again.turn(SHOT)
    assert again.turn("chunked it").logged
    assert [shot.result.strike for shot in log.shots()] == [Strike.HEAVY]


def test_another_reader_sees_an_acknowledged_shot(start: Any, log: Log) -> None:
    conversation = start()
    conversation.turn(SHOT)
    assert conversation.turn("finished eight feet past").logged
    with Log(log.path, read_only=True) as reader:
        assert reader.count() == 1


def test_without_a_log_the_talk_says_so(start: Any) -> None:
    conversation = start(log=None)
    conversation.turn(SHOT)
    turn = conversation.turn("holed it")
    assert not turn.logged and "without a log" in turn.spoken


def test_a_log_that_could_not_be_opened_is_named_with_each_result(start: Any) -> None:
    conversation = start(log=None, log_problem="/somewhere: the log cannot be opened")
    conversation.turn(SHOT)
    turn = conversation.turn("holed it")
    assert not turn.logged
    assert "could not write it down" in turn.spoken and "/somewhere" in turn.written


def test_what_is_told_later_is_added_to_the_shot(start: Any, log: Log) -> None:
    conversation = start()
    conversation.turn(SHOT)
    conversation.turn("finished fifteen feet short")
    conversation.turn("fat")
    conversation.turn("I quit on it")
    (shot,) = log.shots()
    assert shot.result.distance_m is not None
    assert (shot.result.strike, shot.commitment) == (Strike.HEAVY, Commitment.QUIT)
    assert shot.advice is not None and shot.cue is not None


def test_a_result_corrected_replaces_the_wrong_one(start: Any, log: Log) -> None:
    conversation = start()
    conversation.turn(SHOT)
    conversation.turn("finished eight feet past")
    conversation.turn("no, six feet past")
    (shot,) = log.shots()
    assert shot.result.distance_m is not None and round(shot.result.distance_m / 0.3048) == 6


def test_the_cue_in_the_log_is_the_cue_that_was_said(start: Any, log: Log) -> None:
    from caddie.reply.cue import cues

    conversation = start()
    said = conversation.turn(SHOT).advice["cue"]
    conversation.turn("finished eight feet past")
    (shot,) = log.shots()
    assert next(cue.say for cue in cues() if cue.id == shot.cue) == said


def test_a_cue_that_keeps_failing_makes_way(start: Any, log: Log) -> None:
    first = start()
    said = first.turn(SHOT).advice["cue"]
    for _ in range(30):
        first.turn("chunked it")
        first.turn(SHOT)
    other = {"cue": "finish_long"} if "Finish" not in said else {"cue": "turn_through"}
    (shot, *_) = log.shots()
    good = shot.model_copy(
        update={"result": shot.result.model_copy(update={"strike": Strike.CLEAN}), **other}
    )
    log.add_all([good] * 30)
    assert min(cue_weights(log.shots()).values()) < 0.6
    assert start().turn(SHOT).advice["cue"] != said
