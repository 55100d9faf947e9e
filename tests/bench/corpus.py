"""How much of what is said is understood: precision and recall per slot, on the tuned and the blind sets.

The tuned files were looked at while the grammar was written; the blind one never was.
"""

from collections.abc import Callable
from pathlib import Path

import beside
from rows import Part, Row, Size, share_row
from test_corpus import UNSEEN, Score, read, score, tuned

from caddie.situation import Situation
from caddie.words import understand

SLOTS = (
    "intent pin front room lie sitting stance pin_position hazard elevation fall side_fall fall_slope stimp "
    "firmness wind wind_from club swing family flight distance sides strike finish"
).split()
ALL, OTHER = "all slots", "other slots"
OFF_TOPIC = "talk off the topic taken for golf"
SETS = ("corpus", "blind set")


def names() -> tuple[str, ...]:
    """Every slot of the tuned set; of the smaller blind set all slots together."""
    found = [f"corpus, {slot}: {kind}" for slot in (ALL, *SLOTS, OTHER) for kind in ("precision", "recall")]
    for name in SETS:
        found.append(f"{name}, utterances wholly right")
    return (*found, *(f"blind set, {ALL}: {kind}" for kind in ("precision", "recall")), OFF_TOPIC)


def slot_rows(name: str, found: Score, slots: tuple[str, ...]) -> list[Row]:
    rows = []
    for label in slots:
        everything = found.right.keys() | found.missed.keys() | found.invented.keys()
        held: Callable[[str], bool] = {
            ALL: lambda slot: True,
            OTHER: lambda slot: slot not in SLOTS,
        }.get(label, lambda slot, label=label: slot == label)
        counted = [slot for slot in everything if held(slot)]
        right = sum(found.right[slot] for slot in counted)
        got = right + sum(found.invented[slot] for slot in counted)
        wanted = right + sum(found.missed[slot] for slot in counted)
        rows.append(share_row(f"{name}, {label}: precision", right, got, "facts told"))
        rows.append(share_row(f"{name}, {label}: recall", right, wanted, "facts said"))
    return rows


def off_topic(path: Path) -> Row:
    said = [line["say"] for line in read(path)[0]]
    taken = 0
    for text in said:
        heard = understand(text)
        golf = heard.intent in ("situation", "putt", "correct", "result")
        taken += golf or heard.situation != Situation()
    return share_row(OFF_TOPIC, taken, len(said), "sentences")


def measure(size: Size) -> list[Row]:
    rows = []
    sets = {SETS[0]: tuned(), SETS[1]: [beside.CORPUS / f"{UNSEEN}.toml"]}
    for name, paths in sets.items():
        found = score(paths)
        rows += slot_rows(name, found, (ALL, *SLOTS, OTHER) if name == SETS[0] else (ALL,))
        rows.append(
            share_row(f"{name}, utterances wholly right", found.whole, found.utterances, "utterances")
        )
    return [*rows, off_topic(beside.CORPUS / "offtopic.toml")]


PART = Part(names(), measure)
