"""What an utterance said in a word that nobody knew, and the next in words that are known.

>>> rephrased("forty out in the wibblewood, flag back", "forty out in the heavy rough, flag back")
('wibblewood', 'heavy rough')
>>> rephrased("forty in the wibblewood", "heavy rough")
('wibblewood', 'heavy rough')
"""

from caddie.words.grammar import grammar
from caddie.words.lexicon import known_words
from caddie.words.numbers import NUMBER_WORDS
from caddie.words.reduction import reducer

MOST_WORDS = 5
_PASSED_OVER = frozenset({"in", "on", "it", "its", "is", "no", "i", "mean", "meant", "that", "from", "at"})
"""Words beside an answer that are no part of what it means."""


def unknown_words(text: str) -> tuple[str, ...]:
    """Words of a text that the grammar has nowhere."""
    words = known_words()
    return tuple(
        token.text
        for token in reducer().tokens(text)
        if token.text.isalpha() and token.text not in words and token.text not in grammar().articles
    )


def rephrased(before: str, now: str) -> tuple[str, str] | None:
    """The words of ``before`` that nobody knew, and those of ``now`` that stand in their place; None when unclear.

    The same sentence is said again with other words in one place, or those words alone are said.
    """
    old = [token.text for token in reducer().tokens(before)]
    new = [token.text for token in reducer().tokens(now)]
    strange = set(unknown_words(before))
    if not strange or strange & set(new):
        return None
    at = [place for place, word in enumerate(old) if word in strange]
    word = old[at[0] : at[-1] + 1]
    if not set(old) & set(new) - _PASSED_OVER - grammar().articles:
        meaning = new
    else:
        head = _same(old, new)
        tail = min(_same(old[::-1], new[::-1]), len(old) - head, len(new) - head)
        word, meaning = old[head : len(old) - tail], new[head : len(new) - tail]
    word, meaning = _bare(word), _bare(meaning)
    if not word or not meaning or max(len(word), len(meaning)) > MOST_WORDS or not strange & set(word):
        return None
    if any(part in NUMBER_WORDS or part.isdigit() for part in (*word, *meaning)):
        return None
    return " ".join(word), " ".join(meaning)


def _same(one: list[str], other: list[str]) -> int:
    """How many words both begin with."""
    count = 0
    for first, second in zip(one, other, strict=False):
        if first != second:
            break
        count += 1
    return count


def _bare(words: list[str]) -> list[str]:
    while words and (words[0] in _PASSED_OVER or words[0] in grammar().articles):
        words = words[1:]
    return words
