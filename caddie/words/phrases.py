"""Phrases of pieces, found in what was said: every one, also those inside another or over another."""

from collections.abc import Iterator, Mapping, Sequence

_BLANK = " "


class PhraseFinder:
    """Every phrase that is said, by the number of its entry.

    What begins with a word is laid out when that word is first said: laying out everything at once would
    take most of the first utterance's time.

    >>> finder = PhraseFinder({"heavy": {"7": ["heavy rough", "heavy"]}, "rough": {"9": ["rough"]}})
    >>> list(finder.find(["heavy", "rough"]))
    [(7, 0, 1), (7, 0, 2), (9, 1, 2)]
    """

    def __init__(self, said: Mapping[str, Mapping[str, Sequence[str]]]) -> None:
        self._said = said
        self._beginning: dict[str, tuple[dict[str, list[int]], list[int]]] = {}

    def find(self, pieces: Sequence[str]) -> Iterator[tuple[int, int, int]]:
        """Each phrase among the pieces: its entry, where it begins, and where it has ended."""
        for start, first in enumerate(pieces):
            if first not in self._said:
                continue
            entries, lengths = self._beginning.get(first) or self._laid_out(first)
            for length in lengths:
                end = start + length
                if end > len(pieces):
                    break
                for entry in entries.get(_BLANK.join(pieces[start:end]), ()):
                    yield entry, start, end

    def _laid_out(self, first: str) -> tuple[dict[str, list[int]], list[int]]:
        entries: dict[str, list[int]] = {}
        for entry, ways in self._said[first].items():
            for way in ways:
                entries.setdefault(way, []).append(int(entry))
        lengths = sorted({way.count(_BLANK) + 1 for way in entries})
        self._beginning[first] = entries, lengths
        return entries, lengths
