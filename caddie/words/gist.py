"""What a question or wish comes to when it is said in none of the ways the grammar writes out.

A gist is the few words that tell one saying from the others, in order, with any words between them; what else is
said must be plain English, so that talk of other things has none.
"""

from collections.abc import Callable, Collection, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from typing import NamedTuple, TypeVar

from caddie.situation import Result, Situation, Strike
from caddie.words.facts import Intent, Understanding
from caddie.words.grammar import grammar
from caddie.words.kept import kept_index
from caddie.words.lexicon import known_words
from caddie.words.matching import MOST_BETWEEN
from caddie.words.numbers import NUMBER_WORDS, is_number
from caddie.words.reduction import reducer
from caddie.words.sayings import (
    TROUBLE_NAMED,
    bare,
    begins,
    clauses,
    compared,
    first_words,
    needed_words,
    part_named,
    said_in,
    saying_of,
    saying_words,
    sayings_of,
    says,
    template,
)
from caddie.words.talk_files import gist_data, glossary_data, turn_data
from caddie.words.templates import GAP, Node, reached
from caddie.words.within_measure import within_a_measure

_GIVES_WAY = (Intent.OUT_OF_SCOPE, Intent.WHAT_IF, Intent.RESULT)
"""Readings that a saying's own intent takes the place of."""
_BEST = "best"
_CLUB = "club"
_MEANING = "meaning"
_EDGES = ("_lead", "_end")
"""Ends of the names of words that only lead into something, or follow it."""
_TAKES_OUT = "undo_lead"
_READY = "ready"
MOST_NAMED = 3
"""A word of the game that is asked about is no longer than this."""
LONGEST_GIST = 10
MOST_WORDS = 32
"""A longer utterance is a tale, whose words mean something else."""
WORDS_A_STRANGE_ONE = 2
"""For each word that no grammar file knows so many words of the gist must be found."""


class Strength(NamedTuple):
    """How surely the words are a gist; of two the greater is the more specific."""

    own: int
    """How many of the words are its own."""
    slots: int = 0
    """How many things of a kind are named in it, such as a club or trouble."""


class Found(NamedTuple):
    """Where a gist ends, which words are its own, and how many slots were filled on the way."""

    end: int
    own: frozenset[int]
    slots: int = 0


def with_asks(heard: Understanding) -> Understanding:
    """What was heard, with what it asks, and with the intent that this has when the words alone gave none."""
    if asks_meaning(heard.heard):
        return Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE, asks=(_MEANING,))
    if heard.intent is Intent.RESULT and begins(bare(heard.heard), _TAKES_OUT):
        # "Scratch the clean strike": what was written is named, and no other shot told.
        return Understanding(heard=heard.heard, intent=Intent.UNDO, asks=("undo",))
    if _is_about_to(heard):
        return Understanding(heard=heard.heard, intent=Intent.READY, asks=(_READY,))
    said = tuple(name for name in sayings_of(heard.heard) if not name.endswith(_EDGES))
    asks = said or _hinted(heard) or _asked_first(heard)
    if _asks_of_a_result(heard):
        return Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE, asks=gists_of(heard.heard))
    if not asks:
        return heard
    intent = intent_of(asks[0]) if heard.intent in _GIVES_WAY else None
    return heard.model_copy(update={"asks": asks, "intent": intent or heard.intent})


def _is_about_to(heard: Understanding) -> bool:
    """ "I like that. Hit it": no strike is told, but that it will be hit now."""
    last = clauses(heard.heard)[-1:]
    return (
        heard.intent is Intent.RESULT
        and heard.result == Result(strike=Strike.CLEAN)
        and any(says(clause, _READY) for clause in last)
    )


