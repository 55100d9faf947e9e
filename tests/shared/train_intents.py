"""Teaches the second opinion (``caddie.words.second_opinion``) the kinds of turn, and writes its model.

It learns from tests/corpus/second_opinion/taught.toml, the other utterances of the corpus, sayings drawn from the
talk's grammar and sampled sentences; never from unseen.toml there, which the threshold is judged by.

``python tests/shared/train_intents.py`` writes the model, in well under a minute, and prints what it makes of
unseen.toml; ``--look`` only prints; ``--folds`` judges it on lines of taught.toml and off_topic.toml, each fold by a
model that was not taught it.
"""

import json
import random
import sys
import tomllib
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import utterances

from caddie.places import shipped
from caddie.talk.second_look import asks_back, plainly
from caddie.words import Intent, sentences, understand
from caddie.words.sayings import compared, sayings_of
from caddie.words.sayings_taught import drawn
from caddie.words.second_opinion import (
    FOLDER,
    MADE_FROM,
    NO_KIND,
    PARTS,
    SURE,
    Model,
    as_taught,
    digest,
    empty,
    load,
)  # fmt: skip
from caddie.words.templates import parse, say

Line = tuple[str, str]
"""What is said, and its kind of turn, "told" or "idle"."""

TAUGHT = utterances.CORPUS / "second_opinion" / "taught.toml"
UNSEEN = utterances.CORPUS / "second_opinion" / "unseen.toml"
SEED = 0
TIMES_TAUGHT = 3
"""How often a line of taught.toml counts beside one of the corpus."""
DRAWN_OF_EACH, SAID_OF_EACH, SAMPLED_OF_EACH = 80, 6, 100
PASSES, BATCH, RATE = 5, 64, 0.01
FOLDS = 5
_CALLED = {
    "bye": "stop", "pardon": "repeat", "holed": "result", "missed": "result", "two_putts": "result",
    "committed": "result", "quit": "result", "rush": "result",
}  # fmt: skip
"""Sayings of the talk's grammar that are another kind here."""
_BY_INTENT = {
    Intent.WHY: "why", Intent.REPEAT: "repeat", Intent.SHORTER: "shorter", Intent.READY: "ready",
    Intent.UNDO: "undo", Intent.NEXT_HOLE: "next", Intent.STOP: "stop", Intent.HELP: "help",
    Intent.RESULT: "result", Intent.GREETING: "thanks", Intent.OUT_OF_SCOPE: "idle",
}  # fmt: skip


@dataclass(frozen=True)
class Judged:
    """Refused turns and idle talk, and what a model makes of them."""

    turns: int
    right: int
    wrong: tuple[str, ...]
    idle: int
    idle_taken: tuple[str, ...]

    def __str__(self) -> str:
        return "\n".join(
            [
                f"{self.right} of {self.turns} refused turns right, {len(self.wrong)} taken for another kind, "
                f"{len(self.idle_taken)} of {self.idle} idle lines taken",
                *self.wrong,
                *self.idle_taken,
            ]
        )


def written(path: Path) -> list[Line]:
    """The lines of taught.toml or unseen.toml as they stand there."""
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    turns = [(line, kind) for kind, lines in data["turns"].items() for line in lines]
    return turns + [(line, "idle") for line in data["idle"]["say"]]


def off_topic() -> list[Line]:
    """The corpus's talk about no shot."""
    return [(line.say, "idle") for line in utterances.lines(utterances.OFF_TOPIC)]


def common() -> list[Line]:
    """What is taught besides: drawn idle talk, sayings, the rest of the corpus, sampled sentences."""
    return [*_idle_drawn(), *_sayings_drawn(), *_corpus(), *_sampled()]


def train(lines: Sequence[Line]) -> Model:
    """A model taught these lines, the same one each time."""
    import numpy as np
    import spacy
    from spacy.training import Example

    chance = random.Random(SEED)
    np.random.seed(SEED)
    spacy.util.fix_random_seed(SEED)
    language, categoriser = empty()
    kinds = sorted({kind for _, kind in lines})
    for kind in kinds:
        categoriser.add_label(kind)
    words = {word for text, kind in lines if kind != "idle" for word in as_taught(compared(text))}
    model = Model(language, categoriser, frozenset(words))
    examples = []
    for text, kind in lines:
        example = Example(model.doc(compared(text)), model.doc(compared(text)))
        example.reference.cats = {each: float(each == kind) for each in kinds}
        examples.append(example)
    optimiser = language.initialize(lambda: examples[:10])
    optimiser.learn_rate = RATE
    for _ in range(PASSES):
        chance.shuffle(examples)
        for at in range(0, len(examples), BATCH):
            categoriser.update(examples[at : at + BATCH], sgd=optimiser)
    return model


