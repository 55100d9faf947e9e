"""The network's alphabet: pieces of words, joined and taken apart by byte pairs."""

import re
from itertools import pairwise
from pathlib import Path

from caddie.errors import CaddieError

BEGIN_TOKEN, END_TOKEN = 1, 2
"""The tokens that begin and end every utterance."""

_BLANK = "\u2581"
_BYTES_FROM, _PIECES_FROM = 3, 259
"""Where the 256 single bytes begin, and after them the pieces of words."""
_CONTROL = "<<"
_WRITABLE = re.compile(r"[A-Za-z' ,.?!-]+")
_SIGNS = str.maketrans("-,.?!", "     ")


class Tokens:
    """The tokens by number, and what each adds to the words of an utterance."""

    def __init__(self, path: Path) -> None:
        """Read the table of tokens.

        Args:
            path: the file: each token as its length (one byte, or two when the first is 128 or more) and its bytes.

        Raises:
            CaddieError: if the file cannot be read.
        """
        try:
            raw = path.read_bytes()
        except OSError as error:
            raise CaddieError(f"{path}: cannot be read") from error
        self._texts = [token.decode("utf-8", "replace").replace(_BLANK, " ") for token in _split(raw)]
        self._numbers: dict[str, int] = {}
        for number, text in enumerate(self._texts[_PIECES_FROM:], start=_PIECES_FROM):
            self._numbers.setdefault(text, number)
        self.letters = [self._letters(number) for number in range(len(self._texts))]
        """Per token what it adds to the words, lower case, a blank between two; None for what is never said:
        digits (numbers come out as words, as the grammar writes them), other alphabets, control marks."""
        self.stops = [
            number
            for number, text in enumerate(self._texts)
            if self.letters[number] is not None and re.search(r"[.?!]", text)
        ]
        """Tokens that end a sentence."""

    def __len__(self) -> int:
        return len(self._texts)

    def _letters(self, number: int) -> str | None:
        text = self._texts[number]
        if number < _BYTES_FROM or text.startswith(_CONTROL) or not _WRITABLE.fullmatch(text):
            return None
        return text.lower().translate(_SIGNS)

    def text(self, numbers: list[int]) -> str:
        """The tokens joined, as the network writes them: capitals and signs stay."""
        return "".join(self._texts[number] for number in numbers if number >= _BYTES_FROM).strip()

    def split(self, text: str) -> list[int]:
        """The tokens of a text: of all pairs that make a token, the one with the lowest number is joined first."""
        parts = list(text)
        while pairs := [
            (self._numbers[left + right], place)
            for place, (left, right) in enumerate(pairwise(parts))
            if left + right in self._numbers
        ]:
            _, place = min(pairs)
            parts[place : place + 2] = [parts[place] + parts[place + 1]]
        found: list[int] = []
        for part in parts:
            number = self._numbers.get(part)
            if number is None:
                found += [_BYTES_FROM + byte for byte in part.replace(" ", _BLANK).encode()]
            else:
                found.append(number)
        return found


def _split(raw: bytes) -> list[bytes]:
    tokens = []
    place = 0
    while place < len(raw):
        length = raw[place]
        place += 1
        if length >= 128:
            length = raw[place] * 128 + length - 128
            place += 1
        tokens.append(raw[place : place + length])
        place += length
    return tokens