def _asks_of_a_result(heard: Understanding) -> bool:
    """ "What's that, up and down or not?", "... or die it in the hole?": a result asked about, and none told."""
    told = heard.result is not None and heard.result.distance_m is not None
    if heard.intent is not Intent.RESULT or told or not heard.heard.rstrip().endswith("?"):
        return False
    words = compared(heard.heard)
    return is_question(heard.heard.rstrip(" ?")) or words[-2:] == _OR_NOT or words[:1] == _OR_NOT[:1]


_OR_NOT = ("or", "not")


def intent_of(saying: str) -> Intent | None:
    """The intent that a saying has, when it has one."""
    said = gist_data()["intent_of"].get(saying)
    return Intent(said) if said else None


def is_question(text: str) -> bool:
    """Whether something is asked: a question mark at the end, or a question word at the beginning.

    >>> is_question("how firm should my stroke be"), is_question("soft green, flag back")
    (True, False)
    """
    first = compared(bare(text))[:2]
    return text.rstrip().endswith("?") or (
        bool(first) and first[0] in _question_words() and "not" not in first
    )


def asks_in_part(text: str) -> bool:
    """Whether the whole, or a clause of it, asks."""
    return any(map(is_question, (text, *clauses(text))))


@cache
def _question_words() -> frozenset[str]:
    return frozenset(gist_data()["question"]["begins"].split())


def quotes(text: str) -> bool:
    """Whether the caddie's own words are said back: "you said aim seven left"."""
    words = " ".join(compared(text))
    return any(each in words for each in gist_data()["question"]["quotes"])


def supposes(text: str) -> bool:
    """Whether circumstances are supposed: "what if the wind drops"."""
    return not set(gist_data()["question"]["supposes"].split()).isdisjoint(compared(text))


def asks_meaning(text: str) -> bool:
    """Whether the meaning of a word is asked, and nothing of a shot told by it.

    >>> asks_meaning("what does it mean, short sided"), asks_meaning("what does that mean for the club")
    (True, False)
    """
    words = compared(bare(text))
    data = gist_data()["meaning_asked"]
    if not words or words[0] not in data["begins"] or not set(words) & set(data["mean"]):
        return False
    at = next(at for at, word in enumerate(words) if word in data["mean"])
    named = frozenset(words[1:at]) - frozenset(data["names_nothing"])
    if names_a_term(words[1:at]) and words[at + 1 : at + 2] != ("for",):
        return True
    if named and at + 1 == len(words):
        return _MEANING in gists_of(text) or len(named) <= MOST_NAMED
    return _MEANING in gists_of(text) and (bool(named) or "for" not in words[at + 1 : at + 2])


def word_asked_about(text: str) -> str:
    """What the meaning is asked of, in the words before "mean"; the whole where nothing is named there."""
    words = compared(bare(text))
    at = next((at for at, word in enumerate(words) if word in gist_data()["meaning_asked"]["mean"]), 0)
    return " ".join(words[:at]) if names_a_term(words[:at]) else text


def names_a_term(words: Sequence[str]) -> bool:
    """Whether one of the words of the game is named."""
    said = f" {' '.join(words)} "
    return any(f" {each} " in said for term in glossary_data() for each in term["said"])


def _asked_first(heard: Understanding) -> tuple[str, ...]:
    """ "Another option, something with less water": the wish of the first clause, and what it is more than that."""
    first = heard.heard.partition(",")[0]
    if heard.intent is not Intent.WHAT_IF or heard.situation.pin_m is not None or first == heard.heard:
        return ()
    wishes = turn_data()["wishes"]
    if saying_of(first, wishes) is None:
        return ()
    hinted = [name for name in gists_of(heard.heard) if name in wishes]
    return (min(hinted, key=wishes.index),) if hinted else ()


