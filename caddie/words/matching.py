"""Where templates end in words that were said.

Places are bits of a whole number: bit ``n`` is the place before word ``n``, so that every way through a template is
followed at once.
"""

from collections.abc import Callable
from functools import reduce

from caddie.words.templates import GAP, Choice, Node, Sequence, Slot, Word

MOST_BETWEEN = 6
"""How many words stand in a gap at the most."""


class Said:
    """Words as they are compared, and what is found in them.

    Args:
        words: what was said.
        part: the template that a slot stands for, by its name.
    """

    def __init__(self, words: tuple[str, ...], part: Callable[[str], Node]) -> None:
        self._words, self._part = words, part
        self._every = (1 << len(words) + 1) - 1
        self._at: dict[str, int] = {}
        for at, word in enumerate(words):
            self._at[word] = self._at.get(word, 0) | 1 << at
        self._filled: dict[tuple[str, int], int] = {}

    def ends(self, node: Node, start: int) -> int:
        """The places behind a template that begins before word ``start``; 0 where it is not said there."""
        return self._behind(node, 1 << start)

    def _behind(self, node: Node, places: int) -> int:
        match node:
            case Word(text):
                return self._behind_word(text, places)
            case Sequence(parts):
                for part in parts:
                    places = self._behind(part, places)
                    if not places:
                        break
                return places
            case Choice():
                return self._behind_any(node, places)
            case Slot(name):
                if (name, places) not in self._filled:
                    self._filled[name, places] = self._behind(self._part(name), places)
                return self._filled[name, places]

    def _behind_word(self, text: str, places: int) -> int:
        if text == GAP:
            return reduce(int.__or__, (places << more for more in range(MOST_BETWEEN + 1))) & self._every
        return (places & self._at.get(text, 0)) << 1

    def _behind_any(self, node: Choice, places: int) -> int:
        by_word, others = node.by_first_word
        ends = 0
        for option in others:
            ends |= self._behind(option, places)
        left = places & ~(1 << len(self._words))
        while left:
            place = left & -left
            left ^= place
            for option in by_word.get(self._words[place.bit_length() - 1], ()):
                ends |= self._behind(option, place)
        return ends
