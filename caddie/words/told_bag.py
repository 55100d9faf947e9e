"""What is told of a bag where it was asked for: clubs, how far they carry, a handicap, some of a few things."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from caddie.range.told import CarryAsSaid
from caddie.words.asked_for import Answer
from caddie.words.grammar import grammar
from caddie.words.quantities import COUNTS, Piece
from caddie.words.reduction import reducer
from caddie.words.replies import Reply

_LETTERS = {"pitching wedge": "pw", "gap wedge": "gw", "sand wedge": "sw", "lob wedge": "lw"}
_IRONS = range(4, 10)
_LOFTS = (43.0, 72.0)
_APPROACH = frozenset({"aw", "approach", "attack"})
_GAP = _APPROACH | {"gw", "gap"}
_BACKWARD = frozenset({"from", "of", "in", "off", "out"})
_THROUGH = frozenset({"to", "through", "until", "down", "up"})
_MEANINGS = ("named", "result_side", "strike", "commitment", "family")


def read_clubs(answer: Answer) -> Reply:
    """A list of clubs; ``unknown`` is the first word that names none."""
    named: list[str] = []
    ranged = False
    for _, word in _clubs(answer):
        if word in ("", "putter"):
            continue
        if word == "to":
            ranged = bool(named)
            continue
        if word[0] == "?":
            return Reply(heard=answer.text, unknown=word[1:])
        if ranged:
            named += _between(named[-1], word)
        named.append(word)
        ranged = False
    return Reply(heard=answer.text, clubs=tuple(dict.fromkeys(named)))


def _clubs(answer: Answer) -> Iterator[tuple[int, str]]:
    """Each piece as a club's short name, "" for words in between, "to", or "?" and a word that is none."""
    gaps = iter([token.text for token in reducer().tokens(answer.text) if token.text in _GAP])
    said = {m.start: m for m in answer.having("club")}
    passed: set[int] = set()
    for at, piece in enumerate(answer.scene.pieces):
        if at in passed:
            continue
        if at in said:
            mention = said[at]
            passed |= set(range(mention.start, mention.end))
            yield at, str(mention.get("club"))
        elif piece.text == "CLUB":
            yield at, "aw" if piece.value == "gap wedge" and next(gaps, "") in _APPROACH else _club(piece)
        elif piece.quantity is not None:
            yield from ((at, word) for word in _numbered(piece))
        elif piece.text in _THROUGH:
            yield at, "to" if piece.text in ("to", "through") else ""
        else:
            yield at, "" if piece.text in grammar().plain else f"?{piece.text.lower()}"


def _club(piece: Piece) -> str:
    """The short name of a club that the grammar names."""
    if piece.quantity is not None and piece.value is not None:
        number = f"{piece.quantity.middle:g}"
        if piece.value == "{n}":
            return number
        return f"{number}i" if piece.value == "{n} iron" else f"?{piece.value.replace('{n}', number)}"
    value = str(piece.value)
    return value if value == "putter" else _LETTERS.get(value, f"?{value}")


def _numbered(piece: Piece) -> list[str]:
    """The clubs of a bare number: a loft, an iron, or irons said one after the other ("nine eight seven")."""
    assert piece.quantity is not None
    value, shown = piece.quantity.middle, f"{piece.quantity.middle:g}"
    if piece.quantity.unit not in (None, "degrees"):
        return [f"?{shown} {piece.quantity.unit}"]
    if value in _IRONS:
        return [f"{shown}i"]
    if value > _LOFTS[1] and set(shown) <= set("456789"):
        return [f"{digit}i" for digit in shown]
    return [shown] if _LOFTS[0] <= value <= _LOFTS[1] else [f"?{shown}"]


def _between(first: str, last: str) -> list[str]:
    """The irons between two ends of "seven iron to pitching wedge"."""
    ends = [10 if word == "pw" else int(word[0]) if word.endswith("i") else None for word in (first, last)]
    if ends[0] is None or ends[1] is None:
        return []
    low, high = sorted((ends[0], ends[1]))
    return [f"{number}i" for number in range(low + 1, high)]


@dataclass
class _Told:
    """Carries taken down word by word."""

    done: list[CarryAsSaid] = field(default_factory=list)
    club: str | None = None
    swing: str | None = None
    sand: bool = False
    said: list[str] = field(default_factory=list)
    by_number: bool = False
    last: str | None = None
    """The club of the carry before, for the next that names none."""

    def carry(self, length_m: float) -> None:
        """One carry is told."""
        club = self.club or self.last
        self.done.append(CarryAsSaid(" ".join(self.said), club, self.swing, length_m, self.sand))
        self.last, self.club, self.swing, self.sand, self.said = club, None, None, False, []

    def swung(self, swing: str, *, last: bool) -> None:
        """A swing is named: of the carry to come, or of the one before when it is the ``last`` word."""
        if last and self.done and not self.said and self.done[-1].swing is None:
            self.done[-1] = self.done[-1]._replace(swing=swing)
        else:
            self.swing = swing
            self.said.append(swing)

    def end(self, answer: Answer) -> None:
        """A pause: what has no carry yet was all that is told of it."""
        if self.club is not None and self.by_number and self.swing is not None and self.last is not None:
            # "56 half 45, full 60": a number after the swing, with nothing to follow, is the carry.
            number, self.club = float(self.club), None
            self.carry(answer.length_m(number))
        elif self.said:
            self.done.append(CarryAsSaid(" ".join(self.said), self.club, self.swing, None, self.sand))
        self.club, self.swing, self.sand, self.said = None, None, False, []


