"""Two ears' words of one utterance, and which to take.

The network scores both: its log chance of the sound for the words as it would write them, the language's share and
the bonus a word. The other ear's words win when they score higher, or lower by no more than that ear's own
confidence is worth. Confidence falls with noise, which the other ear bears badly, so no noise need be measured: in
the clear look-alike numbers alone ("fifteen", "fifty") come out right that the network confuses.
"""

from collections.abc import Sequence

from caddie.voice.neural.language import Language
from caddie.voice.neural.network import Array, Network
from caddie.voice.neural.ngrams import Words
from caddie.voice.neural.search import score_of

CONFIDENCE_WORTH = 5.0
"""What full confidence of the other ear is worth [nat]; 0, 2 and 10 did worse on sentences kept for tuning."""


_WORDS_BEFORE = 3
"""An address word is looked for among so many words at the start."""


def prefers_other(
    network: Network, features: Array, language: Language, own: Words, other: Words, confidence: float
) -> bool:
    """Whether the other ear's words are to be taken.

    Args:
        network: what heard.
        features: its view of the sound.
        language: what is expected.
        own: the words found with the network.
        other: the other ear's words.
        confidence: that ear's own, 0 to 1.
    """
    if not other or other == own:
        return False
    if not own:
        return True
    worth = CONFIDENCE_WORTH * confidence
    return _score(network, features, language, other) > _score(network, features, language, own) - worth


def with_address(own: Words, other: Words, addressed: frozenset[str]) -> list[Words]:
    """What may have been said when the other ear hears an address word at the start and the network does not.

    That ear has the word's sound; to the network, which spells, it is one of many that begin alike.
    """
    begun = next((place for place, word in enumerate(other[:_WORDS_BEFORE]) if word in addressed), None)
    if begun is None or not addressed.isdisjoint(own):
        return []
    start = other[: begun + 1]
    return [other, *((*start, *own[taken:]) for taken in range(min(len(start) + 2, len(own) + 1)))]


def likeliest(network: Network, features: Array, language: Language, candidates: Sequence[Words]) -> Words:
    """The words that score best."""
    return max(candidates, key=lambda words: _score(network, features, language, words))


def _score(network: Network, features: Array, language: Language, words: Words) -> float:
    sound = max(float(network.chances_of(features, tokens).sum()) for tokens in written(network, words))
    return score_of(sound, language.sentence(words), len(words))


def written(network: Network, words: Words) -> list[list[int]]:
    """The tokens of words as the network writes a sentence: with a capital, and with or without a full stop."""
    text = " ".join(words)
    text = f" {text[:1].upper()}{text[1:]}"
    return [network.tokens.split(f"{text}{stop}") for stop in (".", "")]
