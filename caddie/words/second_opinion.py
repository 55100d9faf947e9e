"""A second opinion on words that the rules refuse: which kind of turn they are, by a small linear model.

The model is spaCy's bag of words and pairs of words (TextCatBOW), in ``grammars/en/intents_model``;
``tests/shared/train_intents.py`` makes it. It tells kinds of turn and never facts. It is loaded when first asked:
importing spaCy takes most of a second.
"""

import hashlib
import json
import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caddie.places import shipped
from caddie.words.numbers import is_number

if TYPE_CHECKING:
    from spacy.language import Language
    from spacy.pipeline import TextCategorizer
    from spacy.tokens import Doc

FOLDER = "grammars/en/intents_model"
MADE_FROM = "made_from.json"
PARTS = ("cfg", "model")
"""The files of the model whose digests ``made_from.json`` holds."""
NO_KIND = frozenset({"told", "idle"})
"""What the model calls a shot told in odd words, and talk that is about no shot."""
SURE = 0.8
"""Least score that is an opinion: see tests/corpus/README.md for what it lets through."""
ARCHITECTURE = {
    "@architectures": "spacy.TextCatBOW.v3",
    "exclusive_classes": True,
    "ngram_size": 2,
    "no_output_layer": False,
    "length": 2**14,
}
_ENDINGS = ("ing", "ed", "ly", "es", "s", "e", "er")
_SHORTEST_STEM = 3


@dataclass(frozen=True)
class Opinion:
    """A kind of turn, and how sure that is, 0 to 1."""

    kind: str
    score: float


@dataclass(frozen=True)
class Model:
    """The categoriser, and the words of golf it was taught."""

    language: "Language"
    categoriser: "TextCategorizer"
    taught_words: frozenset[str]

    def opinion(self, words: Sequence[str]) -> Opinion:
        """The likeliest kind; the score is its probability times the share of words that were taught.

        A linear model is sure of what a few known words say and does not see the strange one among them.
        """
        seen = as_taught(words)
        (chances,) = self.categoriser.predict([self.doc(words)])
        best = int(chances.argmax())
        known = sum(word in self.taught_words for word in seen) / max(len(seen), 1)
        return Opinion(self.categoriser.labels[best], float(chances[best]) * known)

    def doc(self, words: Sequence[str]) -> "Doc":
        """The words as the model sees them."""
        from spacy.tokens import Doc

        return Doc(self.language.vocab, features(words))


def second_opinion(words: Sequence[str]) -> Opinion | None:
    """The kind of turn that ``words`` are, or None: not sure, no kind of turn, no spaCy or a damaged model.

    Args:
        words: plain words in lower case, contractions written out.
    """
    model = loaded()
    if model is None or not words:
        return None
    opinion = model.opinion(words)
    return None if opinion.kind in NO_KIND or opinion.score < SURE else opinion


@lru_cache(maxsize=1)
def loaded() -> Model | None:
    """The shipped model, or None when there is none to be had."""
    # A second opinion is worth nothing to a player whose spaCy or model is broken, in whichever way it is.
    try:
        return load(shipped(FOLDER))
    except Exception:
        return None


def load(folder: Path) -> Model:
    """The model in a folder.

    Raises:
        ValueError: if a file is not the one that was written with the others.
        Exception: whatever else spaCy or the file system makes of a broken installation.
    """
    made_from = json.loads((folder / MADE_FROM).read_text(encoding="utf-8"))
    for part in PARTS:
        if digest((folder / part).read_bytes()) != made_from["digests"][part]:
            raise ValueError(f"{folder / part} is not the file that was written there")
    language, categoriser = empty()
    categoriser.from_disk(folder, exclude=["vocab"])
    return Model(language, categoriser, frozenset(made_from["words"]))


def empty() -> "tuple[Language, TextCategorizer]":
    """A categoriser that was taught nothing, and what it stands in."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import spacy

        language = spacy.blank("xx")
        categoriser: Any = language.add_pipe("textcat", config={"model": ARCHITECTURE})
        return language, categoriser


def as_taught(words: Sequence[str]) -> list[str]:
    """The words with every number as one; "one" itself mostly counts nothing: "that one".

    >>> as_taught(["is", "it", "forty"])
    ['is', 'it', '#']
    """
    return ["#" if word != "one" and is_number(word) else word for word in words]


def features(words: Sequence[str]) -> list[str]:
    """The words between marks of beginning and end, and then their stems.

    >>> features(["it", "lands"])
    ['^', 'it', 'lands', '$', '~it', '~land']
    """
    seen = as_taught(words)
    return ["^", *seen, "$", *(f"~{_stem(word)}" for word in seen)]


def digest(data: bytes) -> str:
    """What tells one content from another."""
    return hashlib.sha256(data).hexdigest()


def _stem(word: str) -> str:
    ending = next((each for each in _ENDINGS if word.endswith(each)), "")
    return word.removesuffix(ending) if len(word) - len(ending) >= _SHORTEST_STEM else word
