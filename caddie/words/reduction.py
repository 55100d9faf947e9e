"""An utterance, or a template, reduced to pieces: quantities, nouns by name, nothing that carries no fact.

Both go the same way, so that what a template says is found however it is spelled.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache, lru_cache
from typing import Generic, TypeVar

from caddie.words.grammar import BEFORE_NUMBER, NUMBER_SLOTS, Grammar, grammar
from caddie.words.kept import kept
from caddie.words.numbers import DIGITS, NUMBER_WORDS, TENS, is_figure
from caddie.words.quantities import Piece, Quantity, gather
from caddie.words.spelling import Token, tokens
from caddie.words.strengths import toned_down
from caddie.words.templates import Choice, Node, Slot, Word, expansions, parse
from caddie.words.templates import Sequence as Parts

T = TypeVar("T")

HESITATION = "hesitation"
"""What stands for "er" or "well" between two pauses."""
_THINKING = frozenset({"um", "uh", "er", "erm", "hmm", "mm", "ah", "umm", "err", "hm"})
_SIGHS = frozenset({"aw", "ah", "oh"})
"""Before all else and a pause they say nothing: "aw, thinned it"; "aw" may be a wedge written short."""
_AFTER_MEASURE = frozenset(
    {"away", "out", "off", "from", "past", "short", "ahead", "front", "edge", "fringe", "to"}
)
"""What follows a length: "hole 7 away" is seven yards."""


_BEFORE_MEASURE = frozenset({"over", "under"})
"""What leads to another length: "a couple under fifty" is no score."""


LIKENS = frozenset({"plays", "playing", "play", "played", "feels", "feel", "felt", "more", "looks"})
"""Before "like" they tell what a number is: "plays like 65"; elsewhere "like" is passed over."""


class Phrases(Generic[T]):
    """Phrases of plain words, found longest first."""

    def __init__(self, phrases: Mapping[tuple[str, ...], T]) -> None:
        self._values = {phrase: value for phrase, value in phrases.items() if phrase}
        lengths: dict[str, set[int]] = {}
        for phrase in self._values:
            lengths.setdefault(phrase[0], set()).add(len(phrase))
        self._lengths = {first: sorted(found, reverse=True) for first, found in lengths.items()}

    def at(self, words: Sequence[str], at: int, end: int | None = None) -> tuple[int, T] | None:
        """Length and value of the longest phrase that begins at ``words[at]`` and goes no further than ``end``."""
        for length in self._lengths.get(words[at], ()):
            if end is not None and at + length > end:
                continue
            phrase = tuple(words[at : at + length])
            if phrase in self._values:
                return len(phrase), self._values[phrase]
        return None

    def begins(self, word: str) -> bool:
        """Whether any phrase begins with a word; quick."""
        return word in self._lengths

    def any_in(self, words: Sequence[str]) -> bool:
        """Whether any phrase might be among the words; quick."""
        return not self._lengths.keys().isdisjoint(words)


class Reducer:
    """Reduces texts and templates by one grammar."""

    def __init__(self, words: Grammar, said: "Reduced | None" = None) -> None:
        fillers, nouns, names = said or ({}, {}, {})
        self._words = words
        self._spellings = Phrases(words.spellings)
        self._one_word = Phrases({said: names for said, names in words.spellings.items() if len(said) == 1})
        """For templates: they have lost their articles, so that words stand side by side that are not said so."""
        self._joins = Phrases(words.joins)
        self._fillers = Phrases({tuple(said.split(" ")): roughly for said, roughly in fillers.items()})
        self.noun_phrases = {
            tuple(said.split(" ")): Piece(name, value=value) for said, (name, value) in nouns.items()
        }
        """Every noun by the words that name it."""
        self._nouns = Phrases(self.noun_phrases)
        self._named = Phrases({tuple(said.split(" ")): name for said, name in names.items()})

    def tokens(self, text: str) -> list[Token]:
        """Plain words, spoken spellings put right and split ones such as "fair way" put together."""
        plain = toned_down(_put_right(tokens(text), self._spellings, across=False), self._words)
        return _put_right(plain, self._joins, across=True)

    def pieces(self, said: Sequence[Token], *, fillers: bool = False, names: bool = True) -> list[Piece]:
        """Tokens to pieces.

        Args:
            said: the tokens.
            fillers: keep phrases that are passed over.
            names: let a number be a name, such as "hole 7" or "off twelve"; not where a number was asked for.
        """
        kept: list[Piece] = []
        pause = False
        gathered = gather(steadied(said), self._words.units)
        for piece in self._numbers_named(gathered) if names else gathered:
            pause = pause or piece.after_break
            if piece.quantity is not None or piece.text not in self._words.skip:
                kept.append(replace(piece, after_break=pause))
                pause = False
        joined = self._rejoined(kept)
        return self._noun_names(joined if fillers else self._without_fillers(joined))

    def _numbers_named(self, pieces: list[Piece]) -> list[Piece]:
        """Numbers that are a name, such as "hole 7", put under it: they measure nothing."""
        kept: list[Piece] = []
        for first, length, name in _matches(pieces, self._named):
            phrase = pieces[first : first + length]
            rest = iter(pieces[first + length :])
            after = [piece for piece in rest if piece.text not in self._words.articles][:1]
            if name is None or not _names(phrase, after, most=name[1]):
                kept += phrase
            else:
                kept.append(Piece(name[0], phrase[0].after_break, said=_said(phrase)))
        return kept

    def _rejoined(self, pieces: list[Piece]) -> list[Piece]:
        """Spellings that stand together only once the words between are passed over: "up the hill"."""
        kept: list[Piece] = []
        for first, _, names in _matches(pieces, self._joins):
            if names is None:
                kept.append(pieces[first])
            else:
                plain = [name for name in names if name not in self._words.skip]
                kept += [
                    Piece(name, pieces[first].after_break and i == 0, said=name)
                    for i, name in enumerate(plain)
                ]
        return kept

    def _without_fillers(self, pieces: list[Piece]) -> list[Piece]:
        kept: list[Piece] = []
        pause = False
        for first, length, roughly in _matches(pieces, self._fillers):
            # "58 or so" is about 58, "58 or 54" is two numbers.
            following = pieces[first + length].quantity if first + length < len(pieces) else None
            if pieces[first + length - 1].text == "or" and following is not None:
                roughly = None
            if roughly is not None and self._joins_numbers(pieces, first, length):
                roughly = None
            if roughly is not None and kept and pieces[first].text == "like" and kept[-1].text in LIKENS:
                roughly = None
            pause = pause or pieces[first].after_break
            for piece in pieces[first : first + length]:
                if roughly is not None and piece.quantity is None:
                    continue
                if roughly and piece.quantity is not None:
                    piece = replace(piece, quantity=replace(piece.quantity, approximate=True))
                kept.append(replace(piece, after_break=pause))
                pause = False
        return kept

    def _joins_numbers(self, pieces: Sequence[Piece], first: int, length: int) -> bool:
        """Whether words that may be passed over stand between two numbers of one length: "five short of seventy"."""
        words = " ".join(piece.text for piece in pieces[first : first + length] if piece.quantity is None)
        led = first > 0 and pieces[first - 1].quantity is not None and not pieces[first].after_break
        return led and words in self._words.joints

    def _noun_names(self, pieces: list[Piece]) -> list[Piece]:
        kept: list[Piece] = []
        for first, length, noun in _matches(pieces, self._nouns):
            if noun is None:
                kept.append(pieces[first])
                continue
            numbers = [p.quantity for p in pieces[first : first + length] if p.quantity is not None]
            after = [piece.text for piece in pieces[first + length : first + length + 1]]
            if not _may_stand(noun, after):
                kept += pieces[first : first + length]
                continue
            if numbers and not _numbers_a_club(noun, numbers[0]):
                kept += pieces[first : first + length]
                continue
            number = numbers[0] if numbers else None
            phrase = pieces[first : first + length]
            kept.append(Piece(noun.text, phrase[0].after_break, number, noun.value, _said(phrase)))
        return kept

    def patterns(self, node: Node, *, whole: bool = False) -> Iterator[list[str]]:
        """Every way to say a template, as the texts of the pieces that an utterance is reduced to.

        What loses a word that is passed over says more than is left of it, so it is left out, unless it has
        to be a ``whole`` utterance.
        """
        for expansion in dict.fromkeys(expansions(without_articles(node, self._words.articles))):
            said = self._reduced(list(expansion), whole=whole)
            if said is None:
                continue
            yield [_slot_text(part[1:-1]) if part.startswith("{") else part for part in said]

    def _reduced(self, said: list[str], *, whole: bool) -> list[str] | None:
        """Words of a template reduced; ``None`` if any were passed over that have to be there."""
        skip = self._words.skip
        apart = _swapped(said, self._one_word)
        said = _swapped(apart, self._joins)
        if not NUMBER_WORDS.isdisjoint(said):
            said = [piece.text for piece in gather([Token(word) for word in said], self._words.units)]
        if not skip.isdisjoint(said):
            if not whole:
                return None
            said = [word for word in said if word not in skip]
        if said != apart:
            said = [word for word in _swapped(said, self._joins) if word not in skip]
        return _swapped(said, self._nouns)


Reduced = tuple[dict[str, bool], dict[str, tuple[str, str | None]], dict[str, tuple[str, float]]]
"""Ways to say them, their pieces joined by blanks: fillers, nouns with their values, names that take a number."""


def reduced(words: Grammar) -> Reduced:
    """The fillers and nouns of a grammar as a reducer looks for them."""
    bare = Reducer(words)
    fillers = {
        " ".join(pattern): roughly
        for template, roughly in words.fillers.items()
        for pattern in bare.patterns(parse(template), whole=True)
        if pattern != ["#"]
    }
    nouns = {
        " ".join(pattern): (noun.name.upper(), noun.value)
        for noun in words.nouns
        if noun.names_to is None
        for node in (*noun.say, *noun.typed)
        for pattern in bare.patterns(node)
    }
    names = {
        " ".join(_as_gathered(said, words)): (noun.name.upper(), noun.names_to)
        for noun in words.nouns
        if noun.names_to is not None
        for node in (*noun.say, *noun.typed)
        for said in expansions(node)
    }
    return fillers, nouns, names


def _as_gathered(said: Sequence[str], words: Grammar) -> list[str]:
    """A way to say a name that takes a number, as an utterance is once its numbers are gathered."""
    return [
        piece.text for piece in gather([Token("#" if w.startswith("{") else w) for w in said], words.units)
    ]


def _names(phrase: Sequence[Piece], after: Sequence[Piece], *, most: float) -> bool:
    """Whether the numbers of a phrase name something: whole, small enough, and nothing measured follows."""
    numbers = [piece.quantity for piece in phrase if piece.quantity is not None]
    if any(n.unit is not None or n.low != n.high or n.low % 1 or not 0 <= n.low <= most for n in numbers):
        return False
    if not after or after[0].after_break:
        return True
    goes_on = phrase[-1].text in _BEFORE_MEASURE and after[0].quantity is not None
    return not goes_on and after[0].text not in _AFTER_MEASURE


def _said(pieces: Sequence[Piece]) -> str:
    return " ".join(piece.said for piece in pieces if piece.said)


def steadied(said: Sequence[Token]) -> list[Token]:
    """An utterance without the sounds of thinking; one between two pauses may take something back."""
    kept: list[Token] = []
    pause = False
    for at, token in enumerate(said):
        following = said[at + 1] if at + 1 < len(said) else None
        pause = pause or token.after_break
        if token.text in _THINKING:
            apart = pause and following is not None and following.after_break
            if kept and following is not None and (apart or _before_another(kept[-1].text, following.text)):
                kept.append(Token(HESITATION, True))
            continue
        begins = following is not None and (following.after_break or is_figure(following.text))
        if token.text in _SIGHS and not kept and following is not None and following.after_break:
            pause = True
            continue
        if token.text == "well" and kept and pause and begins:
            kept.append(Token(HESITATION, True))
            continue
        kept.append(Token(token.text, pause))
        pause = False
    return kept


def _before_another(before: str, after: str) -> bool:
    """Whether a sound of thinking stands before another number; "sixty er five" is one."""
    return is_figure(after) and not (before in TENS and after in DIGITS)


def _numbers_a_club(noun: Piece, number: Quantity) -> bool:
    """ "9 i" is an iron, "forty-three yards I paced" is not."""
    if noun.text != "CLUB":
        return True
    return number.unit in (None, "degrees") and (number.low < 15 or noun.value == "{n}")


def _matches(pieces: Sequence[Piece], phrases: Phrases[T]) -> Iterator[tuple[int, int, T | None]]:
    """Where each step begins, its length and the phrase's value; no phrase goes across a comma."""
    texts = [piece.text for piece in pieces]
    at = 0
    while at < len(texts):
        found = phrases.at(texts, at)
        if found is not None and any(piece.after_break for piece in pieces[at + 1 : at + found[0]]):
            pause = next(i for i in range(at + 1, len(pieces)) if pieces[i].after_break)
            found = phrases.at(texts, at, pause)
        if found is None:
            yield at, 1, None
            at += 1
        else:
            yield at, found[0], found[1]
            at += found[0]


