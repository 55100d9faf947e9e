"""News of a shot that was hit before the one in play: its result is put right, and the one in play stays as it is.

"Hang on, I missed the nine-footer, tapped in. What if I play past the flag?"; "it was on the green, not the rough".
"""

import re
from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from caddie.bag import Player
from caddie.errors import CaddieError
from caddie.reply.spoken import sentences
from caddie.situation import IN_SAND, Finish, Lie, Result
from caddie.talk import lines
from caddie.talk.digits import FARTHEST_PUTT_M
from caddie.talk.new_shot import SAME_PUTT_M
from caddie.talk.of_one_shot import joined
from caddie.talk.result_said import acknowledgement
from caddie.talk.state import Desk, Known, Said, ToldShot
from caddie.talk.written_wrong import written_wrong
from caddie.units import FOOT_M
from caddie.words import Expecting, Intent, Understanding, understand
from caddie.words.log_corrections import without_asking_to_fix
from caddie.words.numbers import is_number, read_number
from caddie.words.results import FINISH_OF_LIE
from caddie.words.sayings import bare, begins, compared
from caddie.words.talk_files import talk_data
from caddie.words.turns import PUTS_RIGHT

_CLAUSES = re.compile(r"(?<=[,.;:!?…])\s+")
_PUTT = "putt"
_FOOTER = re.compile(
    r"\b(?:the|that|my) (?P<count>[a-z0-9]+(?:[ -][a-z]+)?)[ -]?(?:footer|(?P<unit>foot|metre|meter) putt)\b",
    re.IGNORECASE,
)
_NOT_SO = re.compile(
    r"(?:, *(?:and )?not|,? *\b(?:and )?not (?:in|on|into|the|one|two|three|four|left|right|short|long|past))"
    r"\b[\w' -]*$",
    re.IGNORECASE,
)
"""What it was not, behind what it was."""
_LEADS = re.compile(r"^(?:and|but|so|because|oh|well|anyway|by the way),? ", re.IGNORECASE)


@dataclass(frozen=True)
class _News:
    """What is told of an earlier shot, and the rest of the turn."""

    shot: ToldShot
    read: Understanding
    rest: str


def put_right_later(desk: Desk, known: Known, past: deque[Known], text: str) -> tuple[Said, str] | None:
    """The result of an earlier shot put right, with what else was said; None where the turn tells of none."""
    if (corrected := written_wrong(desk, known, text)) is not None:
        return corrected
    if known.plan is None or known.played or not known.told:
        return None
    just_told = bool(past) and past[-1].told != known.told
    news = _news(without_asking_to_fix(text), known, desk.bag.player, just_told=just_told)
    if news is None:
        return None
    return _written(desk, known, news), news.rest


def _written(desk: Desk, known: Known, news: _News) -> Said:
    shot, read = news.shot, news.read
    told = read.result or Result()
    whole = _together(shot.result, told)
    down_in = read.down_in or (1 if told.holed else None)
    said = acknowledgement(
        whole, None, read, desk.bag.player, putting=shot.situation.lie is Lie.GREEN and not told.holed
    )
    if shot.number is not None and desk.log is not None:
        try:
            desk.log.amend(shot.number, whole, down_in=down_in)
        except CaddieError as error:
            return Said(known, lines.NOT_LOGGED, written=f"{lines.NOT_LOGGED} ({error})")
    put = replace(shot, result=whole)
    kept = tuple(put if each is shot else each for each in known.told)
    as_told = whole == shot.result and down_in is None
    spoken = sentences([lines.AS_TOLD.format(told=said)] if as_told else [said, lines.PUT_RIGHT])
    return Said(
        known.changed(told=kept),
        spoken,
        logged=shot.number is not None,
        brief=sentences([said]),
        intent=Intent.RESULT.value,
    )


def _together(before: Result, told: Result) -> Result:
    """What was told before with what is told now in its place: a ball that was missed is not holed."""
    if before.holed and not told.holed:
        before = before.model_copy(update={"finish": None})
    if told.distance_m is not None and told.side:
        before = before.model_copy(update={"side": ()})
    return joined(before, told)


