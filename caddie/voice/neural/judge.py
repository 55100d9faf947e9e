"""What may have been said, from the search and from another ear, and which of it to take.

The network scores all of it: its log chance of the sound for the words as it would best write them, the language's
share and the bonus a word. Numbers count as written in figures too, which the search never does: so looked at again,
the first three of the search gave 37 first numbers of 40 in noise where the first alone gave 34. The other ear's words
win, all of them or only where they differ, when they score higher, or lower by no more than that ear's own confidence
is worth. Confidence falls with noise, which the other ear bears badly, so no noise need be measured: in the clear
look-alike numbers ("fifteen", "fifty") come out right that the network confuses, and much of what robotic voices say.
"""

import difflib
import itertools
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace

from caddie.voice.ears import HeardWord
from caddie.voice.neural.language import Language
from caddie.voice.neural.network import Array, Memory, Network
from caddie.voice.neural.ngrams import Words
from caddie.voice.neural.search import score_of
from caddie.voice.neural.writing import numbers_in, writings

LOOKED_AT_AGAIN = 3
"""Of the search's hypotheses; six did no better."""
CONFIDENCE_WORTH = 8.0
"""What full confidence of the other ear in all of its words is worth [nat]."""
WORD_WORTH = 5.0
"""What its full confidence in one word is worth that is put among the network's [nat].

On 250 sentences kept for tuning, of six voices in the clear and in noise, 78 % of the first numbers and 66 % of the
facts came out right, 75 and 63 % without it; 8 and 10, 5 to 8, a least confidence of 0.2 or 0.4 came to within a point.
"""
PLACES_WEIGHED, PLACES_AT_ONCE = 5, 2
"""Places where the two ears differ that are looked at, and so many together; all combinations did no better."""
WHOLE_WORTH = 3.0
"""What it is worth to be an answer that is expected, word for word [nat]."""

SURE_SOUND = -0.3
"""Mean log chance of a token of the sound from which on the network is sure [nat]."""
TOO_FEW_TO_BE_SURE = 3
"""So many words are never sure."""

_WORDS_BEFORE = 3
"""An address word is looked for among so many words at the start."""


@dataclass(frozen=True)
class Candidate:
    """Words that may have been said."""

    words: Words
    score: float
    """What candidates are compared by [nat]."""
    sound: float
    """Mean log chance of a token of their sound, as the network would best write them [nat]."""
    chances: Array = field(compare=False)
    """Log chance of each token of the words as they were heard, numbers in words, shape (tokens,) [nat]."""


class Judge:
    """Scores what may have been said in one stretch of sound."""

    def __init__(
        self, network: Network, memory: Memory, language: Language, answers: Collection[str] = ()
    ) -> None:
        """Prepare it.

        Args:
            network: what heard.
            memory: what it remembers of the sound.
            language: what is expected.
            answers: what would answer a question just asked.
        """
        self._network, self._memory, self._language, self._answers = network, memory, language, answers

    def is_answer(self, words: Words) -> bool:
        """Whether the words are an expected answer."""
        return " ".join(words) in self._answers

    def scored(self, several: Sequence[Words]) -> list[Candidate]:
        """Each of these words with its score, in the same order."""
        written = [[self._network.tokens.split(text) for text in writings(words)] for words in several]
        rows = [tokens for ways in written for tokens in ways]
        if not rows:
            return []
        told = iter(self._network.chances_of_each(self._memory, rows))
        return [
            self._candidate(words, [next(told) for _ in ways])
            for words, ways in zip(several, written, strict=True)
        ]

    def _candidate(self, words: Words, told: list[tuple[Array, Array]]) -> Candidate:
        """The words by the likeliest way to write them; the full stop at the end may be there or not."""
        sums = [
            (float(tokens[:size].sum() + ends[size]), size + 1)
            for tokens, ends in told
            for size in (tokens.size, tokens.size - 1)
        ]
        score = score_of(max(sums)[0], self._language.sentence(words), len(words))
        score += WHOLE_WORTH * self.is_answer(words)
        return Candidate(words, score, max(total / count for total, count in sums), told[0][0])


def judged(judge: Judge, own: Sequence[Words]) -> list[Candidate]:
    """What the search found, the likeliest first; that nothing was said is for other judges than these chances.

    A whole sentence in a strange voice is less likely than no word, though the network knows each of its sounds.

    Args:
        judge: scores it.
        own: hypotheses of the search, the likeliest first.
    """
    own = [words for words in own if words]
    answers = [words for words in own[LOOKED_AT_AGAIN:] if judge.is_answer(words)][:LOOKED_AT_AGAIN]
    return _likeliest_first(judge.scored(list(dict.fromkeys([*own[:LOOKED_AT_AGAIN], *answers]))))


def is_sure(candidates: Sequence[Candidate], so_far: Words) -> bool:
    """Whether another ear need not be asked: it changes little where the sound is sure and the numbers agree.

    Args:
        candidates: what the search found, the likeliest first.
        so_far: what an ear that costs nothing more made of the same, as a word or two are never sure.
    """
    return (
        bool(candidates)
        and candidates[0].sound >= SURE_SOUND
        and len(candidates[0].words) > TOO_FEW_TO_BE_SURE
        and numbers_in(candidates[0].words) == numbers_in(so_far)
    )


def with_other(judge: Judge, candidates: Sequence[Candidate], other: Sequence[HeardWord]) -> list[Candidate]:
    """The same with another ear's words among them, whole and where they differ from the likeliest.

    Args:
        judge: scores them.
        candidates: what the search found, the likeliest first.
        other: the other ear's words with its confidence in each, 0 to 1.
    """
    if not other:
        return list(candidates)
    worth = _mixed(candidates[0].words, other) if candidates else {}
    whole = tuple(word.text for word in other)
    worth[whole] = CONFIDENCE_WORTH * sum(word.confidence for word in other) / len(other)
    said = [replace(one, score=one.score + worth[one.words]) for one in judge.scored(list(worth))]
    rest = [one for one in candidates if one.words not in worth]
    return _likeliest_first([*rest, *said])


def _mixed(own: Words, other: Sequence[HeardWord]) -> dict[Words, float]:
    """The likeliest words with the other ear's put in where the two differ, and what its confidence is worth [nat]."""
    texts = tuple(word.text for word in other)
    places = [
        (slice(own_start, own_end), other[start:end])
        for kind, own_start, own_end, start, end in difflib.SequenceMatcher(
            None, own, texts, autojunk=False
        ).get_opcodes()
        if kind != "equal"
    ][:PLACES_WEIGHED]
    worth: dict[Words, float] = {}
    for count in range(1, PLACES_AT_ONCE + 1):
        for chosen in itertools.combinations(places, count):
            words = list(own)
            for place, put in reversed(chosen):
                words[place] = [word.text for word in put]
            if words:
                worth[tuple(words)] = WORD_WORTH * sum(word.confidence for _, put in chosen for word in put)
    return worth


def _likeliest_first(candidates: Sequence[Candidate]) -> list[Candidate]:
    return sorted(candidates, key=lambda one: -one.score)


def with_address(own: Words, other: Words, addressed: frozenset[str]) -> list[Words]:
    """What may have been said when the other ear hears an address word at the start and the network does not.

    That ear has the word's sound; to the network, which spells, it is one of many that begin alike.
    """
    begun = next((place for place, word in enumerate(other[:_WORDS_BEFORE]) if word in addressed), None)
    if begun is None or not addressed.isdisjoint(own):
        return []
    start = other[: begun + 1]
    return [other, *((*start, *own[taken:]) for taken in range(min(len(start) + 2, len(own) + 1)))]