def _put_right(said: Sequence[Token], spellings: Phrases[tuple[str, ...]], *, across: bool) -> list[Token]:
    """Tokens with each spelling replaced, one with a pause in it only if it may go ``across`` pauses."""
    texts = [token.text for token in said]
    kept: list[Token] = []
    pause = False
    at = 0
    while at < len(texts):
        length, names = spellings.at(texts, at) or (1, (texts[at],))
        if not across and any(token.after_break for token in said[at + 1 : at + length]):
            length, names = 1, (texts[at],)
        pause = pause or said[at].after_break
        for index, name in enumerate(names):
            kept.append(Token(name, pause and index == 0))
        pause = pause and not names
        at += length
    return kept


def _swapped(said: list[str], phrases: Phrases[tuple[str, ...]] | Phrases[Piece]) -> list[str]:
    if not phrases.any_in(said):
        return said
    kept: list[str] = []
    at = 0
    while at < len(said):
        found = phrases.at(said, at) if phrases.begins(said[at]) else None
        if found is None or not _may_stand(found[1], said[at + found[0] : at + found[0] + 1]):
            kept.append(said[at])
            at += 1
        else:
            length, value = found
            kept += [value.text] if isinstance(value, Piece) else value
            at += length
    return kept


def _may_stand(noun: Piece | tuple[str, ...], after: Sequence[str]) -> bool:
    """Whether what comes after lets a phrase be its noun."""
    if not isinstance(noun, Piece) or noun.value != BEFORE_NUMBER:
        return True
    return bool(after) and (after[0] == "#" or after[0][1:-1] in NUMBER_SLOTS)


def _slot_text(name: str) -> str:
    return "#" if name in NUMBER_SLOTS else name.upper()


def without_articles(node: Node, articles: frozenset[str]) -> Node:
    """A template in plain spelling without articles."""
    match node:
        case Word(text):
            kept = [Word(part) for part in spelled(text) if part not in articles]
            return kept[0] if len(kept) == 1 else Parts(tuple(kept))
        case Slot():
            return node
        case Choice(options):
            return Choice(tuple(dict.fromkeys(without_articles(option, articles) for option in options)))
        case Parts(parts):
            return Parts(tuple(without_articles(part, articles) for part in parts))


@cache
def spelled(word: str) -> tuple[str, ...]:
    """A template's word in plain spelling."""
    return tuple(token.text for token in tokens(word))


@lru_cache(maxsize=1)
def reducer() -> Reducer:
    """The reducer of the shipped grammar."""
    words = grammar()
    return Reducer(words, kept("phrases", lambda: reduced(words)))


def plain_english(text: str) -> str:
    """A text with the spellings of dialect and haste put right, without its pauses.

    >>> plain_english("whaur dae I land it?")
    'where do i land it'
    """
    return " ".join(token.text for token in reducer().tokens(text))