def _news(text: str, known: Known, player: Player, *, just_told: bool) -> _News | None:
    """The first stretch of clauses that tells of an earlier shot; of several ways to end it, the longest."""
    parts = [part for clause in _CLAUSES.split(text.strip()) for part in _by_shot(clause) if part]
    for first in range(len(parts)):
        found = None
        for last in range(first + 1, len(parts) + 1):
            said = " ".join(parts[first:last])
            if said.endswith("?") or (found is not None and not _goes_on(parts[last - 1])):
                break
            named = _named(said, known)
            if named is None and found is None and first + 1 < last and not _leads_only(parts[first]):
                break
            of_something_else = named is not None and _has_a_number(parts[first : last - 1])
            if found is None and of_something_else and _named(parts[last - 1], known) is not None:
                # "No. Six feet. My chip was short."
                break
            read = _read(said, known, named, player, just_told=just_told or named is not None)
            rest = " ".join((*_without_leads(parts[:first]), *parts[last:]))
            if read is not None:
                found = _News(read[0], read[1], rest)
            elif found is not None and _tells_the_same(parts[last - 1], found.read, player):
                found = replace(found, rest=rest)
            elif found is not None:
                break
        if found is not None:
            return found
    return None


def _has_a_number(parts: list[str]) -> bool:
    return any(is_number(word) for part in parts for word in compared(part))


def _by_shot(clause: str) -> list[str]:
    """ "The putt is six feet and my chip finished six short": what is told of each shot by itself."""
    names = "|".join(sorted(_names(), key=len, reverse=True))
    *before, last = re.split(rf",? and (?=(?:{names})\b)", clause, flags=re.IGNORECASE)
    return [*(f"{part}." for part in before), last]


def _goes_on(part: str) -> bool:
    """ "Not the rough", "tapped in for two", "by the way" behind what is told of a ball."""
    words, heard = compared(part), understand(part)
    told = heard.intent is Intent.RESULT or heard.down_in is not None
    told = told or not _OF_A_PUTT.isdisjoint(heard.asks) or words[:1] == ("not",)
    return told or (len(words) <= MOST_OF_A_LEAD and not any(map(is_number, words)))


_OF_A_PUTT = frozenset({"missed", "two_putts", "holed"})


def _tells_the_same(part: str, told: Understanding, player: Player) -> bool:
    """ "I didn't hole the nine-footer, I missed it": once more, in other words."""
    again = _result_in(part, player)
    alike = again is not None and again.result in (told.result, Result())
    return alike and again is not None and again.down_in in (None, told.down_in)


def _leads_only(part: str) -> bool:
    """ "Hang on," before what is put right."""
    return begins(f"{part} it", PUTS_RIGHT) and len(compared(part)) <= MOST_OF_A_LEAD


MOST_OF_A_LEAD = 3


def _without_leads(parts: list[str]) -> list[str]:
    return [part for part in parts if not _leads_only(part)]


def _read(
    said: str, known: Known, named: ToldShot | None, player: Player, *, just_told: bool
) -> tuple[ToldShot, Understanding] | None:
    """The shot told of and its result; None where the words tell of no earlier shot."""
    words = compared(said)
    if _words("past").isdisjoint(words) or not _words("not_done").isdisjoint(words):
        return None
    whole = said.rstrip(" ,.;:!…")
    told = _NOT_SO.sub("", whole)
    plain = _as_it(told)
    read = _result_in(plain, player) or _result_in(bare(plain), player)
    if read is None:
        return None
    strokes = understand(_CLAUSES.split(told)[-1]).down_in
    read = read.model_copy(update={"heard": plain, "down_in": strokes or read.down_in})
    if named is not None:
        return named, read
    shot = known.told[0]
    if told != whole and _denies_its_end(read, understand(said).not_lying, shot, known):
        return shot, read
    puts_right = begins(said, PUTS_RIGHT) and words[0] not in _words("said_at_once")
    return (shot, read) if just_told and puts_right and _tells_otherwise(read, shot, known) else None


def _denies_its_end(read: Understanding, denied: tuple[str, ...], shot: ToldShot, known: Known) -> bool:
    """ "It was on the green, not the rough" of a ball far from the flag, or where just the last one ended in rough."""
    told, there = read.result or Result(), known.situation
    if told.finish is Finish.GREEN and there.lie is not Lie.GREEN and (there.pin_m or 0.0) > FARTHEST_PUTT_M:
        return True
    ended = {FINISH_OF_LIE.get(Lie(lie)) for lie in denied}
    lies = FINISH_OF_LIE.get(there.lie) if there.lie is not None else None
    return shot.result.finish is not None and shot.result.finish in ended and lies not in ended


