"""Which trouble a question names: by the nouns that tell of it where it is said, and by a few words besides."""

from functools import cache, lru_cache

from caddie.situation import HazardKind
from caddie.words.grammar import grammar
from caddie.words.heads import KIND_OF_NOUN, names_kept
from caddie.words.reduction import reducer
from caddie.words.sayings import compared
from caddie.words.talk_files import talk_data


@lru_cache(maxsize=512)
def troubles_named(text: str) -> tuple[HazardKind, ...]:
    """Every kind of trouble that is named, in the order of the words.

    >>> [kind.value for kind in troubles_named("will it carry the beck, or do I want the sand wedge?")]
    ['water']
    """
    pieces = (piece.text for piece in reducer().pieces(reducer().tokens(text)))
    return tuple(dict.fromkeys(_kinds()[piece] for piece in pieces if piece in _kinds()))


def name_given(text: str) -> str | None:
    """The name of its own that trouble was said by anywhere in a text, the last where there are several.

    >>> name_given("it went in the ravine"), name_given("it is in the water")
    ('ravine', None)
    """
    return next((word for word in reversed(compared(text)) if word in names_kept()), None)


@cache
def _kinds() -> dict[str, HazardKind]:
    """What each piece of an utterance names that is asked about as trouble."""
    nouns = {noun.name.upper() for noun in grammar().troubles()}
    named = {noun: KIND_OF_NOUN.get(noun) or HazardKind(noun.lower()) for noun in nouns}
    called = {word: HazardKind(kind) for word, kind in talk_data()["trouble_called"].items()}
    return named | called
