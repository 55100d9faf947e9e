import pytest

from caddie.log.shot import Commitment
from caddie.practice.told import leave_said, situation_said, told_sentences
from caddie.range.told import Command
from caddie.situation import Finish, Hazard, HazardKind, Lie, PinPosition, Result, Side, Situation, Strike
from caddie.units import FOOT_M, YARD_M
from caddie.words import Expecting, understand


def read_told(text, bag):
    player = bag.player
    return understand(text, expecting=Expecting.LEFT, unit=player.distances_in, pace_m=player.pace_m)


def read_strokes(text):
    return understand(text, expecting=Expecting.STROKES).strokes


@pytest.mark.parametrize(
    ("text", "distance_ft", "side", "strike", "finish"),
    [
        ("six feet short", 6, (Side.SHORT,), None, None),
        ("six feet short left", 6, (Side.SHORT, Side.LEFT), None, None),
        ("four feet", 4, (), None, None),
        ("12 feet past, right", 12, (Side.LONG, Side.RIGHT), None, None),
        ("3 yards long", 9, (Side.LONG,), None, None),
        ("holed it", None, (), None, Finish.HOLED),
        ("thin, over the back", None, (Side.LONG,), Strike.THIN, None),
        ("fat, still in the bunker", None, (), Strike.HEAVY, Finish.BUNKER),
        ("in the water", None, (), None, Finish.WATER),
        ("stone dead", 0.5 / FOOT_M, (), None, None),
    ],
)
def test_a_bare_answer_is_a_result(bag, text, distance_ft, side, strike, finish):
    result = read_told(text, bag).result
    assert result.distance_m == (None if distance_ft is None else pytest.approx(distance_ft * FOOT_M))
    assert (result.side, result.strike, result.finish) == (side, strike, finish)


@pytest.mark.parametrize(
    ("text", "commitment"),
    [
        ("quit on it, ten feet short", Commitment.QUIT),
        ("I quit on it", Commitment.QUIT),
        ("rushed it, 3 yards long", Commitment.RUSH),
        ("committed, four feet", Commitment.COMMITTED),
        ("four feet", None),
    ],
)
def test_how_the_player_went_through_with_it(bag, text, commitment):
    told = read_told(text, bag)
    assert told.commitment == commitment
    assert told.result is not None


def test_stop_is_no_result(bag):
    told = read_told("stop", bag)
    assert (told.result, told.commitment, told.command) == (None, None, Command.FINISH)


def test_talk_about_something_else_is_no_result(bag):
    assert read_told("what is for lunch", bag).result is None


@pytest.mark.parametrize(
    ("text", "strokes"),
    [
        ("two", 2),
        ("it took 3", 3),
        ("up and down", 2),
        ("holed it", 1),
        ("four", 4),
        ("", None),
        ("99", None),
    ],
)
def test_strokes(text, strokes):
    assert read_strokes(text) == strokes


def test_a_situation_as_read_out(bag):
    situation = Situation(
        pin_m=18 * YARD_M, lie=Lie.LIGHT_ROUGH, pin_position=PinPosition.BACK,
        hazards=(Hazard(kind=HazardKind.BUNKER, side=Side.SHORT),),
    )  # fmt: skip
    assert situation_said(situation, bag) == "eighteen yards, light rough, bunker short, flag at the back"


def test_a_leave_as_said(bag):
    assert leave_said(Result(distance_m=6 * FOOT_M, side=(Side.SHORT,)), bag) == "six feet short"
    assert leave_said(Result(finish=Finish.HOLED), bag) == "in"
    assert leave_said(Result(), bag) == "noted"


def test_what_the_recogniser_listens_for_is_answers(bag):
    sentences = told_sentences()
    for answer in ("six feet short", "two", "down in three", "stop"):
        assert answer in sentences
    drawn = list(dict.fromkeys(sentences))[::10]
    told = [read_told(text, bag) for text in drawn]
    answers = [
        heard.result is not None or heard.command is Command.FINISH or read_strokes(text) is not None
        for heard, text in zip(told, drawn, strict=True)
    ]
    assert sum(answers) > 0.75 * len(answers)
