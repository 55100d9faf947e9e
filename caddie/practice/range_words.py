"""What a player says after a ball on the range: a number, a side, a strike, or a word to the session."""

import re
from enum import StrEnum

from caddie.range.csv_import import STRIKE_WORDS
from caddie.situation import Frozen, Side, Strike
from caddie.units import Unit, to_metres
from caddie.words.numbers import read_number, spoken_forms
from caddie.words.odd_numbers import odd_number


class Said(StrEnum):
    """Kinds of utterance."""

    SHOT = "shot"
    SCRATCH = "scratch"
    PAUSE = "pause"
    GO_ON = "go_on"
    FINISH = "finish"
    REPEAT = "repeat"
    UNCLEAR = "unclear"


class Heard(Frozen):
    """One utterance understood."""

    said: Said
    carry_m: float | None = None
    number: float | None = None
    """The carry as said, in the player's unit."""
    side: Side | None = None
    side_m: float | None = None
    """Left negative; None when only the side was said."""
    strike: Strike | None = None


_PHRASES = {
    Said.SCRATCH: ("scratch that", "scratch", "undo", "cancel", "delete that", "take that back", "not that"),
    Said.PAUSE: ("pause", "wait", "hold on", "break"),
    Said.GO_ON: ("go on", "carry on", "continue", "resume", "ready", "next"),
    Said.FINISH: ("finish", "stop", "done", "that's all", "thats all", "the end", "quit", "enough"),
    Said.REPEAT: ("repeat", "again", "say again", "say that again", "which club", "what", "what was it"),
}
_COMMANDS = {phrase: said for said, phrases in _PHRASES.items() for phrase in phrases}
_UNITS = {
    **dict.fromkeys(("yard", "yards", "yd", "yds"), Unit.YARDS),
    **dict.fromkeys(("metre", "metres", "meter", "meters", "m"), Unit.METRES),
    **dict.fromkeys(("foot", "feet", "ft"), Unit.FEET),
    **dict.fromkeys(("pace", "paces"), Unit.PACES),
}
_WORD = re.compile(r"\d+(?:[.,]\d+)?|[a-z]+")
_SIDES = {"left": Side.LEFT, "right": Side.RIGHT}
_FILLERS = frozenset(
    "a an and about around it was the of carry carried went to bit little slightly that one off "
    "um uh er straight dead on line i hit got just".split()
)


def hear_range(text: str, unit: Unit, pace_m: float) -> Heard:
    """Understand one utterance; lengths without a unit are in the player's.

    >>> hear_range("sixty-three, five left", Unit.METRES, 0.9).side_m
    -5.0
    """
    plain = " ".join(re.sub(r"[.!?]+$|,", " ", text.lower().replace("’", "'")).split())
    if plain in _COMMANDS:
        return Heard(said=_COMMANDS[plain])
    if odd_number(text.replace(",", ".")):
        return Heard(said=Said.UNCLEAR)
    words = _WORD.findall(text.lower().replace("-", " "))
    numbers: list[tuple[float, float]] = []
    side: Side | None = None
    side_m: float | None = None
    strike: Strike | None = None
    unknown = 0
    at = 0
    while at < len(words):
        word = words[at].replace(",", ".")
        found = None if word == "a" else read_number([each.replace(",", ".") for each in words], at)
        if found is not None:
            at += found.words
            said_unit = _UNITS.get(words[at]) if at < len(words) else None
            at += said_unit is not None
            numbers.append((found.value, to_metres(found.value, said_unit or unit, pace_m)))
            continue
        if word in _SIDES:
            side = _SIDES[word]
            # A second number belongs to the side it stands before.
            side_m = numbers.pop()[1] if len(numbers) > 1 else side_m
        elif word in STRIKE_WORDS:
            strike = STRIKE_WORDS[word]
        elif word not in _FILLERS and word not in _UNITS:
            unknown += 1
        at += 1
    if side_m is None and side is not None and len(numbers) == 2:
        side_m = numbers.pop()[1]
    if len(numbers) > 1 or (not numbers and strike is None) or unknown > len(words) // 2:
        return Heard(said=Said.UNCLEAR)
    if not numbers and strike is Strike.CLEAN:
        return Heard(said=Said.UNCLEAR)
    return Heard(
        said=Said.SHOT,
        carry_m=numbers[0][1] if numbers else None,
        number=numbers[0][0] if numbers else None,
        side=side,
        side_m=None if side_m is None else (-side_m if side is Side.LEFT else side_m),
        strike=strike,
    )


def range_sentences() -> tuple[str, ...]:
    """Everything a recogniser has to listen for during a session, in lower-case words.

    What is said oftener stands there oftener: a carry alone or with its side, and each word that stands alone.
    """
    carries = [form for count in range(5, 181) for form in spoken_forms(count)[:2]]
    amounts = [spoken_forms(count)[0] for count in range(1, 21)]
    sentences = _USUAL_SHARE * [*carries, *(f"{carry} {side}" for carry in carries for side in _SIDES)]
    sentences += [frame.format(carry) for frame in _CARRY_FRAMES for carry in carries]
    for place, carry in enumerate(carries):
        amount = amounts[place % len(amounts)]
        sentences += [f"{carry} {amount} {side}" for side in _SIDES]
        sentences += [f"{carry} {amount} yards {side}" for side in _SIDES]
        sentences += [f"{carry} {little} {side}" for little in _LITTLE for side in _SIDES]
    strikes = [word for word in STRIKE_WORDS if word not in _NOT_ALONE]
    for strike in strikes:
        sentences += [f"{strike} {carry}" for carry in carries[::3]]
        sentences += [f"{carry} {strike}" for carry in carries[::6]]
    alone = [frame.format(strike) for strike in strikes for frame in _STRIKE_FRAMES]
    return (*sentences, *_ALONE_SHARE * [*alone, *_COMMANDS])


_USUAL_SHARE = 5
_ALONE_SHARE = 12
_CARRY_FRAMES = (
    "{} yards", "{} metres", "about {}", "about {} yards", "it went {}", "carried {}", "i got {}",
    "{} straight", "{} dead straight",
)  # fmt: skip
_LITTLE = ("a bit", "a little", "slightly", "just")
_STRIKE_FRAMES = ("{}", "{}", "{}", "i hit it {}", "hit it {}", "{} it")
_NOT_ALONE = frozenset(word for word, strike in STRIKE_WORDS.items() if strike is Strike.CLEAN)
