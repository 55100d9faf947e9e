"""What is taken back in the same breath: the later words put in the place of the earlier ones.

"Bunker left, sorry, right" becomes "bunker right" before anything is read, so that no reader has to know of it.
A correction is a word that takes back, what is said instead soon after it, and the last thing like it before.
The words are nouns of the grammar, ``correction`` and ``retraction``; the ways one thing takes the place of
another are tried in the order of ``_WAYS``.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from caddie.words.denials import DENIALS, NO, denies
from caddie.words.grammar import grammar
from caddie.words.hesitations import (
    CALL,
    afterthoughts_led,
    guesses_marked,
    hesitations_judged,
    nearer_ones_led,
    said_before_led,
)
from caddie.words.mentions import finder
from caddie.words.quantities import LENGTHS, Piece, Quantity, clause_end
from caddie.words.things import Thing, Told

TAKES_BACK = frozenset({"CORRECTION", "RETRACTION"})
_CONTRASTS = frozenset({"not", "than"})
_OUTDOES = frozenset({"more", "rather"})
_SIDED = frozenset({"place", "wind from", "break"})
_MOST = 10
"""Corrections in one breath; more are no speech."""
_SOON = 3
"""Words up to what is said instead: "sorry, it's in the rough"."""
_NEAR = 2
"""Words at most between trouble that is only named and the word that takes it back."""
_GOES_ON = frozenset({"to", "from", "off", "out", "away"})
"""What tells of the length before it also across a pause: "seventy, no, sixty-five, to the flag"."""
_FAR = 1.5
"""So many times as much is no other reading of one number."""
_CLOSE = 1.3
"""Within so many times a bare number is another reading of a length told before."""
_ADDS = frozenset({"also", "too", "another", "as"})
"""What is said with one of these comes to the rest: "hang on, there's water left as well"."""


def put_right(pieces: list[Piece]) -> list[Piece]:
    """The pieces with whatever was taken back replaced by what was said instead.

    An utterance that begins with a word that takes back keeps it: it puts right what was said before.
    """
    led = said_before_led(pieces)
    told = Told(afterthoughts_led(hesitations_judged(guesses_marked(nearer_ones_led(led)))))
    at, mendings = 1, 0
    while at < len(told.pieces) - 1 and mendings < _MOST:
        mended = _mended(told, at) if _takes_back(told, at) else None
        if mended is None:
            at += 1
        else:
            told, at, mendings = Told(mended), 1, mendings + 1
    return _without_calls(told)


def _without_calls(told: Told) -> list[Piece]:
    """The pieces without "call it"; behind a place what it calls stands alone: "pin back, call it 91"."""
    calls = [at for at, piece in enumerate(told.pieces) if piece.text == CALL]
    if not calls:
        return told.pieces
    placed = {thing.end for thing in told.things if thing.kinds == {"place"}}
    return [
        replace(piece, after_break=True) if at - 1 in calls and at - 1 in placed else piece
        for at, piece in enumerate(told.pieces)
        if at not in calls
    ]


def contrasts(pieces: list[Piece]) -> bool:
    """ "The pin's at the front, not the back": one thing told, and one like it that it is not, and no more.

    What is told is a fact of what was said before put right; the pieces are as heard, no two numbers put together.
    """
    told = Told(pieces)
    at = next((i for i, piece in enumerate(pieces[:-1]) if piece.text in _CONTRASTS), None)
    if at is None:
        return False
    before = [thing for thing in told.things if thing.end <= at]
    after = [thing for thing in told.things if thing.start > at]
    if at == 0:
        only = len(after) == 2 and after[1].end == len(pieces)
        return only and pieces[after[1].start].after_break and after[1].tells_like(after[0])
    alike = [thing for thing in before if after and _is_contrasted(thing, after[0])]
    others = [thing for thing in before if thing not in alike and thing.kinds != {"trouble"}]
    if len(alike) != 1 or others or len(after) != 1:
        return False
    outdone = [piece.text for piece in pieces[:at] if piece.text in _OUTDOES]
    measured = alike[0].number is not None
    return pieces[at].text == "not" or "rather" in outdone or (bool(outdone) and not measured)


def _is_contrasted(thing: Thing, other: Thing) -> bool:
    """ "Wind from the left, not the right": a side alone is like whatever has one."""
    both_sided = thing.kinds & _SIDED and other.kinds & _SIDED
    measured = thing.number is not None and other.number is not None
    return measured or bool(both_sided) or thing.tells_like(other)


def _takes_back(told: Told, at: int) -> bool:
    pieces = told.pieces
    if pieces[at].text in NO and not pieces[at + 1].after_break:
        if _ends_with_not(pieces, at):
            return True
        return not denies(pieces, told.facts, finder().troubles, at + 1) or _told_otherwise(told, at)
    return pieces[at].text in TAKES_BACK or pieces[at].text in NO or pieces[at].text == CALL


def _ends_with_not(pieces: list[Piece], at: int) -> bool:
    """ "In the trap, no I'm not, in the rough": the whole of what was told is denied, and nothing named."""
    clause = [piece.text for piece in pieces[at + 1 : at + _SOON + 1]]
    end = next((at + 1 + i for i, text in enumerate(clause) if text == "not"), None)
    return end is not None and (end + 1 == len(pieces) or pieces[end + 1].after_break)


def _told_otherwise(told: Told, at: int) -> bool:
    """ "Slow greens, no fast": what "no" stands before was told already, and not as trouble."""
    after = next((thing for thing in told.things if thing.start == at + 1), None)
    if after is None or "trouble" in after.kinds:
        return False
    return any(thing.tells_like(after) for thing in told.things if thing.end <= at)


@dataclass(frozen=True)
class _Correction:
    """A word that takes back, what stands before it, and what is said instead."""

    pieces: list[Piece]
    at: int
    before: list[Thing]
    """What was told before, the last first."""
    after: list[Thing]
    instead: Thing | None

    @property
    def words(self) -> list[Piece]:
        """What is said instead, word by word."""
        return [] if self.instead is None else self.pieces[self.instead.start : self.instead.end]

    def put(self, thing: Thing, words: list[Piece], end: int) -> list[Piece]:
        """All the pieces, ``words`` where the thing stood; from the word that takes back up to ``end`` all is gone."""
        rest = self.pieces[end:]
        if rest:
            adjoins = thing.end == self.at
            goes_on = adjoins and thing.number_at is not None and rest[0].text in _GOES_ON
            apart = not adjoins or (rest[0].after_break and not goes_on)
            rest = [replace(rest[0], after_break=apart), *rest[1:]]
        led = self.pieces[thing.start].after_break
        first = [replace(piece, after_break=led) for piece in words[:1]]
        return [
            *self.pieces[: thing.start], *first, *words[1:], *self.pieces[thing.end : self.at], *rest,
        ]  # fmt: skip


def _mended(told: Told, at: int) -> list[Piece] | None:
    """The pieces with what the word at ``at`` takes back put right; ``None`` if it takes back nothing."""
    before = [thing for thing in reversed(told.things) if thing.end <= at]
    after = [thing for thing in told.things if thing.start > at]
    correction = _Correction(told.pieces, at, before, after, _said_instead(told.pieces, after, at))
    if not before:
        return None
    return next((mended for way in _WAYS if (mended := way(correction)) is not None), None)


def _said_instead(pieces: list[Piece], after: list[Thing], at: int) -> Thing | None:
    """The thing told soon after, or a number behind an aside: "sorry, I looked at the wrong flag, 57"."""
    first = next((thing for thing in after if pieces[thing.start - 1].text != "wrong"), None)
    if first is None or first.start - at <= _SOON:
        return first
    return first if first.number_at is not None and pieces[first.start].after_break else None


def _other_side_of_the_hole(said: _Correction) -> list[Piece] | None:
    """ "Thirty foot left, no, right of it", "ten feet short, no, past it": the length stays, its side is put right."""
    sides = [each for each in finder().find(said.pieces)["results"] if "result_side" in each]
    before = next((each for each in sides if each.end == said.at and each.quantity_at is not None), None)
    after = next((each for each in sides if each.start == said.at + 1 and each.quantity_at is None), None)
    if before is None or after is None or before.quantity_at is None:
        return None
    length = replace(said.pieces[before.quantity_at], after_break=said.pieces[before.start].after_break)
    side = said.pieces[after.start : after.end]
    return [
        *said.pieces[: before.start], length, replace(side[0], after_break=False), *side[1:],
        *said.pieces[after.end :],
    ]  # fmt: skip


def _another_unit(said: _Correction) -> list[Piece] | None:
    """ "Sixty yards, I mean metres": the number stays, its unit is put right."""
    unit = grammar().units.get((said.pieces[said.at + 1].text,))
    thing = next((thing for thing in said.before if thing.number_at is not None), None)
    if unit not in LENGTHS or thing is None or thing.number is None or thing.number_at is None:
        return None
    kept = [*said.pieces[: said.at], *said.pieces[said.at + 2 :]]
    kept[thing.number_at] = replace(kept[thing.number_at], quantity=replace(thing.number, unit=unit))
    return kept


def _nothing_instead(said: _Correction) -> list[Piece] | None:
    """ "In the bunker, no wait I'm not, on the fringe": gone is what is like the next thing, or else the last."""
    ends = range(said.at + 1, min(said.at + _SOON + 1, len(said.pieces)))
    end = next((i + 1 for i in ends if said.pieces[i].text == "not"), None)
    if end is None or any(piece.after_break for piece in said.pieces[said.at + 2 : end]):
        return None
    if end < len(said.pieces) and not said.pieces[end].after_break:
        return None
    following = next((thing for thing in said.after if thing.start >= end), None)
    alike = (thing for thing in said.before if following is not None and thing.tells_like(following))
    return said.put(next(alike, said.before[0]), [], end)


def _another_number(said: _Correction) -> list[Piece] | None:
    """ "Front 50, sorry, 55": the number is put right, what it measures stays."""
    instead = said.instead
    if instead is None or instead.number is None or instead.number_at is None:
        return None
    side_by_side = instead.number_at == said.at + 1 and said.pieces[said.at - 1].text == "#"
    if (instead.role is not None and not side_by_side) or not instead.measures:
        return None
    for thing in said.before:
        if thing.number is None or thing.number_at is None:
            continue
        if said.pieces[said.at].text == CALL and thing.role not in (None, "pin") and thing.end < said.at - 1:
            continue  # "Front's at 64, pin's in the middle, call it 74": the flag's, not the front's.
        adjoins = thing.end >= said.at - 1 and instead.number.unit is None
        if instead.number.unit is None and _another_is_meant(said, thing, instead.number):
            continue
        near = instead.number.unit is None and _are_near(thing.number, instead.number, _CLOSE)
        if adjoins or near or _counts_like(thing.number, instead.number):
            number = _in_unit_of(thing.number, said.pieces[instead.number_at])
            tail = said.pieces[thing.number_at + 1 : thing.end]
            words = [*said.pieces[thing.start : thing.number_at], replace(number, after_break=False), *tail]
            return said.put(thing, words, instead.end if instead.role is None else instead.number_at + 1)
    return None


def _another_is_meant(said: _Correction, thing: Thing, number: Quantity) -> bool:
    """ "Sixty-two, wind maybe ten. Make that sixty-four": a bare number is of the kind of the one it is near to."""
    if thing.number is None or _are_near(thing.number, number, _FAR):
        return False
    return any(
        each.number is not None and each.number.is_length and _are_near(each.number, number, _CLOSE)
        for each in said.before
        if each is not thing
    )


def _are_near(one: Quantity, other: Quantity, times: float) -> bool:
    return one.middle / times <= other.middle <= one.middle * times


def _measured_anew(said: _Correction) -> list[Piece] | None:
    """ "62, sorry, 57 to the pin": the same length told anew, or one that measured nothing yet."""
    instead = said.instead
    if instead is None or instead.role is None:
        return None
    measured = [t for t in said.before if t.number_at is not None and "distance" in t.kinds]
    thing = next((t for t in measured if t.role in (None, instead.role) or _is_told_again(said, t)), None)
    if thing is None:
        return None
    return said.put(thing, [_in_unit_of(thing.number, piece) for piece in said.words], instead.end)


def _is_told_again(said: _Correction, thing: Thing) -> bool:
    """ "The flag's 60, no, the front's 60 and the flag's 68": its number is another's, or its length comes again."""
    instead = said.instead
    if instead is None or instead.number is None or thing.number is None:
        return False
    one_unit = instead.number.unit in (None, thing.number.unit)
    same = one_unit and instead.number.low == thing.number.low
    return same or any(other.role == thing.role for other in said.after if other.start > instead.start)


