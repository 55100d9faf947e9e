"""Where something said may end, learnt from how the grammar's own sentences end."""

from collections import Counter
from collections.abc import Iterable
from itertools import pairwise

LEAST_SHARE = 0.05
"""Two words that end a sentence more seldom than this want something after them: "rough and", "off a"."""

LEAST_SEEN = round(1 / LEAST_SHARE)
"""Two words said in a row more seldom tell nothing of where a sentence ends: no end of theirs need be among them."""

_START = "<s>"


class Endings:
    """How often two words in a row end a sentence that has them.

    >>> endings = Endings(["forty yards", "forty yards and a bunker short", "bunker short"])
    >>> endings.may_end("forty yards"), endings.may_end("forty yards and"), endings.may_end("a bunker short")
    (True, False, True)
    """

    def __init__(self, sentences: Iterable[str]) -> None:
        """Count the pairs of words.

        Args:
            sentences: lower-case words separated by blanks.
        """
        self._seen: Counter[tuple[str, str]] = Counter()
        self._ended: Counter[tuple[str, str]] = Counter()
        for sentence in sentences:
            words = [_START, *sentence.split()]
            self._seen.update(pairwise(words))
            if len(words) > 1:
                self._ended[words[-2], words[-1]] += 1
        self._kinds_seen = Counter(last for _, last in self._seen)
        self._kinds_ended = Counter(last for _, last in self._ended)

    def may_end(self, text: str) -> bool:
        """Whether these lower-case words may be the end.

        Where the last two are hardly ever said in a row, the last word decides: after how many others it is an end.
        """
        words = [_START, *text.split()]
        if len(words) == 1:
            return False
        last = (words[-2], words[-1])
        if self._seen[last] >= LEAST_SEEN:
            return self._ended[last] >= LEAST_SHARE * self._seen[last]
        return self._kinds_ended[words[-1]] > LEAST_SHARE * self._kinds_seen[words[-1]]
