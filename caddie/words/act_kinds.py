"""What one thing said in a turn does, by how it was read, and how much of the turn it explains."""

from enum import Enum, auto
from functools import cache

from caddie.situation import Finish, Frozen, Green, Situation, Wind
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import asks_in_part, intent_of, is_question, supposes
from caddie.words.golf_talk import unit_said
from caddie.words.sayings import compared, sayings_of
from caddie.words.talk_files import turn_data

_ASKED_WORTH = 2.0
HINTED_WORTH = 0.8
"""What a gist is worth that is not put as a question."""
UNREAD_NUMBER = 1.0
_UNREAD_WORD = 0.05
GIVEN = "given"
"""A putt that is given tells by itself what became of it."""


class ActKind(Enum):
    """What one thing said does in a turn."""

    TOLD = auto()
    RESULT = auto()
    ASKED = auto()
    ANSWER = auto()
    SAID = auto()
    NOTHING = auto()


def kind_of(heard: Understanding) -> ActKind:
    """What one thing said does, by how it was read."""
    if heard.intent in _TELLS and heard.situation != Situation() and not is_question(heard.heard):
        return ActKind.TOLD
    if heard.asks:
        return _kind_of_saying(heard, heard.asks[0])
    if heard.intent is Intent.WHAT_IF:
        asking = asks_in_part(heard.heard)
        asked = supposes(heard.heard) or (names_a_shot(heard) and asking)
        return ActKind.ASKED if asked else ActKind.TOLD
    match heard.intent:
        case Intent.SITUATION | Intent.PUTT | Intent.CORRECT:
            return ActKind.TOLD
        case Intent.RESULT:
            return ActKind.RESULT
        case Intent.WHY | Intent.HELP:
            return ActKind.ASKED
        case Intent.OUT_OF_SCOPE | Intent.YES | Intent.NO | Intent.REPEAT:
            return ActKind.NOTHING
        case _:
            return ActKind.SAID


def names_a_shot(heard: Understanding) -> bool:
    """Whether a club, a swing or a kind of shot is named."""
    return bool(heard.club or heard.swing or heard.family or heard.flight)


_TELLS = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT)


def _kind_of_saying(heard: Understanding, name: str) -> ActKind:
    data = turn_data()
    if name in data["results"] or heard.intent is Intent.RESULT:
        return ActKind.RESULT
    if heard.intent in (Intent.YES, Intent.NO):
        return ActKind.NOTHING
    if heard.intent is Intent.NEXT_HOLE and is_question(heard.heard) and not sayings_of(heard.heard):
        # "What is there to watch on the next hole?" walks on to none.
        return ActKind.NOTHING
    if name in data["leads"] or intent_of(name) is not None:
        return ActKind.SAID
    may_stand_beside = name in may_follow() or is_question(heard.heard)
    return ActKind.ASKED if may_stand_beside else ActKind.NOTHING


def worth_of(heard: Understanding) -> float:
    """What one reading explains: the facts told, what is asked, less the words that stay unread."""
    unread = UNREAD_NUMBER * len(heard.numbers_left_over)
    unread += _UNREAD_WORD * (len(heard.left_over) - len(heard.numbers_left_over))
    match kind_of(heard):
        case ActKind.NOTHING:
            return 0.0
        case ActKind.SAID:
            plain = bool(sayings_of(heard.heard)) or (not heard.asks and heard.intent is not Intent.READY)
            return _ASKED_WORTH if plain else HINTED_WORTH
        case ActKind.ASKED:
            return _worth_asked(heard) - unread
        case ActKind.RESULT:
            told = facts_told(heard) or int(heard.asks[:1] == (GIVEN,))
            return (1.0 + told if is_of_a_ball(heard) else HINTED_WORTH) - unread
        case _:
            return (heard.intent is Intent.CORRECT) + facts_told(heard) - unread


def _worth_asked(heard: Understanding) -> float:
    supposed = facts_told(heard) if heard.intent is Intent.WHAT_IF else 0
    if heard.asks:
        put = is_question(heard.heard) or sayings_of(heard.heard)
        counted = supposed if heard.asks[0] in turn_data()["asked_with_facts"] else 0
        return counted + (_ASKED_WORTH if put else HINTED_WORTH)
    return 1.5 + supposed if heard.intent is Intent.WHAT_IF else _ASKED_WORTH


def facts_told(heard: Understanding) -> int:
    """How many facts were told."""
    of_the_shot = (heard.club, heard.swing, heard.family, heard.flight, heard.down_in, heard.commitment)
    parts = (heard.situation, heard.situation.green, heard.situation.wind, heard.result)
    denied = len(heard.gone) + len(heard.not_lying)
    return sum(map(bool, of_the_shot)) + sum(_told(part) for part in parts if part is not None) + denied


def _told(part: Frozen) -> int:
    values = {name: getattr(part, name) for name in type(part).model_fields}
    return sum(
        len(value) if isinstance(value, tuple) else not isinstance(value, (Green, Wind))
        for name, value in values.items()
        if value not in (None, Finish.GREEN) and (name, value) != _LEVEL
    )


_LEVEL = ("side_slope", 0.0)
"""Said with a fall that is none, as one fact."""


def is_of_a_ball(heard: Understanding) -> bool:
    """Whether a result is plainly of a ball that was hit, and not of where trouble lies: "water right, OB left"."""
    told, words = heard.result, compared(heard.heard)
    if told is None or told.finish in (Finish.HOLED, Finish.GREEN) or heard.asks or heard.down_in:
        return True
    if words[0] == "no" or not set(turn_data()["only_feared"]).isdisjoint(words):
        return False
    if told.strike or (told.distance_m is not None and unit_said(heard.heard)):
        return True
    return not set(turn_data()["of_a_ball"]).isdisjoint(words)


@cache
def may_follow() -> frozenset[str]:
    """Sayings that may stand behind something else."""
    data = turn_data()
    return frozenset((*data["follows"], *data["answered_by_advice"]))


def answered_by_advice(heard: Understanding) -> bool:
    """Whether what is asked is what the advice on a shot tells by itself; of a club that is named it may not."""
    return not heard.club and not set(turn_data()["answered_by_advice"]).isdisjoint(heard.asks)
