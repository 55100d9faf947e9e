"""The finder of phrases against spaCy's phrase matcher, which finds the same with other means."""

import random
import tomllib
from collections.abc import Iterable, Iterator
from itertools import product
from math import prod
from pathlib import Path

import pytest
from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc
from spacy.vocab import Vocab

from caddie.words.grammar import grammar
from caddie.words.patterns import patterns
from caddie.words.phrases import PASSED_BARE, PhraseFinder, net
from caddie.words.reduction import reducer
from caddie.words.stretches import Cutter

CORPUS = Path(__file__).parents[1] / "corpus"
MOST_WRITTEN_OUT = 300
EVERY = 4
"""Of the corpus one utterance in so many is read."""
EVERY_ENTRY = 3
"""Of the entries one in so many is written out, way after way."""
Found = set[tuple[int, int, int]]
Patterns = dict[str, dict[str, list[str]]]
"""By first piece, then by the number of the entry: the pieces of each way to say it, joined by blanks."""


class Oracle:
    """spaCy's matcher on bare documents, filled with what begins with a word when that word is first said."""

    def __init__(self, said: Patterns) -> None:
        self._vocab = Vocab()
        self._matcher = PhraseMatcher(self._vocab)
        self._waiting = dict(said)

    def find(self, pieces: list[str]) -> Found:
        for first in pieces:
            for entry, ways in self._waiting.pop(first, {}).items():
                self._matcher.add(entry, [Doc(self._vocab, words=way.split(" ")) for way in ways])
        found = self._matcher(Doc(self._vocab, words=pieces))
        return {(int(self._vocab.strings[key]), start, end) for key, start, end in found}


def texts_in(content: object) -> Iterator[str]:
    if isinstance(content, str):
        yield content
    elif isinstance(content, dict | list):
        for each in content.values() if isinstance(content, dict) else content:
            yield from texts_in(each)


def written_out() -> Patterns:
    """A part of the grammar, each template one way after another."""
    found: dict[str, dict[str, set[str]]] = {}
    for number, entry in enumerate(grammar().entries):
        for node in entry.say if number % EVERY_ENTRY == 0 else ():
            for way in reducer().patterns(node, whole=entry.whole):
                if way and (len(way) > 1 or way[0] not in PASSED_BARE):
                    found.setdefault(way[0], {}).setdefault(str(number), set()).add(" ".join(way))
    return {first: {entry: sorted(ways) for entry, ways in of.items()} for first, of in found.items()}


def of_the_part(found: Iterable[tuple[int, int, int]]) -> Found:
    """What was found of the entries that are written out."""
    return {each for each in found if each[0] % EVERY_ENTRY == 0}


@pytest.fixture(scope="module")
def said() -> Patterns:
    return written_out()


@pytest.fixture(scope="module")
def shipped() -> PhraseFinder:
    return PhraseFinder(net(patterns(grammar(), reducer())))


def test_utterances_of_the_corpus(said: Patterns, shipped: PhraseFinder) -> None:
    ours, oracle, some = shipped, Oracle(said), 0
    reduce = reducer()
    troubles = {noun.name.upper() for noun in grammar().troubles()}
    for file in sorted(CORPUS.rglob("*.toml")):
        for text in list(dict.fromkeys(texts_in(tomllib.loads(file.read_text(encoding="utf-8")))))[::EVERY]:
            pieces = [piece.text for piece in reduce.pieces(reduce.tokens(text))]
            for written in (pieces, ["TROUBLE" if piece in troubles else piece for piece in pieces]):
                found = list(ours.find(written))
                assert of_the_part(found) == (oracle.find(written) if written else set()), text
                assert len(set(found)) == len(found), text
                some += len(found)
    assert some > 10_000 / EVERY


def test_pieces_in_any_order(said: Patterns, shipped: PhraseFinder) -> None:
    """Pieces of the grammar's own phrases strung together by chance, so that beginnings and middles abound."""
    chance = random.Random(3)
    ways = [way.split(" ") for entries in said.values() for ways in entries.values() for way in ways]
    loose = [piece for way in ways for piece in way]
    ours, oracle = shipped, Oracle(said)
    for _ in range(500):
        pieces: list[str] = []
        while len(pieces) < 12:
            pieces += chance.choice(
                (chance.choice(ways), chance.choices(loose, k=2), chance.choice(ways)[:-1])
            )
        assert of_the_part(ours.find(pieces)) == oracle.find(pieces), pieces


def test_phrases_over_and_inside_each_other() -> None:
    """Small phrases of two letters, where nearly everything overlaps."""
    chance = random.Random(5)
    for _ in range(300):
        said: Patterns = {}
        for entry in range(chance.randint(1, 6)):
            for _ in range(chance.randint(1, 4)):
                way = chance.choices("ab", k=chance.randint(1, 4))
                ways = said.setdefault(way[0], {}).setdefault(str(entry), [])
                if " ".join(way) not in ways:
                    ways.append(" ".join(way))
        entries: dict[int, list[list[list[tuple[str, ...]]]]] = {}
        for of in said.values():
            for entry, ways in of.items():
                entries.setdefault(int(entry), []).append([[tuple(way.split(" ")) for way in ways]])
        ours, oracle = PhraseFinder(net(entries)), Oracle(said)
        for _ in range(10):
            pieces = chance.choices("abc", k=chance.randint(1, 9))
            found = list(ours.find(pieces))
            assert set(found) == oracle.find(pieces), (said, pieces)
            assert len(set(found)) == len(found)


def test_stretches_are_all_that_a_template_says() -> None:
    """No phrase is lost or won where a template is cut; the widest are left to the corpus, as they take seconds."""
    cutter, cut = Cutter(grammar(), reducer()), 0
    for entry in grammar().entries:
        for node in entry.say:
            stretches = cutter.stretches(node, whole=entry.whole)
            if prod(map(len, stretches)) > MOST_WRITTEN_OUT:
                continue
            cut += len(stretches) > 1
            together = {sum(ways, ()) for ways in product(*stretches)}
            assert together == set(map(tuple, reducer().patterns(node, whole=entry.whole))), entry.facts
    assert cut > 1000


def test_a_stretch_that_nothing_says_makes_a_phrase_none() -> None:
    found = PhraseFinder(net({1: [[[("heavy",)], []]], 2: [[[("heavy",)]]]}))
    assert list(found.find(["heavy"])) == [(2, 0, 1)]


def test_a_bare_piece_is_no_phrase_but_may_begin_one() -> None:
    found = PhraseFinder(net({1: [[[("it",)], [("up",), ()]]], 2: [[[("up",)]]]}))
    assert list(found.find(["it", "up"])) == [(1, 0, 2), (2, 1, 2)]


def test_nothing_said_is_nothing_found(shipped: PhraseFinder) -> None:
    assert list(shipped.find([])) == []