def _another_of_its_kind(said: _Correction) -> list[Piece] | None:
    """ "In the rough, sorry, the fairway", "bunker on the left, no, the right"."""
    instead = said.instead
    if instead is None or instead.measures or _comes_to_the_rest(said, instead):
        return None
    thing = next((t for t in said.before if t.tells_like(instead) and _is_taken_back(said, t)), None)
    if thing is None or (thing.start and said.pieces[thing.start - 1].text in DENIALS):
        return None
    return said.put(thing, _spliced(said.pieces, thing, said.words) or said.words, instead.end)


def _is_taken_back(said: _Correction, thing: Thing) -> bool:
    return thing.kinds != {"trouble"} or said.at - thing.end <= _NEAR


def _comes_to_the_rest(said: _Correction, instead: Thing) -> bool:
    around = said.pieces[max(instead.start - 2, 0) : instead.start]
    for piece in said.pieces[instead.end : instead.end + 2]:
        if piece.after_break:
            break
        around.append(piece)
    return any(piece.text in _ADDS for piece in around)


def _other_words(said: _Correction) -> list[Piece] | None:
    """ "Seventy to the front, I mean to the flag": words that tell something only in the place of others."""
    start = said.at + 1
    if said.instead is None:
        end = clause_end(said.pieces, start + 1)
        tries = [said.pieces[start:end]] if end - start <= _SOON else []
    elif not said.instead.measures and not _comes_to_the_rest(said, said.instead):
        end = said.instead.end
        tries = [said.words, said.pieces[start:end]]
    else:
        return None
    spliced = (_spliced(said.pieces, said.before[0], words) for words in tries)
    words = next((words for words in spliced if words is not None), None)
    return None if words is None else said.put(said.before[0], words, end)