def judge(model: Model, lines: Iterable[Line], sure: float = SURE) -> Judged:
    """What the model makes of those of the lines that the rules refuse."""
    turns: Counter[str] = Counter()
    wrong, taken = [], []
    for text, kind in lines:
        if understand(text).intent is not Intent.OUT_OF_SCOPE or sayings_of(text):
            continue
        opinion = model.opinion(compared(text))
        held = opinion.kind not in NO_KIND and opinion.score >= sure
        told = f"  {text!r} ({kind}) taken for {opinion.kind}, {opinion.score:.2f}"
        turns["idle" if kind == "idle" else "all"] += 1
        turns["right"] += held and opinion.kind == kind
        if held and opinion.kind != kind:
            (taken if kind == "idle" else wrong).append(told)
    return Judged(turns["all"], turns["right"], tuple(wrong), turns["idle"], tuple(taken))


def folds(besides: Sequence[Line], count: int = FOLDS) -> list[tuple[Model, list[Line]]]:
    """Models taught all but one fold of the written lines and of off_topic.toml, each with that fold."""
    once, often = off_topic(), written(TAUGHT)
    for lines in (once, often):
        random.Random(SEED).shuffle(lines)
    found = []
    for fold in range(count):
        held = [*once[fold::count], *often[fold::count]]
        taught = [line for at, line in enumerate(once) if at % count != fold]
        taught += [line for at, line in enumerate(often) if at % count != fold] * TIMES_TAUGHT
        found.append((train([*besides, *taught]), held))
    return found


def keep(model: Model, folder: Path) -> None:
    """Write the model with the digests of its files and of what it was taught."""
    folder.mkdir(exist_ok=True)
    model.categoriser.to_disk(folder, exclude=["vocab"])
    made_from = {
        "digests": {part: digest((folder / part).read_bytes()) for part in PARTS},
        "taught": digest(TAUGHT.read_bytes()),
        "words": sorted(model.taught_words),
    }
    (folder / MADE_FROM).write_text(json.dumps(made_from, indent=0) + "\n", encoding="utf-8")


def _idle_drawn() -> list[Line]:
    idle = tomllib.loads(TAUGHT.read_text(encoding="utf-8"))["idle"]
    chance = random.Random(SEED)
    parts = {name: parse(each) for name, each in idle["parts"].items()}
    nodes = [parse(each) for each in idle["drawn"]]
    said = {
        " ".join(say(node, chance, lambda name: say(parts[name], chance, str)).split())
        for node in nodes
        for _ in range(DRAWN_OF_EACH)
    }
    return [(text, "idle") for text in sorted(said)]


def _sayings_drawn() -> list[Line]:
    known = plainly().keys() | asks_back().keys()
    return [
        (text, _CALLED.get(name, name if name in known else "told"))
        for name, said in sorted(drawn(SAID_OF_EACH, SEED).items())
        for text in said
    ]


def _corpus() -> list[Line]:
    subjects = [each for each in utterances.SUBJECTS if each not in ("replies", utterances.OFF_TOPIC)]
    return [
        (line.say, _BY_INTENT.get(Intent(str(line.facts["intent"])), "told"))
        for subject in subjects
        for line in utterances.lines(subject)
    ]


def _sampled() -> list[Line]:
    return [
        (text, "result" if shape == "result" else "told")
        for shape in ("result", "situation", "putt", "correct", "what_if")
        for text in sentences(SAMPLED_OF_EACH, SEED, [shape])
    ]


def main() -> None:
    if "--folds" in sys.argv:
        for model, held in folds(common()):
            print(judge(model, held))
        return
    if "--look" not in sys.argv:
        keep(
            train([*common(), *off_topic(), *written(TAUGHT) * TIMES_TAUGHT]),
            shipped("grammars/en") / Path(FOLDER).name,
        )
    print(judge(load(shipped(FOLDER)), written(UNSEEN)))


if __name__ == "__main__":
    main()
