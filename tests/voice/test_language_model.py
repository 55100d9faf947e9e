import doctest
import math
from pathlib import Path

import pocketsphinx
import pytest

from caddie.voice import language_model
from caddie.voice.language_model import END, START, TrigramModel, arpa, mixed

SENTENCES = ["fifty yards", "fifty yards in the rough", "forty yards in the bunker", "in the rough"]
GENERAL = {"the": 0.4, "hello": 0.3, "yards": 0.2, "of": 0.1}


def general(ngram: tuple[str, ...]) -> float:
    return GENERAL.get(ngram[-1], 0.0)


def test_witten_bell_by_hand() -> None:
    """Witten & Bell (1991) method C. After "in the": rough twice, bunker once; two kinds of follower.

    p(rough | in the) = (2 + 2 p(rough | the)) / (3 + 2); after "the" the same counts over the unigram,
    where rough is 2 of 19 words (sentence ends counted).
    """
    unigram = 2 / 19
    bigram = (2 + 2 * unigram) / 5
    model = TrigramModel(SENTENCES)
    assert model.probability(("rough",)) == pytest.approx(unigram)
    assert model.probability(("the", "rough")) == pytest.approx(bigram)
    assert model.probability(("in", "the", "rough")) == pytest.approx((2 + 2 * bigram) / 5)


@pytest.mark.parametrize("history", [(), ("the",), ("in", "the"), ("fifty",), (START,), ("rough", "in")])
def test_every_history_shares_out_one(history: tuple[str, ...]) -> None:
    model = TrigramModel(SENTENCES)
    assert sum(model.probability((*history, word)) for word in model.vocabulary) == pytest.approx(1)


@pytest.mark.parametrize("share", [0.0, 0.1, 0.5])
def test_the_file_says_to_the_decoder_what_the_table_says(tmp_path: Path, share: float) -> None:
    """Read back by PocketSphinx's own reader: every n-gram, and every history sums to one."""
    background = GENERAL if share else {}
    table = mixed(TrigramModel(SENTENCES), general if share else lambda _: 0.0, background, share)
    file = tmp_path / "model.arpa"
    file.write_text(arpa(table), encoding="utf-8")
    base = 1.0001
    read = pocketsphinx.NGramModel(pocketsphinx.Config(), pocketsphinx.LogMath(base), str(file))

    def probability(ngram: tuple[str, ...]) -> float:
        return math.exp(read.prob(list(ngram[::-1])) * math.log(base))

    for ngram, chance in table.items():
        if chance > 0:
            assert probability(ngram) == pytest.approx(chance, rel=0.02), ngram
    words = [word for (word,) in (n for n in table if len(n) == 1)]
    for history in ((START,), ("the",), ("in", "the"), ("fifty", "yards"), ("rough", END)):
        if history[-1] != END:
            assert sum(probability((*history, word)) for word in words) == pytest.approx(1, abs=0.02)


def test_general_speech_gets_its_share() -> None:
    table = mixed(TrigramModel(SENTENCES), general, GENERAL, 0.2)
    assert table[("hello",)] == pytest.approx(0.2 * 0.3)
    assert sum(chance for ngram, chance in table.items() if len(ngram) == 1) == pytest.approx(1)


def test_examples_hold() -> None:
    assert doctest.testmod(language_model).failed == 0