def _hinted(heard: Understanding) -> tuple[str, ...]:
    """What the words hint at, when the words understood leave room for it."""
    if heard.intent is Intent.OUT_OF_SCOPE:
        return gists_of(heard.heard)
    outranking = gist_data()["over"].get(heard.intent.value, ())
    if heard.intent in (Intent.SITUATION, Intent.PUTT):
        outranking = gist_data()["over"]["situation"]
        if heard.situation.pin_m is not None or not is_question(heard.heard):
            return ()
        return tuple(name for name in gists_of(heard.heard)[:1] if name in outranking)
    if heard.intent is Intent.WHAT_IF and heard.situation.pin_m is None and not heard.club:
        of_facts = tuple(name for name in gists_of(heard.heard)[:1] if name in gist_data()["over"]["facts"])
        if of_facts:
            return of_facts
    if not outranking or heard.situation != Situation():
        return ()
    found = gists_of(heard.heard)
    names_a_shot = heard.club or heard.swing or heard.family or heard.flight
    if heard.intent is Intent.WHAT_IF and not names_a_shot:
        return found
    told = heard.result
    if told is not None and (told.distance_m is not None or (told.strike and not is_question(heard.heard))):
        return ()
    if (heard.family or heard.club) and found[:1] == (_BEST,):
        # "What club for a chip and run?", "what would the nine iron do?" are answered by that shot.
        return ()
    if heard.club and heard.face and found[:1] == (_MEANING,):
        return ()  # "Lob wedge, face open, what's the swing": of that shot.
    return found if found and found[0] in outranking else ()


@lru_cache(maxsize=2048)
def gists_of(text: str) -> tuple[str, ...]:
    """The sayings that the words of ``text`` hint at, the likeliest first.

    >>> gists_of("which part of the green should I be aiming at")[0]
    'aim'
    >>> gists_of("which part of the country is your wife from")
    ()
    """
    words = compared(text)
    if not words or len(words) > MOST_WORDS:
        return ()
    found = _strengths(words)
    if not found:
        return _by_keyword(words)
    order = {name: at for at, name in enumerate(gist_data()["gist"])}
    return tuple(sorted(found, key=lambda name: (-found[name].own, -found[name].slots, order[name])))


def gist_strength(text: str, without: Collection[str]) -> int:
    """How many words of ``text`` are those of its likeliest gist that is none of ``without``; 0 where it has none."""
    found = _strengths(compared(text))
    return max((strength.own for name, strength in found.items() if name not in without), default=0)


@lru_cache(maxsize=2048)
def _strengths(words: tuple[str, ...]) -> dict[str, Strength]:
    """Every gist of the words, and how surely they are it."""
    return strengths(_index(), words, _unless)


@dataclass(frozen=True)
class GistWay:
    """One way a gist is written."""

    written: str

    @cached_property
    def node(self) -> Node:
        """The template, read when something that was said begins like it."""
        return template(self.written)

    @cached_property
    def needed(self) -> tuple[frozenset[str], ...]:
        """Of each of these sets at least one word is said wherever it is found, in this order."""
        return tuple(words for words in needed_words(self.node) if GAP not in words)


K = TypeVar("K", bound=Hashable)
WaysByWord = dict[str, list[tuple[K, GistWay]]]


def by_first_word(kept_as: str, written: Iterable[tuple[K, str]]) -> WaysByWord[K]:
    """Ways as they are written, each with what it tells, by the words it may begin with.

    Args:
        kept_as: the name under which their first words are kept.
        written: what each tells, and how it is written.
    """
    ways = [(told, GistWay(each)) for told, each in written]
    index = kept_index(kept_as, [way.written for _, way in ways], first_words)
    return {word: [ways[number] for number in numbers] for word, numbers in index.items()}


def strengths(
    index: WaysByWord[K],
    words: tuple[str, ...],
    unless: Callable[[K], frozenset[str]] = lambda _: frozenset(),
) -> dict[K, Strength]:
    """What the ways found in the words tell, and how surely at the most; none with an ``unless``."""
    found: dict[K, Strength] = {}
    for start in range(len(words)):
        for told, way in index.get(words[start], ()):
            if not unless(told).isdisjoint(words):
                continue
            for strength in found_at(way, words, start):
                found[told] = max(found.get(told, strength), strength)
    return found