def read_carries(answer: Answer) -> Reply:
    """Club, swing and carry, one after the other; out of the sand where that is said.

    A carry without a swing is a full one's, which is left to the bag; a carry without a club goes on with the
    club before it.
    """
    if answer.whole("none") is not None:
        return Reply(heard=answer.text, yes=False)
    told = _Told()
    swings = {m.start: m for m in answer.having("swing")}
    sands = {at for m in answer.having("sand") for at in range(m.start, m.end)}
    passed: set[int] = set()
    pieces = answer.scene.pieces
    for at, piece in enumerate(pieces):
        if piece.after_break:
            told.end(answer)
        if at in passed:
            continue
        if at in swings:
            passed |= set(range(at, swings[at].end))
            told.swung(str(swings[at].get("swing")), last=_ends(pieces, swings[at].end))
        elif piece.text == "CLUB":
            if told.club is not None:
                told.end(answer)
            told.club, told.by_number = _club(piece).removeprefix("?"), False
            told.said.append(told.club)
        elif piece.quantity is not None:
            _number(told, piece, answer)
        elif at in sands:
            _sand(told, piece.text, pieces, at)
        elif piece.text not in grammar().plain and piece.text not in grammar().along:
            told.said.append(piece.text.lower())
    told.end(answer)
    return Reply(heard=answer.text, carries=tuple(told.done))


def _ends(pieces: list[Piece], at: int) -> bool:
    return at == len(pieces) or pieces[at].after_break or pieces[at].text in ("and", "CLUB")


def _number(told: _Told, piece: Piece, answer: Answer) -> None:
    assert piece.quantity is not None
    value, unit = piece.quantity.middle, piece.quantity.unit
    names = unit == "degrees" or (unit is None and (_LOFTS[0] <= value <= _LOFTS[1] or value in _IRONS))
    told.said.append(f"{value:g}")
    if told.club is None and names:
        told.club, told.by_number = (
            f"{value:g}" if value not in _IRONS else f"{value:g}i",
            told.swing is not None,
        )
    elif (told.club or told.last) is not None and piece.quantity.is_length:
        told.carry(piece.quantity.metres(answer.unit, answer.pace_m))


def _sand(told: _Told, text: str, pieces: list[Piece], at: int) -> None:
    """ "Bunker 56 full 22" and "56 full 22 from the bunker" are the same."""
    before = pieces[at - 1].text if at and not pieces[at].after_break else ""
    if before in _BACKWARD and told.done and not told.said:
        told.done[-1] = told.done[-1]._replace(sand=True)
    elif text not in _BACKWARD:
        told.sand = True


def read_handicap(answer: Answer) -> Reply:
    """A handicap, below zero when it is a plus."""
    alone = answer.value("handicap")
    if alone is not None:
        return Reply(heard=answer.text, handicap=float(alone))
    pieces = answer.scene.pieces
    numbers = [
        at
        for at, p in enumerate(pieces)
        if p.quantity is not None and (p.quantity.unit is None or p.quantity.unit in COUNTS)
    ]
    if len(numbers) != 1:
        return Reply(heard=answer.text)
    quantity = pieces[numbers[0]].quantity
    assert quantity is not None
    plus = "+" in answer.text or (numbers[0] > 0 and pieces[numbers[0] - 1].text == "plus")
    # A plus handicap is better than scratch, and the bag counts it below zero.
    return Reply(heard=answer.text, handicap=-quantity.middle if plus else quantity.middle)


def read_choice(answer: Answer, among: Mapping[str, Collection[str]]) -> Reply:
    """Some of the things named; ``unknown`` is the first word that names none of them, "none" chooses none."""
    if answer.whole("none") is not None and not any(name in ("none", "no") for name in among):
        return Reply(heard=answer.text, yes=False)
    pieces = answer.scene.pieces
    begun = [name for name in among if len(pieces) == 1 and name.lower().startswith(pieces[0].text)]
    if len(begun) == 1:
        return Reply(heard=answer.text, chosen=(begun[0],))
    chosen: dict[int, str] = {}
    passed: set[int] = set()
    for start, end, name in sorted(_named(answer, among), key=lambda each: (each[0] - each[1], each[0])):
        if passed.isdisjoint(range(start, end)):
            passed |= set(range(start, end))
            chosen[start] = name
    unknown = next(
        (
            piece.text.lower() if piece.quantity is None else f"{piece.quantity.middle:g}"
            for at, piece in enumerate(pieces)
            if at not in passed and piece.text not in grammar().plain
        ),
        None,
    )
    if unknown is not None:
        return Reply(heard=answer.text, unknown=unknown)
    named = [chosen[at] for at in sorted(chosen) if chosen[at]]
    return Reply(heard=answer.text, chosen=tuple(dict.fromkeys(named)))


def _named(answer: Answer, among: Mapping[str, Collection[str]]) -> Iterator[tuple[int, int, str]]:
    """Where each thing is named; words that may stand beside name nothing."""
    for mention in (*answer.facts, *answer.scene.results, *answer.scene.facts):
        for reading in mention.readings:
            for key in _MEANINGS:
                if (value := str(reading.get(key, "?"))) in among or (key == "named" and value == ""):
                    yield mention.start, mention.end, value
    texts = [piece.text for piece in answer.scene.pieces]
    reduce = reducer()
    for name, ways in among.items():
        for way in (name, *ways):
            wanted = [piece.text for piece in reduce.pieces(reduce.tokens(way))]
            for at in range(len(texts) - len(wanted) + 1):
                if wanted and texts[at : at + len(wanted)] == wanted:
                    yield at, at + len(wanted), name
