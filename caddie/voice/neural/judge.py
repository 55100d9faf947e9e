"""What may have been said, from the search and from another ear, and which of it to take.

The network scores all of it: its log chance of the sound for the words as it would best write them, the language's
share and the bonus a word. Numbers count as written in figures too, which the search never does: so looked at again,
the first three of the search gave 37 first numbers of 40 in noise where the first alone gave 34. The other ear's words
win when they score higher, or lower by no more than that ear's own confidence is worth. Confidence falls with noise,
which the other ear bears badly, so no noise need be measured: in the clear look-alike numbers alone ("fifteen",
"fifty") come out right that the network confuses.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace

from caddie.voice.neural.language import Language
from caddie.voice.neural.network import Array, Network
from caddie.voice.neural.ngrams import Words
from caddie.voice.neural.search import score_of
from caddie.voice.neural.writing import writings

LOOKED_AT_AGAIN = 3
"""Of the search's hypotheses; six did no better."""
CONFIDENCE_WORTH = 5.0
"""What full confidence of the other ear is worth [nat]; 0, 2 and 10 did worse on sentences kept for tuning."""
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
        self, network: Network, features: Array, language: Language, answers: Collection[str] = ()
    ) -> None:
        """Prepare it.

        Args:
            network: what heard.
            features: its view of the sound.
            language: what is expected.
            answers: what would answer a question just asked.
        """
        self._network, self._features, self._language, self._answers = network, features, language, answers

    def is_answer(self, words: Words) -> bool:
        """Whether the words are an expected answer."""
        return " ".join(words) in self._answers

    def scored(self, several: Sequence[Words]) -> list[Candidate]:
        """Each of these words with its score, in the same order."""
        written = [[self._network.tokens.split(text) for text in writings(words)] for words in several]
        rows = [tokens for ways in written for tokens in ways]
        if not rows:
            return []
        told = iter(self._network.chances_of_each(self._features, rows))
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
    """What the search found, the likeliest first.

    Args:
        judge: scores it.
        own: hypotheses of the search, the likeliest first.
    """
    answers = [words for words in own[LOOKED_AT_AGAIN:] if judge.is_answer(words)][:LOOKED_AT_AGAIN]
    return _likeliest_first(judge.scored(list(dict.fromkeys([*own[:LOOKED_AT_AGAIN], *answers]))))


def is_sure(candidates: Sequence[Candidate]) -> bool:
    """Whether another ear need not be asked.

    It changed nothing of worth in 59 of 170 clips that sounded so sure; a word or two are its strength.
    """
    return (
        bool(candidates)
        and candidates[0].sound >= SURE_SOUND
        and len(candidates[0].words) > TOO_FEW_TO_BE_SURE
    )


def with_other(
    judge: Judge, candidates: Sequence[Candidate], other: Words, confidence: float
) -> list[Candidate]:
    """The same with another ear's words among them.

    Args:
        judge: scores them.
        candidates: what the search found.
        other: the other ear's words.
        confidence: that ear's own, 0 to 1.
    """
    if not other:
        return list(candidates)
    worth = CONFIDENCE_WORTH * confidence
    said = judge.scored([other])[0]
    rest = [one for one in candidates if one.words != other]
    return _likeliest_first([*rest, replace(said, score=said.score + worth)])


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
