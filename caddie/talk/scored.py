"""A score told between shots: said back, and counted to par where the par is told. It is not kept."""

from itertools import pairwise

from caddie.reply.spoken import sentences
from caddie.talk import lines
from caddie.talk.state import Desk, Known, Said
from caddie.units import spoken_number
from caddie.words import Understanding
from caddie.words.sayings import compared

_NAMED = {"eagle": -2, "birdie": -1, "par": 0, "bogey": 1, "double": 2, "triple": 3}
_AGAINST = {-2: "two under", -1: "one under", 0: "level", 1: "one over", 2: "two over", 3: "three over"}
MOST_ON_A_HOLE = 15
_PARS = (3, 4, 5)


def scored(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "For a six on a par four": "Six on a par four: two over." """
    words = compared(heard.heard)
    counts = [number for word in words if (number := _number(word)) is not None]
    against = next((_NAMED[word] for word in words if word in ("double", "triple")), None)
    against = next((_NAMED[word] for word in words if word in _NAMED), None) if against is None else against
    par = next((_number(word) for before, word in pairwise(words) if before == "par"), None)
    if par in _PARS and len(counts) > 1:
        strokes = next(number for number in counts if number != par or counts.count(par) > 1)
        told = f"{spoken_number(strokes)} on a par {spoken_number(par)}: {_to_par(strokes - par)}"
    elif par in _PARS:
        told = f"a par {spoken_number(par)}, then"
    elif "over" in words or "under" in words:
        told = f"{spoken_number(counts[0])} {'over' if 'over' in words else 'under'}" if counts else "heard"
    elif {"level", "even"} & set(words):
        told = "level par"
    elif against is not None:
        name = _called(against)
        told = (
            f"{spoken_number(counts[0])}, {name}: {_AGAINST[against]}"
            if counts
            else f"{name}: {_AGAINST[against]}"
        )
    else:
        told = f"{spoken_number(counts[0])} there" if counts else "heard"
    return Said(known, sentences([told, lines.SCORE_KEPT]))


def score_asked(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The score is not kept, and it is said."""
    return Said(known, sentences([lines.SCORE_KEPT, "ask how you are doing, and I count those"]))


def _called(against: int) -> str:
    names = {2: "a double bogey", 3: "a triple bogey", -2: "an eagle", 0: "par"}
    return names.get(against) or f"a {next(name for name, value in _NAMED.items() if value == against)}"


def _to_par(gap: int) -> str:
    if gap == 0:
        return "par"
    return f"{spoken_number(abs(gap))} {'over' if gap > 0 else 'under'}"


def _number(word: str) -> int | None:
    """A count of strokes, or None for what is none."""
    if word.isdecimal():
        number = int(word)
    elif word in _WORDS:
        number = _WORDS[word]
    else:
        return None
    return number if 0 < number <= MOST_ON_A_HOLE else None


_WORDS = {spoken_number(number): number for number in range(1, MOST_ON_A_HOLE + 1)}
