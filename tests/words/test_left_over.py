"""Every word and number is accounted for: a fact's, a phrase's, a name's, or left over and told."""

import re

import pytest
from utterances import OFF_TOPIC, SUBJECTS, lines

from caddie.units import SpeedUnit, Unit, from_metres, from_metres_per_second
from caddie.words import Intent, Understanding, understand
from caddie.words.reduction import reducer

_DIGITS = re.compile(
    r"(?<![\w.'])\d+(?:\.\d+)?(?=(?:yds?|yards|m|ft|metres|paces|mph)?\b)(?!['\"/]|st\b|nd\b|rd\b|th\b)"
)
_EXPLAINED_OTHERWISE = re.compile(
    r"\b(?:no|nope|nah|not|sorry|actually|wait|make|mean|rather|scratch|correction|lie|oops|change|"
    r"said|less|plus|in front of|why|or|gps|past|wide|deep|long|across|"
    r"high|tall|back|beyond|behind|club|wood|iron|force|o'?clock|minutes?|half|cups?|"
    r"plays?|playing|adjusted|takes it|more like|(?:\d+|ten) to \d+ miles)\b|"
    r"[-–/%°'*]| 2 (?:flag|pin)|\d ?(?:yards|yds|ft|feet) \d"
)
"""Lines with words by which a number is taken back, reckoned with, or says what no field holds."""


def _values(said: Understanding) -> list[float]:
    s = said.situation
    lengths = [s.pin_m, s.front_m, s.room_m, s.elevation_m, *(said.pin_range_m or ())]
    lengths += [h.carry_m for h in s.hazards] + [h.height_m for h in s.hazards]
    lengths += [said.result.distance_m] if said.result else []
    values = [from_metres(abs(m), unit) for m in lengths if m is not None for unit in Unit]
    speed = s.wind.speed_m_s
    values += [from_metres_per_second(speed, unit) for unit in SpeedUnit] if speed is not None else []
    values += [float(n) for n in (s.green.stimp_ft, said.down_in) if n is not None]
    if (borrow := s.green.borrow) is not None:
        values.append(borrow.amount)
    slopes = [slope for slope in (s.green.fall_slope, s.green.side_slope) if slope is not None]
    values += [each for slope in slopes for each in (slope * 100, slope / 0.017455)]
    return values + [float(n) for n in re.findall(r"\d+", said.club or "")]


def _named(text: str) -> str:
    reduce = reducer()
    names = {
        "HOLE_NUMBER",
        "PAR",
        "STROKE_INDEX",
        "STROKES_PLAYED",
        "SCORE",
        "HANDICAP",
        "HOUR",
        "MONEY",
        "BALL_NUMBER",
    }
    return " ".join(p.said for p in reduce.pieces(reduce.tokens(text)) if p.text in names)


@pytest.mark.parametrize("subject", [subject for subject in SUBJECTS if subject != OFF_TOPIC])
def test_every_number_of_the_corpus_is_a_fact_a_name_or_left_over(subject: str) -> None:
    looked_at, silent = 0, []
    for line in lines(subject):
        said = understand(line.say, from_speech=line.from_speech)
        if (
            said.intent is Intent.OUT_OF_SCOPE
            or said.problem
            or _EXPLAINED_OTHERWISE.search(line.say.lower())
        ):
            continue
        told = " ".join((*said.left_over, _named(line.say))).split()
        values = _values(said)
        for digits in _DIGITS.findall(line.say):
            looked_at += 1
            if digits not in told and not any(abs(value - float(digits)) < 0.06 for value in values):
                silent.append(f"{line.say}: {digits}")
    assert not silent, "\n" + "\n".join(silent)
    if subject in ("lies", "wind", "trouble", "green"):
        assert looked_at > 20


@pytest.mark.parametrize(
    ("say", "left"),
    [
        ("seventy yards, fairway, the fifteen over there", ("fifteen",)),
        ("70 yards, trees in front, 12 yards away", ()),
        ("hole 7 par 4 lying 3, 38yds, bare lie", ()),
        ("it's half past four, 35 yards, bunker short", ()),
        ("40 yards, 90 yards, fairway", ("90 yards",)),
        ("50 yards, no, 55", ()),
        ("the marshal is waving us through but I've 70 yards, water left", ("marshal", "waving")),
        ("what is the weather like tomorrow", ()),
    ],
)
def test_what_is_left_over(say: str, left: tuple[str, ...]) -> None:
    assert understand(say).left_over == left


def test_only_numbers_are_left_out_aloud() -> None:
    said = understand("the marshal is waving, 70 yards, 30 yards, fairway")
    assert said.left_over == ("marshal", "waving", "30 yards")
    assert said.numbers_left_over == ("30 yards",)
