"""A small trigram language model: Witten-Bell estimates from sentences, mixed with a background, as ARPA.

Witten & Bell (1991), "The zero-frequency problem", method C, applied recursively as in Chen & Goodman
(1998), section 2.6: p(w|h) = (c(h w) + t(h) p(w|h')) / (c(h) + t(h)), with t(h) the number of different
words seen after h and h' the history shortened by one word. Mixing is linear, word by word.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping
from math import log10

START, END = "<s>", "</s>"
NGram = tuple[str, ...]

_NEVER_LOG10 = -99.0
_SMALLEST = 1e-12
# Something must be left for words never seen after a history, or the decoder can never leave it.
_MOST_EXPLICIT = 0.999


class TrigramModel:
    """Trigram probabilities of a set of sentences.

    >>> model = TrigramModel(["fifty yards", "forty yards"])
    >>> round(model.probability(("fifty", "yards")), 3), round(model.probability(("yards",)), 3)
    (0.667, 0.333)
    """

    def __init__(self, sentences: Iterable[str]) -> None:
        """Count the sentences' words, pairs and triples.

        Args:
            sentences: lower-case words separated by blanks.
        """
        self._counts: dict[NGram, int] = Counter()
        self._history_total: dict[NGram, int] = Counter()
        self._history_types: dict[NGram, int] = Counter()
        for sentence in sentences:
            words = [START, *sentence.split(), END]
            for end in range(1, len(words)):
                for length in (1, 2, 3):
                    if end - length + 1 >= 0:
                        self._counts[tuple(words[end - length + 1 : end + 1])] += 1
        for ngram, count in self._counts.items():
            self._history_total[ngram[:-1]] += count
            self._history_types[ngram[:-1]] += 1
        self.vocabulary = sorted(ngram[0] for ngram in self._counts if len(ngram) == 1)

    @property
    def ngrams(self) -> list[NGram]:
        """The n-grams seen, of every length."""
        return list(self._counts)

    def probability(self, ngram: NGram) -> float:
        """Chance of the last word after the words before it; a word never seen has 0."""
        history = ngram[:-1]
        shorter = self.probability(ngram[1:]) if history else 0.0
        types = self._history_types.get(history, 0)
        if types == 0:
            return shorter
        total = self._history_total[history]
        if not history:
            return self._counts.get(ngram, 0) / total
        return (self._counts.get(ngram, 0) + types * shorter) / (total + types)


def mixed(
    domain: TrigramModel,
    background: Callable[[NGram], float],
    background_words: Mapping[str, float],
    share: float,
    background_pairs: Iterable[NGram] = (),
) -> dict[NGram, float]:
    """N-gram probabilities of the domain mixed with a background language.

    Args:
        domain: the sentences to expect.
        background: chance of a word after up to two words in general speech.
        background_words: words of general speech and their chances, summing to at most 1.
        share: weight of the background, 0 to 1.
        background_pairs: further pairs worth a place of their own.

    Returns:
        Chance of the last word of each n-gram, for all words, the domain's pairs and triples, and the
        further pairs.
    """
    words = set(domain.vocabulary) | set(background_words) | {END}
    general = {word: background_words.get(word) or background((word,)) for word in words}
    total = sum(general.values()) or 1.0
    table: dict[NGram, float] = {
        (word,): (1 - share) * domain.probability((word,)) + share * general[word] / total for word in words
    }
    for ngram in {*(n for n in domain.ngrams if len(n) > 1), *background_pairs}:
        table[ngram] = (1 - share) * domain.probability(ngram) + share * background(ngram)
    return table


def arpa(table: Mapping[NGram, float]) -> str:
    """The n-gram table as an ARPA file, with back-off weights that make every history sum to 1.

    Args:
        table: chance of the last word of each n-gram; histories of two words must be there as pairs.
    """
    table = dict(table)
    orders: tuple[list[NGram], list[NGram], list[NGram]] = ([], [], [])
    followers: dict[NGram, list[NGram]] = defaultdict(list)
    for ngram in sorted(table):
        orders[len(ngram) - 1].append(ngram)
        followers[ngram[:-1]].append(ngram)
    weights: dict[NGram, float] = {}

    def backed_off(ngram: NGram) -> float:
        if ngram in table:
            return table[ngram]
        return weights.get(ngram[:-1], 1.0) * backed_off(ngram[1:]) if len(ngram) > 1 else 0.0

    for history in sorted((history for history in followers if history), key=len):
        own = sum(table[ngram] for ngram in followers[history])
        lower = sum(backed_off(ngram[1:]) for ngram in followers[history])
        if own > _MOST_EXPLICIT:
            for ngram in followers[history]:
                table[ngram] *= _MOST_EXPLICIT / own
            own = _MOST_EXPLICIT
        weights[history] = (1 - own) / max(1 - lower, _SMALLEST)
    lines = ["\\data\\", f"ngram 1={len(orders[0]) + 1}"]
    lines += [f"ngram {length}={len(orders[length - 1])}" for length in (2, 3)]
    lines += ["", "\\1-grams:", _line((START,), None, weights.get((START,)))]
    lines += [_line(ngram, table[ngram], weights.get(ngram)) for ngram in orders[0]]
    for length in (2, 3):
        lines += ["", f"\\{length}-grams:"]
        last = length == 3
        lines += [_line(n, table[n], None if last else weights.get(n)) for n in orders[length - 1]]
    return "\n".join([*lines, "", "\\end\\", ""])


def _line(ngram: NGram, probability: float | None, weight: float | None) -> str:
    chance = _NEVER_LOG10 if not probability else max(log10(probability), _NEVER_LOG10)
    back_off = "" if weight is None else f"\t{log10(max(weight, _SMALLEST)):.4f}"
    return f"{chance:.4f}\t{' '.join(ngram)}{back_off}"
