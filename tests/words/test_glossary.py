"""Every word of the game that the caddie may say has a meaning to give.

What it may say is read off the sources of its sentences; a word there that is neither everyday English, as listed in
``everyday.txt``, nor in a term of the glossary is one that a player may ask about in vain.
"""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import caddie
from caddie.places import shipped
from caddie.plan.called import HAZARD_SAID
from caddie.plan.option import Option
from caddie.reply.phrases import flight_said, swing_said
from caddie.reply.situation import LIE_SAID
from caddie.situation import HazardKind
from caddie.talk.lore import meaning_of
from caddie.words.talk_files import glossary_data, lore_data, rules_data

ROOT = Path(caddie.__file__).parent
SENTENCES = (
    *sorted((ROOT / "reply").glob("*.py")),
    *sorted((ROOT / "talk").glob("*.py")),
    *(ROOT / "plan").glob("reasons.py"),
    *(ROOT / "plan").glob("called.py"),
    *(ROOT / "plan" / "putt").glob("reasons.py"),
)
_DRAWN = ("svg", "picture")
_PATTERN = re.compile(r"\\|\|")
"""What is matched, and not said."""
_WORD = re.compile(r"[a-z]+(?:-[a-z]+)*")
SWINGS = (
    "hip", "chest", "shoulder", "full", "just short of full", "under hip", "just past hip", "just short of hip",
    "just past chest", "just short of chest", "just past shoulder", "just short of shoulder", "hip to chest",
    "chest to shoulder",
)  # fmt: skip


def _strings(path: Path) -> Iterator[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    told = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
            yield node.value


def vocabulary() -> set[str]:
    """Every word of the sentences in the code, of the cues, of the lore and of the meanings themselves."""
    texts = [
        text
        for path in SENTENCES
        if not any(drawn in path.stem for drawn in _DRAWN)
        for text in _strings(path)
        if not _PATTERN.search(text)
    ]
    cues = tomllib.loads(shipped("grammars/en/cues.toml").read_text(encoding="utf-8"))
    texts += [cue["say"] for cue in cues.values()]
    texts += [each["say"] for each in lore_data()["technique"]]
    for table in ("practice", "in_short", "cause"):
        texts += lore_data()[table].values()
    texts += [rule["say"] for rule in rules_data()["rule"]]
    texts += [term["means"] for term in glossary_data()]
    return {word for text in texts for word in _WORD.findall(text.lower())}


def explained() -> set[str]:
    return {word for term in glossary_data() for said in term["said"] for word in said.split()}


def test_every_word_that_is_said_is_everyday_or_explained() -> None:
    everyday = set((Path(__file__).parent / "everyday.txt").read_text(encoding="utf-8").split())
    known = everyday | explained()
    unknown = {word for word in vocabulary() - known if not all(part in known for part in word.split("-"))}
    assert sorted(unknown) == []


def test_no_word_counts_as_everyday_that_is_never_said() -> None:
    everyday = set((Path(__file__).parent / "everyday.txt").read_text(encoding="utf-8").split())
    parts = {part for word in vocabulary() for part in (word, *word.split("-"))}
    assert sorted(everyday - parts) == []


def _swung(swing: str) -> Option:
    return Option.model_construct(swing=swing, family=None)


@pytest.mark.parametrize("swing", SWINGS)
def test_each_swing_has_its_own_meaning(swing: str) -> None:
    """ "Hands just past the hip" is not "hands to the hip"."""
    said = swing_said(_swung(swing))
    meant = meaning_of(f"what does {said} mean")
    others = {meaning_of(f"what does {swing_said(_swung(other))} mean") for other in SWINGS if other != swing}
    assert meant is not None
    assert meant not in others or swing in ("under hip", "just short of hip")


@pytest.mark.parametrize("kind", HazardKind)
def test_every_shape_and_trouble_has_a_meaning(kind: HazardKind) -> None:
    assert meaning_of(f"what does {HAZARD_SAID[kind]} mean") is not None


@pytest.mark.parametrize("said", sorted(set(LIE_SAID.values()) - {"on the green"}))
def test_every_lie_has_a_meaning(said: str) -> None:
    assert meaning_of(f"what does {said} mean") is not None


def test_a_meaning_needs_no_word_of_its_own_to_be_explained_by_itself() -> None:
    """The lead and the trail side are told as nearer and farther, in words for a first day."""
    assert "farther from the target" in (meaning_of("whats just past the hip mean") or "")
    assert "trail" not in (meaning_of("whats just past the hip mean") or "")
    assert (
        flight_said(Option.model_construct(family=None, flight="stock", wide_open=True)) == "face wide open"
    )
    assert meaning_of("what does face wide open mean") is not None