def _tells_otherwise(read: Understanding, shot: ToldShot, known: Known) -> bool:
    """Whether, right after the last shot was told, its end is told another way; nothing was hit since."""
    told = read.result or Result()
    if known.swung or told.strike is not None:
        return False
    of_a_putt = "missed" in read.asks or read.down_in is not None
    if of_a_putt:
        return shot.situation.lie is Lie.GREEN and known.situation.lie is not Lie.GREEN
    return _together(shot.result, told) != shot.result


def _result_in(words: str, player: Player) -> Understanding | None:
    """What became of a ball, in words that are known to tell it."""
    heard = understand(words, unit=player.distances_in, pace_m=player.pace_m)
    left = understand(words, unit=player.distances_in, pace_m=player.pace_m, expecting=Expecting.LEFT)
    lie = heard.situation.lie
    told, down_in = heard.result or left.result, heard.down_in
    if "two_putts" in heard.asks:
        told, down_in = heard.result or Result(), 2
    elif told is None and "missed" in heard.asks:
        told = Result()
    elif told in (None, Result()) and down_in is None and "missed" not in heard.asks:
        ended = FINISH_OF_LIE.get(lie) if lie is not None else None
        told = Result(finish=ended) if ended is not None else None
    if told is None and down_in is None:
        return None
    read = {"intent": Intent.RESULT, "result": told or Result(), "down_in": down_in}
    return heard.model_copy(update=read)


def _as_it(said: str) -> str:
    """The words with the shot named in them called "it", and without what leads to them."""
    words = _FOOTER.sub("it", _LEADS.sub("", said))
    for name in sorted(_names(), key=len, reverse=True):
        words = re.sub(rf"\b{name}\b", "it", words, flags=re.IGNORECASE)
    return words


def _named(said: str, known: Known) -> ToldShot | None:
    """The earlier shot that is named; None where none is, or the one in play is called so, too."""
    assert known.plan is not None
    footer = _FOOTER.search(said)
    number = read_number(re.split(r"[ -]", footer["count"].lower())) if footer else None
    if number is not None:
        far_m = number.value * (1.0 if footer and (footer["unit"] or "").startswith("met") else FOOT_M)
        putting = known.plan.chosen.line is not None
        if putting and abs((known.situation.pin_m or 0.0) - far_m) < SAME_PUTT_M:
            return None
        return next((each for each in known.told if _is_a_putt_of(each, far_m)), None)
    words = f" {' '.join(compared(said))} "
    for kind, names in _earlier()["shots"].items():
        if any(f" {name} " in words for name in names) and kind != _kind_in_play(known):
            return next((each for each in known.told if _is_of(kind, each)), None)
    denies = _NOT_SO.search(said.rstrip(" ,.;:!…")) or not _words("was_not").isdisjoint(compared(said))
    if (denies or begins(said, PUTS_RIGHT)) and any(f" {name} " in words for name in _earlier()["any"]):
        return known.told[0]
    return None


def _is_a_putt_of(shot: ToldShot, far_m: float) -> bool:
    return shot.situation.lie is Lie.GREEN and abs((shot.situation.pin_m or 0.0) - far_m) < SAME_PUTT_M


def _is_of(kind: str, shot: ToldShot) -> bool:
    """Whether a shot may be called by this kind, by where it was hit from."""
    lie = shot.situation.lie
    if kind == _PUTT:
        return lie is Lie.GREEN
    return lie in IN_SAND if kind == "splash" else lie is not Lie.GREEN and lie not in IN_SAND


def _kind_in_play(known: Known) -> str:
    assert known.plan is not None
    return _PUTT if known.plan.chosen.line is not None else known.plan.chosen.family.value


def _names() -> Iterator[str]:
    yield from _earlier()["any"]
    for names in _earlier()["shots"].values():
        yield from names


@cache
def _words(kind: str) -> frozenset[str]:
    return frozenset(_earlier()[kind])


@cache
def _earlier() -> dict[str, Any]:
    data: dict[str, Any] = talk_data()["hit_before"]
    return data
