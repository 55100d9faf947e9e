"""Which trouble a question names: by the nouns that tell of it where it is said, and by a few words besides."""

from functools import cache, lru_cache

from caddie.situation import HazardKind
from caddie.words.grammar import grammar
from caddie.words.heads import KIND_OF_NOUN
from caddie.words.reduction import reducer
from caddie.words.talk_files import talk_data


@lru_cache(maxsize=512)
def troubles_named(text: str) -> tuple[HazardKind, ...]:
    """Every kind of trouble that is named, in the order of the words.

    >>> [kind.value for kind in troubles_named("will it carry the beck, or do I want the sand wedge?")]
    ['water']
    """
    pieces = (piece.text for piece in reducer().pieces(reducer().tokens(text)))
    return tuple(dict.fromkeys(_kinds()[piece] for piece in pieces if piece in _kinds()))


@cache
def _kinds() -> dict[str, HazardKind]:
    """What each piece of an utterance names that is asked about as trouble."""
    nouns = {noun.name.upper() for noun in grammar().troubles()}
    named = {noun: KIND_OF_NOUN.get(noun) or HazardKind(noun.lower()) for noun in nouns}
    called = {word: HazardKind(kind) for word, kind in talk_data()["trouble_called"].items()}
    return named | called
