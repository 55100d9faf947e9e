"""Typed mentions in an utterance."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from caddie.words.grammar import Entry, Fact, Grammar, grammar
from caddie.words.kept import kept
from caddie.words.patterns import patterns
from caddie.words.phrases import Net, PhraseFinder, net
from caddie.words.quantities import (
    BORROWED_IN,
    IRONS,
    LOFTS,
    SPEEDS,
    STROKES,
    STROKES_BY_NAME,
    Piece,
    Quantity,
)
from caddie.words.reduction import reducer

Domain = Literal["facts", "results", "intents", "wholes"]
_ANY_TROUBLE = "TROUBLE"


@dataclass(frozen=True, slots=True)
class Mention:
    """A span of pieces and everything it may mean."""

    start: int
    end: int
    readings: tuple[Mapping[str, Fact], ...]
    quantity: Quantity | None = None
    quantity_at: int | None = None
    trouble_at: int | None = None
    """Where the trouble named inside it stands."""

    def get(self, key: str) -> Fact | None:
        """The first reading's value for ``key``."""
        return next((reading[key] for reading in self.readings if key in reading), None)

    def __contains__(self, key: str) -> bool:
        # Asked hundreds of times an utterance: a loop takes half of what a generator does.
        for reading in self.readings:  # noqa: SIM110
            if key in reading:
                return True
        return False


class Finder:
    """Finds what the entries of one grammar say."""

    def __init__(self, words: Grammar, said: Net) -> None:
        self._entries = words.entries
        self._troubles = {noun.name.upper() for noun in words.nouns if noun.trouble}
        self._phrases = PhraseFinder(said)

    @property
    def troubles(self) -> frozenset[str]:
        """Names of nouns that are trouble."""
        return frozenset(self._troubles)

    def find(self, pieces: list[Piece]) -> dict[Domain, list[Mention]]:
        """Mentions by domain, in order, none overlapping another of its domain."""
        if not pieces:
            return {"facts": [], "results": [], "intents": [], "wholes": []}
        texts = [piece.text for piece in pieces]
        general = [_ANY_TROUBLE if text in self._troubles else text for text in texts]
        spans: dict[Domain, dict[tuple[int, int], set[int]]] = {
            "facts": {},
            "results": {},
            "intents": {},
            "wholes": {},
        }
        for said in (texts,) if general == texts else (texts, general):
            for index, start, end in self._phrases.find(said):
                entry = self._entries[index]
                if any(piece.after_break for piece in pieces[start + 1 : end]):
                    continue
                if entry.numbers and not _fits(entry, pieces[start:end]):
                    continue
                apart = entry.facts.get("apart")
                if apart and not _between_pauses(pieces, start, end, apart):
                    continue
                spans[_domain(entry)].setdefault((start, end), set()).add(index)
        return {domain: self._chosen(found, pieces) for domain, found in spans.items()}

    def _chosen(self, spans: dict[tuple[int, int], set[int]], pieces: list[Piece]) -> list[Mention]:
        taken = [False] * len(pieces)
        chosen: list[Mention] = []
        for start, end in sorted(spans, key=lambda span: (span[0] - span[1], span[0])):
            if not any(taken[start:end]):
                taken[start:end] = [True] * (end - start)
                entries = [self._entries[index] for index in sorted(spans[start, end])]
                chosen.append(self._mention(start, end, entries, pieces))
        return sorted(chosen, key=lambda mention: mention.start)

    def _mention(self, start: int, end: int, entries: Iterable[Entry], pieces: list[Piece]) -> Mention:
        number = next((at for at in range(start, end) if pieces[at].text == "#"), None)
        trouble = next((at for at in reversed(range(start, end)) if pieces[at].text in self._troubles), None)
        return Mention(
            start,
            end,
            tuple(entry.facts for entry in entries),
            pieces[number].quantity if number is not None else None,
            number,
            trouble,
        )


def _between_pauses(pieces: list[Piece], start: int, end: int, apart: Fact) -> bool:
    """Whether pauses stand where ``apart`` asks for them: on both sides, or on the one that it names."""
    led = apart != "after" and start > 0 and not pieces[start].after_break
    followed = apart != "before" and end < len(pieces) and not pieces[end].after_break
    return not (led or followed)


def _fits(entry: Entry, pieces: list[Piece]) -> bool:
    """Whether the numbers are counted in what the template asks for: each in one slot, and of two, each in another."""
    filled = [
        {slot for slot in entry.numbers if _counts(slot, piece.quantity, piece.said)}
        for piece in pieces
        if piece.text == "#" and piece.quantity is not None
    ]
    apart = len(set().union(*filled)) >= min(len(filled), len(entry.numbers))
    return all(filled) and apart


def _counts(slot: str, quantity: Quantity, said: str) -> bool:
    match slot:
        case "speed":
            return quantity.unit is None or quantity.unit in SPEEDS
        case "clock":
            return quantity.unit == "oclock"
        case "strokes":
            counted = quantity.unit is None or said.split(" ")[-1] in STROKES_BY_NAME
            return counted and quantity.middle in STROKES
        case "borrow":
            return quantity.unit in BORROWED_IN and not quantity.footer
        case "slope":
            return quantity.unit in ("percent", "degrees")
        case "loft":
            return quantity.unit in (None, "degrees") and quantity.middle in LOFTS
        case "iron":
            return quantity.unit is None and quantity.definite and quantity.middle in IRONS
        case "number":
            return quantity.unit in (None, "degrees", "feet")
        case _:
            return quantity.is_length


def _domain(entry: Entry) -> Domain:
    if entry.whole:
        return "wholes"
    return "results" if entry.slot == "results" else "intents" if entry.slot == "intents" else "facts"


@lru_cache(maxsize=1)
def finder() -> Finder:
    """The finder of the shipped grammar, built once."""
    words = grammar()
    return Finder(words, kept("patterns", lambda: net(patterns(words, reducer()))))