def found_at(way: GistWay, words: tuple[str, ...], start: int) -> Iterator[Strength]:
    """How surely the words are the gist, for each way it is found from ``start`` on among plain English."""
    found = _found_from(way, words, start)
    return (Strength(len(each.own), each.slots) for each in found if _is_plain(words, each.own))


def own_words(way: GistWay, words: tuple[str, ...], start: int) -> Iterator[frozenset[int]]:
    """Which words are the gist's own, for each way it is found from ``start`` on."""
    return (found.own for found in _found_from(way, words, start))


def _found_from(way: GistWay, words: tuple[str, ...], start: int) -> Iterator[Found]:
    at = start
    for said in way.needed:
        at = next((place for place in range(at, len(words)) if words[place] in said), len(words)) + 1
        if at > len(words):
            return
    if said_in(words).ends(way.node, start):
        yield from _ends(way.node, words, start)


def _by_keyword(words: tuple[str, ...]) -> tuple[str, ...]:
    """What a few words ask by one of them alone."""
    if len(words) > LONGEST_GIST or any(is_number(word) and word != "one" for word in words):
        return ()
    kept = (at for at, word in enumerate(words) if word in _keywords())
    return next(((_keywords()[words[at]],) for at in kept if _is_plain(words, frozenset({at}))), ())


@cache
def _keywords() -> dict[str, str]:
    return {word: name for name, said in gist_data()["keyword"].items() for word in said.split()}


def _is_plain(words: tuple[str, ...], own: frozenset[int]) -> bool:
    """Whether what is said beside the gist is plain English."""
    rest = [word for at, word in enumerate(words) if at not in own]
    of_the_ball = gist_data()["of_the_ball"]["say"]
    if any(word in grammar().elsewhere and word not in of_the_ball for word in rest):
        return False
    strange = sum(not is_plain_word(word) for word in rest)
    return strange * WORDS_A_STRANGE_ONE <= len(own) and (not strange or len(own) > 1)


def is_plain_word(word: str) -> bool:
    """Whether a word is one that some grammar file knows, or a number."""
    return word in _plain_words() or word.isdigit()


@cache
def _plain_words() -> frozenset[str]:
    return known_words() | saying_words() | frozenset(NUMBER_WORDS)


def _ends(node: Node, words: tuple[str, ...], start: int) -> Iterator[Found]:
    """Where a gist may end that begins at ``start``, with the words that are its own."""

    def word(text: str, found: Found) -> Iterator[Found]:
        at, own, slots = found
        if text == GAP:
            yield from (Found(end, own, slots) for end in range(at, min(at + MOST_BETWEEN, len(words)) + 1))
        elif at < len(words) and words[at] == text:
            yield Found(at + 1, own | {at}, slots)

    def slot(name: str, found: Found) -> Iterator[Found]:
        if name == TROUBLE_NAMED and names_a_club(words, found.end):
            return
        for inner in reached(part_named(name), found, word, slot):
            if name != _CLUB or not within_a_measure(words, inner.end):
                yield inner._replace(slots=found.slots + 1)

    return reached(node, Found(start, frozenset()), word, slot)


def names_a_club(words: tuple[str, ...], at: int) -> bool:
    """Whether a word that may be trouble is a club by the number before it: "five wood"."""
    named = reducer().noun_phrases.get(("#", words[at])) if 0 < at < len(words) else None
    return named is not None and named.text == _CLUB.upper() and is_number(words[at - 1])


@cache
def _index() -> WaysByWord[str]:
    """Every gist by the words it may begin with."""
    told = ((name, each) for name, written in gist_data()["gist"].items() for each in written)
    return by_first_word("gists", told)


@cache
def _unless(name: str) -> frozenset[str]:
    return frozenset(gist_data()["unless"].get(name, ()))
