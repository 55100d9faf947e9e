"""The second opinion on refused words: its model is the one that was taught, and it takes no idle talk.

The bounds are what the model does on lines it was never taught, with some room; no source outside the project.
"""

import json
import shutil
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest
import train_intents

from caddie.places import shipped
from caddie.words import second_opinion
from caddie.words.sayings import compared
from caddie.words.second_opinion import FOLDER, MADE_FROM, Opinion, features, load, loaded

LEAST_RIGHT, MOST_WRONG, MOST_IDLE = 0.18, 0.04, 0.0
"""Shares of refused turns and of idle talk never taught."""
MOST_ASKED_AFTER, MOST_ACTED_ON = 0.02, 0.005
"""Shares of idle talk of the corpus, not taught, that are taken for anything, and for what is done at once."""


def acted_on(taken: Iterable[str]) -> list[str]:
    """Idle talk taken for what is done at once: a result is only asked after, which costs a question."""
    return [line for line in taken if " taken for result," not in line]


@pytest.fixture
def copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
    """A copy of the model, found in place of the shipped one."""
    folder = tmp_path / "model"
    shutil.copytree(shipped(FOLDER), folder)
    monkeypatch.setattr(second_opinion, "shipped", lambda name: folder)
    loaded.cache_clear()
    yield folder
    loaded.cache_clear()


def test_the_model_was_taught_the_lines_that_are_there_now() -> None:
    """Else: python tests/shared/train_intents.py."""
    made_from = json.loads((shipped(FOLDER) / MADE_FROM).read_text(encoding="utf-8"))
    assert made_from["taught"] == second_opinion.digest(train_intents.TAUGHT.read_bytes())


def test_no_line_is_both_taught_and_unseen() -> None:
    taught, unseen = (
        {compared(line) for line, _ in train_intents.written(path)}
        for path in (train_intents.TAUGHT, train_intents.UNSEEN)
    )
    assert not taught & unseen


def test_turns_never_taught_are_mostly_left_alone_and_seldom_taken_wrongly() -> None:
    judged = train_intents.judge(load(shipped(FOLDER)), train_intents.written(train_intents.UNSEEN))
    assert judged.turns >= 80 and judged.idle >= 70
    assert judged.right >= LEAST_RIGHT * judged.turns, judged
    assert len(judged.wrong) <= MOST_WRONG * judged.turns, judged
    assert len(judged.idle_taken) <= MOST_IDLE * judged.idle, judged


@pytest.mark.rare
def test_idle_talk_of_the_corpus_is_seldom_taken_by_models_that_were_not_taught_it() -> None:
    judged = [train_intents.judge(model, held) for model, held in train_intents.folds(train_intents.common())]
    assert sum(each.idle for each in judged) >= 350
    taken = [line for each in judged for line in each.idle_taken]
    idle = sum(each.idle for each in judged)
    assert len(acted_on(taken)) <= MOST_ACTED_ON * idle, taken
    assert len(taken) <= MOST_ASKED_AFTER * idle, taken
    assert sum(each.right for each in judged) > 1.5 * sum(len(each.wrong) for each in judged), judged


def test_idle_talk_of_the_corpus_is_not_taken_by_the_shipped_model() -> None:
    taken = train_intents.judge(load(shipped(FOLDER)), train_intents.off_topic()).idle_taken
    assert acted_on(taken) == []
    assert len(taken) <= 4


def test_a_strange_word_makes_it_less_sure() -> None:
    model = load(shipped(FOLDER))
    plain, strange = (
        model.opinion(text.split()).score for text in ("where do i aim", "where do i aim florbly")
    )
    assert strange <= 0.8 * plain


def test_it_is_taught_twice_alike() -> None:
    lines = [("where do i aim", "aim"), ("what is for lunch", "idle"), ("which way is it", "aim")] * 5
    one, other = (train_intents.train(lines).opinion(["where", "is", "lunch"]) for _ in range(2))
    assert one == other


@pytest.mark.parametrize("name", ["model", "cfg", MADE_FROM])
@pytest.mark.parametrize("damage", ["changed", "cut short", "gone"])
def test_a_damaged_model_has_no_opinion(copied: Path, name: str, damage: str) -> None:
    file = copied / name
    data = file.read_bytes()
    if damage == "gone":
        file.unlink()
    else:
        at = len(data) // 2
        file.write_bytes(data[:at] + (b"" if damage == "cut short" else b"\x00" + data[at + 1 :]))
    assert second_opinion.second_opinion(("give", "me", "the", "gist")) is None


def test_without_spacy_there_is_no_opinion(copied: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "spacy", None)
    assert second_opinion.second_opinion(("give", "me", "the", "gist")) is None


def test_with_the_model_as_it_is_there_is_an_opinion(copied: Path) -> None:
    found = second_opinion.second_opinion(("give", "me", "the", "gist"))
    assert isinstance(found, Opinion)
    assert found.kind == "shorter"
    assert found.score >= second_opinion.SURE


def test_numbers_are_one_word_and_stems_stand_after_the_words() -> None:
    assert features(("it", "landed", "forty")) == ["^", "it", "landed", "#", "$", "~it", "~land", "~#"]


def test_no_words_have_no_opinion() -> None:
    assert second_opinion.second_opinion(()) is None
