"""A bare answer to the question that was asked: "back", "soft", "fifty", read as that field alone."""

import re

from caddie.bag import Player
from caddie.situation import Green, Lie, Situation, Wind
from caddie.talk.sayings import frames, plain
from caddie.talk.state import Known
from caddie.units import Unit, from_metres, to_metres
from caddie.words import Intent, Understanding, understand

MOST_WORDS = 6
"""A longer utterance is no bare answer."""
_MAY_ANSWER = (
    Intent.OUT_OF_SCOPE, Intent.SITUATION, Intent.PUTT, Intent.CORRECT, Intent.YES, Intent.NO, Intent.RESULT,
    Intent.WHAT_IF,
)  # fmt: skip
_UNIT_SAID = re.compile(r"\b(y(ar)?ds?|paces?|steps?|feet|foot|ft|footer|inch(es)?|met(er|re)s?|m)\b|['\"]")


def in_context(heard: Understanding, known: Known, player: Player) -> Understanding:
    """What was heard, read as the answer when it answers the open question, else as it is."""
    heard = _in_feet_on_the_green(heard, known, player)
    question = known.question
    if question is None or heard.intent not in _MAY_ANSWER or heard.problem:
        return heard
    if len(plain(heard.heard).split()) > MOST_WORDS:
        return heard
    if heard.intent in (Intent.SITUATION, Intent.CORRECT) and answers(question.field, heard.situation):
        return heard
    found = framed(heard.heard, question.field, player)
    return heard if found is None else understood(heard, found)


def understood(heard: Understanding, situation: Situation) -> Understanding:
    """The utterance, taken to say exactly these facts."""
    return Understanding(heard=heard.heard, intent=Intent.SITUATION, situation=situation)


def framed(text: str, field: str, player: Player) -> Situation | None:
    """The answer in ``text`` about ``field`` alone, or None when it holds none."""
    for frame in frames(field):
        said = understand(frame.format(plain(text)), unit=player.distances_in, pace_m=player.pace_m)
        if not said.problem:
            part = part_of(said.situation, field)
            if part is not None:
                return part
    return None


def answers(field: str, situation: Situation) -> bool:
    """Whether the facts hold the one that was asked for."""
    return part_of(situation, field) is not None


def part_of(said: Situation, field: str) -> Situation | None:
    """One field of what was said and nothing else, or None when it was not said."""
    green = said.green
    part = Situation()
    if field in ("pin_m", "lie", "pin_position"):
        part = Situation.model_validate({field: getattr(said, field)})
    elif field == "green.firmness":
        part = Situation(green=Green(firmness=green.firmness))
    elif field == "green.fall":
        part = Situation(
            green=Green(
                fall=green.fall,
                fall_slope=green.fall_slope,
                side_fall=green.side_fall,
                side_slope=green.side_slope,
            )
        )
    elif field in ("water", "tier"):
        part = Situation(hazards=said.hazards)
    elif field == "wind":
        part = Situation(wind=Wind(from_=said.wind.from_, speed_m_s=said.wind.speed_m_s))
    return None if part == Situation() else part


def _in_feet_on_the_green(heard: Understanding, known: Known, player: Player) -> Understanding:
    """A number with no unit, said of a putt that is already talked about, is in feet."""
    pin_m = heard.situation.pin_m
    if known.situation.lie is not Lie.GREEN or known.played or pin_m is None:
        return heard
    if heard.intent not in (Intent.SITUATION, Intent.CORRECT) or heard.situation.lie is not None:
        return heard
    if _UNIT_SAID.search(heard.heard.lower()):
        return heard
    feet = from_metres(pin_m, player.distances_in, player.pace_m)
    putt = heard.situation.model_copy(update={"pin_m": to_metres(feet, Unit.FEET)})
    return heard.model_copy(update={"situation": putt})
