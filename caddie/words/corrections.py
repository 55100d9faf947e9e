"""What is taken back in the same breath: the later words put in the place of the earlier ones.

"Bunker left, sorry, right" becomes "bunker right" before anything is read, so that no reader has to know of it.
A correction is a word that takes back, what is said instead soon after it, and the last thing of the same kind
said before it. The words that take back are nouns of the grammar: ``correction`` and ``retraction``.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from caddie.words.denials import DENIALS, NO, denies
from caddie.words.grammar import grammar
from caddie.words.mentions import Mention, finder
from caddie.words.quantities import LENGTHS, Piece, Quantity
from caddie.words.reduction import HESITATION

TAKES_BACK = frozenset({"CORRECTION", "RETRACTION"})
_CALL = "CALL"
"""Takes back a number and tells one that is about right."""
_THEREABOUTS = "THEREABOUTS"
_ALIKE = 1.4
"""How far apart two lengths are at most, one of which corrects the other without a word that says so."""
_MOST = 10
"""Corrections in one breath; more are no speech."""
_SOON = 3
"""Words up to what is said instead: "sorry, it's in the rough"."""
_GOES_ON = frozenset({"to", "from", "off", "out", "away"})
"""What tells of the length before it also across a pause: "seventy, no, sixty-five, to the flag"."""
_LEADS = frozenset({"it", "that", "at", "from", "i", "have", "got", "READING", "#"})
"""Words beside a number that do not tell what it measures."""
_ADDS = frozenset({"also", "too", "another", "as"})
"""What is said with one of these comes to the rest: "hang on, there's water left as well"."""
_KINDS = {
    "lie": "lie",
    "where": "place",
    "side": "place",
    "fall": "fall",
    "break": "break",
    "wind_from": "wind from",
    "distance": "distance",
    "stance": "hill",
    "slope_word": "hill",
    "elevation": "height",
    "height": "height",
    "club": "club",
    "swing": "swing",
    "family": "family",
    "flight": "flight",
    "firmness": "firmness",
    "stimp_ft": "stimp",
    "stimp": "stimp",
    "room": "room",
    "sitting": "sitting",
    "slope": "slope",
    "wind_number": "wind number",
}
"""The kind of thing a fact tells, by its key: one takes back another of its kind."""


@dataclass(frozen=True)
class _Thing:
    """Pieces that tell one thing."""

    start: int
    end: int
    kinds: frozenset[str]
    about: str = ""
    """The flag or the trouble that it tells of, if it names one."""
    number_at: int | None = None
    role: str | None = None
    """What the number measures, if that is told."""

    def tells_like(self, other: "_Thing") -> bool:
        """Whether one may be said instead of the other."""
        names_others = "FLAG" in (self.about, other.about) and "" not in (self.about, other.about)
        return bool(self.kinds & other.kinds) and (self.about == other.about or not names_others)


@dataclass(frozen=True)
class _Said:
    """What was said so far, with everything it tells in order, worked out once."""

    pieces: list[Piece]

    @cached_property
    def facts(self) -> list[Mention]:
        return finder().find(self.pieces)["facts"]

    @cached_property
    def things(self) -> list[_Thing]:
        """Facts, numbers that tell nothing yet, and names of trouble and clubs."""
        return _things(self.pieces, self.facts)


def put_right(pieces: list[Piece]) -> list[Piece]:
    """The pieces with whatever was taken back replaced by what was said instead.

    An utterance that begins with a word that takes back keeps it: it puts right what was said before.
    """
    said = _Said(_hesitation_judged(_guesses_marked(pieces)))
    at, mendings = 1, 0
    while at < len(said.pieces) - 1 and mendings < _MOST:
        mended = _mended(said, at) if _takes_back(said, at) else None
        if mended is None:
            at += 1
        else:
            said, at, mendings = _Said(mended), 1, mendings + 1
    return [piece for piece in said.pieces if piece.text != _CALL]


def _guesses_marked(pieces: list[Piece]) -> list[Piece]:
    """ "Call it seventy" and "seventy to the flag, or thereabouts" are about seventy."""
    kept = [piece for piece in pieces if piece.text != _THEREABOUTS]
    passed = 0
    for at, piece in enumerate(pieces):
        number_at = at + 1 if piece.text == _CALL else None
        if piece.text == _THEREABOUTS:
            passed += 1
            number_at = next((i for i in range(at - passed, -1, -1) if kept[i].text == "#"), None)
        if number_at is not None and (quantity := kept[number_at].quantity) is not None:
            kept[number_at] = replace(kept[number_at], quantity=replace(quantity, approximate=True))
    return kept


def _hesitation_judged(pieces: list[Piece]) -> list[Piece]:
    """ "Er" between two values of one kind corrects the first; anywhere else it is passed over."""
    kept = [piece for piece in pieces if piece.text != HESITATION]
    if len(kept) == len(pieces):
        return pieces
    things, places = _Said(kept).things, [at for at, piece in enumerate(pieces) if piece.text == HESITATION]
    for passed, place in reversed(list(enumerate(places))):
        at = place - passed
        before = next((thing for thing in things if thing.end == at), None)
        after = next((thing for thing in things if thing.start == at), None)
        if before is not None and after is not None and _are_alike(kept, before, after):
            kept.insert(at, Piece("CORRECTION", after_break=True))
    return kept


def _are_alike(pieces: list[Piece], before: _Thing, after: _Thing) -> bool:
    first, second = _number(pieces, before), _number(pieces, after)
    if first is None or second is None:
        said = [[piece.text for piece in pieces[thing.start : thing.end]] for thing in (before, after)]
        return after.tells_like(before) and said[0] != said[1]
    alike = (
        first.is_length
        and second.is_length
        and (first.unit == second.unit or None in (first.unit, second.unit))
    )
    return alike and first.middle / _ALIKE <= second.middle <= first.middle * _ALIKE


def _takes_back(said: _Said, at: int) -> bool:
    pieces = said.pieces
    if pieces[at].text in NO and not pieces[at + 1].after_break:
        return not denies(pieces, said.facts, finder().troubles, at + 1) or _told_otherwise(said.things, at)
    return pieces[at].text in TAKES_BACK or pieces[at].text in NO or pieces[at].text == _CALL


def _told_otherwise(things: list[_Thing], at: int) -> bool:
    """ "Slow greens, no fast": what "no" stands before was told already, and not as trouble."""
    after = next((thing for thing in things if thing.start == at + 1), None)
    if after is None or "trouble" in after.kinds:
        return False
    return any(thing.tells_like(after) for thing in things if thing.end <= at)


def _mended(said: _Said, at: int) -> list[Piece] | None:
    """The pieces with what the word at ``at`` takes back put right; ``None`` if it takes back nothing."""
    pieces, things = said.pieces, said.things
    before = [thing for thing in reversed(things) if thing.end <= at]
    unit = grammar().units.get((pieces[at + 1].text,))
    if unit in LENGTHS:
        return _recounted(pieces, before, at, unit)
    denied = _denial_of_oneself(pieces, at)
    if denied is not None:
        return _without_denied(pieces, before, things, (at, denied))
    instead = _said_instead(pieces, things, at)
    if instead is None:
        return _rest_put_right(pieces, before, at)
    side_by_side = instead.number_at == at + 1 and pieces[at - 1].text == "#"
    if instead.number_at is not None and (instead.role is None or side_by_side):
        return _renumbered(pieces, before, at, instead)
    if _comes_to_the_rest(pieces, instead):
        return None
    if instead.role is not None:
        return _remeasured(pieces, before, things, at, instead)
    words = pieces[instead.start : instead.end]
    for thing in before:
        if thing.tells_like(instead) and (thing.kinds != {"trouble"} or at - thing.end <= 2):
            if thing.start and pieces[thing.start - 1].text in DENIALS:
                return None
            return _replaced(pieces, thing, at, instead.end, _spliced(pieces, thing, words) or words)
    for words in (words, pieces[at + 1 : instead.end]):
        mended = _spliced(pieces, before[0], words) if before else None
        if mended is not None:
            return _replaced(pieces, before[0], at, instead.end, mended)
    return None


def _things(pieces: list[Piece], facts: list[Mention]) -> list[_Thing]:
    troubles = finder().troubles
    things = [_told(pieces, mention, troubles) for mention in facts]
    inside = {at for mention in facts for at in range(mention.start, mention.end)}
    for at, piece in enumerate(pieces):
        if at in inside:
            continue
        if piece.text == "#":
            things.append(_Thing(at, at + 1, frozenset({"distance"}), number_at=at))
        elif piece.text in troubles:
            things.append(_Thing(at, at + 1, frozenset({"trouble"}), about=piece.text))
        elif piece.text == "CLUB":
            things.append(_Thing(at, at + 1, frozenset({"club"})))
    return sorted((thing for thing in things if thing.kinds), key=lambda thing: thing.start)


def _told(pieces: list[Piece], mention: Mention, troubles: frozenset[str]) -> _Thing:
    kinds = {kind for key, kind in _KINDS.items() if key in mention}
    texts = [piece.text for piece in pieces[mention.start : mention.end]]
    about = next((text for text in texts if text in troubles or text == "FLAG"), "")
    kinds |= {"trouble"} if about in troubles else set()
    role = mention.get("distance") if mention.quantity is not None else None
    if role is not None and _LEADS.issuperset(texts):
        role = None
    elif role == "pin":
        about = ""
    told = None if role is None else str(role)
    return _Thing(mention.start, mention.end, frozenset(kinds), about, mention.quantity_at, told)


def _number(pieces: list[Piece], thing: _Thing) -> Quantity | None:
    return None if thing.number_at is None else pieces[thing.number_at].quantity


def _said_instead(pieces: list[Piece], things: list[_Thing], at: int) -> _Thing | None:
    """The thing told soon after, or a number behind an aside: "sorry, I looked at the wrong flag, 57"."""
    after = [thing for thing in things if thing.start > at and pieces[thing.start - 1].text != "wrong"]
    if after and after[0].start - at <= _SOON:
        return after[0]
    if after and after[0].number_at is not None and pieces[after[0].start].after_break:
        return after[0]
    return None


def _comes_to_the_rest(pieces: list[Piece], instead: _Thing) -> bool:
    around = pieces[max(instead.start - 2, 0) : instead.start]
    for piece in pieces[instead.end : instead.end + 2]:
        if piece.after_break:
            break
        around.append(piece)
    return any(piece.text in _ADDS for piece in around)


def _replaced(pieces: list[Piece], thing: _Thing, at: int, end: int, instead: list[Piece]) -> list[Piece]:
    """``instead`` where ``thing`` stood; the words from ``at``, which takes it back, to ``end`` are gone."""
    rest = pieces[end:]
    if rest:
        goes_on = thing.number_at is not None and rest[0].text in _GOES_ON and thing.end == at
        apart = (rest[0].after_break and not goes_on) or thing.end != at
        rest = [replace(rest[0], after_break=apart), *rest[1:]]
    first = [replace(piece, after_break=pieces[thing.start].after_break) for piece in instead[:1]]
    return [*pieces[: thing.start], *first, *instead[1:], *pieces[thing.end : at], *rest]


def _renumbered(pieces: list[Piece], before: list[_Thing], at: int, instead: _Thing) -> list[Piece] | None:
    """ "Front 50, sorry, 55": the number is put right, what it measures stays."""
    second = _number(pieces, instead)
    if second is None or instead.number_at is None:
        return None
    end = instead.end if instead.role is None else instead.number_at + 1
    for thing in before:
        first, number_at = _number(pieces, thing), thing.number_at
        if first is None or number_at is None:
            continue
        if _counts_like(first, second) or (second.unit is None and thing.end >= at - 1):
            put = replace(pieces[instead.number_at], quantity=_in_unit_of(first, second), after_break=False)
            said = [*pieces[thing.start : number_at], put, *pieces[number_at + 1 : thing.end]]
            return _replaced(pieces, thing, at, end, said)
    return None


def _is_same_number(pieces: list[Piece], thing: _Thing, other: _Thing) -> bool:
    first = _number(pieces, thing)
    second = _in_unit_of(first, _number(pieces, other))
    return first is not None and second is not None and (first.low, first.unit) == (second.low, second.unit)


def _in_unit_of(first: Quantity | None, second: Quantity | None) -> Quantity | None:
    """The second length, counted as the first if it was said without a unit."""
    if first is None or second is None or second.unit is not None:
        return second
    return replace(second, unit=first.unit)


def _recounted(pieces: list[Piece], before: list[_Thing], at: int, unit: str) -> list[Piece] | None:
    """ "Sixty yards, I mean metres": the number stays, its unit is put right."""
    number_at = next((thing.number_at for thing in before if thing.number_at is not None), None)
    quantity = None if number_at is None else pieces[number_at].quantity
    if number_at is None or quantity is None:
        return None
    kept = [*pieces[:at], *pieces[at + 2 :]]
    kept[number_at] = replace(kept[number_at], quantity=replace(quantity, unit=unit))
    return kept


def _counts_like(first: Quantity, second: Quantity) -> bool:
    return first.unit == second.unit or (first.is_length and second.is_length)


def _remeasured(
    pieces: list[Piece], before: list[_Thing], things: list[_Thing], at: int, instead: _Thing
) -> list[Piece] | None:
    """ "62, sorry, 57 to the pin": the same length told anew, or one that measured nothing yet."""
    measured = [thing for thing in before if thing.number_at is not None and "distance" in thing.kinds]
    thing = next((thing for thing in measured if thing.role in (None, instead.role)), None)
    if thing is None:
        thing = measured[0] if measured else None
        later = [other.role for other in things if other.start > instead.start]
        if thing is None or not (thing.role in later or _is_same_number(pieces, thing, instead)):
            return None
    first = _number(pieces, thing)
    said = [
        replace(piece, quantity=_in_unit_of(first, piece.quantity))
        for piece in pieces[instead.start : instead.end]
    ]
    return _replaced(pieces, thing, at, instead.end, said)


def _denial_of_oneself(pieces: list[Piece], at: int) -> int | None:
    """Where "no wait I'm not" or "actually it isn't" ends."""
    for end in range(at + 1, min(at + _SOON + 1, len(pieces))):
        if pieces[end].after_break and end > at + 1:
            return None
        if pieces[end].text == "not":
            last = end + 1 == len(pieces) or pieces[end + 1].after_break
            return end + 1 if last else None
    return None


def _without_denied(
    pieces: list[Piece], before: list[_Thing], things: list[_Thing], words: tuple[int, int]
) -> list[Piece] | None:
    """Without what "I'm not" denies: of the kind that is named next, or else what was said last."""
    at, end = words
    named = next((thing for thing in things if thing.start >= end), None)
    alike = (thing for thing in before if named is not None and thing.tells_like(named))
    thing = next(alike, before[0] if before else None)
    return None if thing is None else _replaced(pieces, thing, at, end, [])


def _rest_put_right(pieces: list[Piece], before: list[_Thing], at: int) -> list[Piece] | None:
    """ "Seventy to the front, I mean to the flag": words that say something only in the place of others."""
    end = next((i for i in range(at + 2, len(pieces)) if pieces[i].after_break), len(pieces))
    if not before or end - at - 1 > _SOON:
        return None
    mended = _spliced(pieces, before[0], pieces[at + 1 : end])
    return None if mended is None else _replaced(pieces, before[0], at, end, mended)


def _spliced(pieces: list[Piece], thing: _Thing, said: list[Piece]) -> list[Piece] | None:
    """A thing with some of its words replaced, when that tells something of the same kind."""
    words = pieces[thing.start : thing.end]
    for joined in _splices(words, said):
        whole = [joined[0], *(replace(piece, after_break=False) for piece in joined[1:])]
        if any(
            (other.start, other.end) == (0, len(whole)) and other.kinds & thing.kinds
            for other in _Said(whole).things
        ):
            return whole
    return None


def _splices(words: list[Piece], said: list[Piece]) -> Iterator[list[Piece]]:
    """``said`` in place of the end, the beginning, all but the name at the end of ``words``, and behind them."""
    for cut in range(len(words) - 1, 0, -1):
        yield [*words[:cut], *said]
    for cut in range(1, len(words)):
        yield [*said, *words[cut:]]
    for cut in range(1, len(words)):
        yield [*words[cut:], *said]
    yield [*words, *said]