def _set_against(said: _Correction) -> list[Piece] | None:
    """ "Nine iron, I said, not the gap": what stands before is what was said, and what it is not goes."""
    pieces, start = said.pieces, said.at + 2
    if pieces[said.at + 1].text != "not" or start >= len(pieces):
        return None
    end = clause_end(pieces, start)
    thing, denied = said.before[0], [piece.said or piece.text for piece in pieces[start:end]]
    told = [piece.said or piece.text for piece in pieces[thing.start : thing.end]]
    alike = said.instead is not None and said.instead.start == start and _is_contrasted(thing, said.instead)
    shorter = said.instead is None and _spliced(pieces, thing, pieces[start:end]) is not None
    if pieces[start].after_break or told == denied or not (alike or shorter) or thing.end != said.at:
        return None
    return [*pieces[: said.at], *pieces[end:]]


_WAYS: tuple[Callable[[_Correction], list[Piece] | None], ...] = (
    _set_against,
    _other_side_of_the_hole,
    _another_unit,
    _nothing_instead,
    _another_number,
    _measured_anew,
    _another_of_its_kind,
    _other_words,
)
"""The ways to put something right, the first that fits counts."""


def _counts_like(first: Quantity, second: Quantity) -> bool:
    return first.unit == second.unit or (first.is_length and second.is_length)


def _in_unit_of(first: Quantity | None, piece: Piece) -> Piece:
    """A number counted as the first is, if it was said without a unit."""
    if first is None or piece.quantity is None or piece.quantity.unit is not None:
        return piece
    return replace(piece, quantity=replace(piece.quantity, unit=first.unit))


def _spliced(pieces: list[Piece], thing: Thing, words: list[Piece]) -> list[Piece] | None:
    """A thing with some of its words replaced, when that tells something of the same kind."""
    for joined in _splices(pieces[thing.start : thing.end], words):
        whole = [joined[0], *(replace(piece, after_break=False) for piece in joined[1:])]
        things = (each for each in Told(whole).things if (each.start, each.end) == (0, len(whole)))
        if any(each.kinds & thing.kinds for each in things):
            return whole
    return None


def _splices(first: list[Piece], second: list[Piece]) -> Iterator[list[Piece]]:
    """The second in place of the end, of the beginning, of all but the end's name, and behind all of the first."""
    for cut in range(len(first) - 1, 0, -1):
        yield [*first[:cut], *second]
    for cut in range(1, len(first)):
        yield [*second, *first[cut:]]
    for cut in range(1, len(first)):
        yield [*first[cut:], *second]
    yield [*first, *second]
