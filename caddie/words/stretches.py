"""A template cut into stretches, each reduced to pieces on its own: what it says is never written out whole."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from caddie.words.grammar import BEFORE_NUMBER, NUMBER_SLOTS, Grammar
from caddie.words.numbers import NUMBER_WORDS
from caddie.words.phrases import PieceWay, Stretches
from caddie.words.reduction import Reducer, without_articles
from caddie.words.templates import Node, firsts, lasts, words_of
from caddie.words.templates import Sequence as Parts

_Ends = tuple[frozenset[str], bool]


class Cutter:
    """Cuts the templates of one grammar where no phrase of several words can stand across."""

    def __init__(self, words: Grammar, reduce: Reducer) -> None:
        self._words, self._reduce = words, reduce
        one_word = [swap for swap in words.spellings.items() if len(swap[0]) == 1]
        self._swaps: dict[str, list[tuple[PieceWay, PieceWay]]] = {}
        """What is put in the place of words, by the first of them."""
        for swap in (*one_word, *words.joins.items()):
            self._swaps.setdefault(swap[0][0], []).append(swap)
        phrases = [*words.joins, *reduce.noun_phrases]
        self._side_by_side = {pair for phrase in phrases for pair in pairwise(phrase)}
        self._before_numbers = {
            phrase[-1] for phrase, noun in reduce.noun_phrases.items() if noun.value == BEFORE_NUMBER
        }

    def stretches(self, node: Node, *, whole: bool) -> Stretches:
        """The stretches of a template, from left to right.

        One that has to be ``whole``, or that says a number, is one stretch: there, what is passed over or counted
        together may stand across any of its words.
        """
        bare = without_articles(node, self._words.articles)
        parts = self._together(bare) if isinstance(bare, Parts) and not whole else ((bare,),)
        return tuple(frozenset(map(tuple, self._reduce.patterns(Parts(part), whole=whole))) for part in parts)

    def _together(self, node: Parts) -> Iterator[tuple[Node, ...]]:
        swaps = self._swaps_in(set(words_of(node)))
        said = {*words_of(node), *(name for _, names in swaps for name in names)}
        if not all(names for _, names in swaps) or not NUMBER_WORDS.isdisjoint(said):
            yield node.parts
            return
        stretch: tuple[Node, ...] = ()
        for at, part in enumerate(node.parts, 1):
            stretch += (part,)
            if at == len(node.parts) or self._may_cut(node.parts[:at], node.parts[at:], swaps):
                yield stretch
                stretch = ()

    def _swaps_in(self, words: set[str]) -> list[tuple[PieceWay, PieceWay]]:
        """What may be put in the place of words of a template, also of words that were put there."""
        found: list[tuple[PieceWay, PieceWay]] = []
        while more := [
            swap
            for word in sorted(words & self._swaps.keys())
            for swap in self._swaps[word]
            if words.issuperset(swap[0]) and swap not in found
        ]:
            found += more
            words = words.union(*(names for _, names in more))
        return found

    def _may_cut(
        self, before: Sequence[Node], after: Sequence[Node], swaps: list[tuple[PieceWay, PieceWay]]
    ) -> bool:
        left = set(lasts(Parts(tuple(before)), _slot)[0])
        right = set(firsts(Parts(tuple(after)), _slot)[0])
        for _ in swaps:
            left |= {names[-1] for said, names in swaps if said[-1] in left}
            right |= {names[0] for said, names in swaps if said[0] in right}
        if any(word[1:-1] in NUMBER_SLOTS for word in right) and not self._before_numbers.isdisjoint(left):
            return False
        return not any((one, other) in self._side_by_side for one in left for other in right)


def _slot(name: str) -> _Ends:
    return frozenset({f"{{{name}}}"}), False
