"""How much of what is said is understood: precision and recall per slot over the corpus.

Every line of the corpus was looked at while the grammar was written: plain figures, not a forecast.
"""

from collections.abc import Callable

import beside  # noqa: F401  finds utterances
from rows import Part, Row, Size, share_row
from utterances import OFF_TOPIC, SUBJECTS, Reading, Score, lines, read

SLOTS = (
    "intent pin front room lie sitting stance pin_position hazard elevation fall side_fall fall_slope stimp "
    "firmness wind wind_from club swing family flight distance sides strike finish"
).split()
ALL, OTHER = "all slots", "other slots"
WHOLE = "corpus, utterances wholly right"
TAKEN = "talk off the topic taken for golf"


def names() -> tuple[str, ...]:
    slots = [f"corpus, {slot}: {kind}" for slot in (ALL, *SLOTS, OTHER) for kind in ("precision", "recall")]
    return (*slots, WHOLE, TAKEN)


def slot_rows(found: Score) -> list[Row]:
    rows = []
    for label in (ALL, *SLOTS, OTHER):
        everything = found.right.keys() | found.missed.keys() | found.invented.keys()
        held: Callable[[str], bool] = {
            ALL: lambda slot: True,
            OTHER: lambda slot: slot not in SLOTS,
        }.get(label, lambda slot, label=label: slot == label)
        counted = [slot for slot in everything if held(slot)]
        right = sum(found.right[slot] for slot in counted)
        got = right + sum(found.invented[slot] for slot in counted)
        wanted = right + sum(found.missed[slot] for slot in counted)
        rows.append(share_row(f"corpus, {label}: precision", right, got, "facts told"))
        rows.append(share_row(f"corpus, {label}: recall", right, wanted, "facts said"))
    return rows


def off_topic(readings: list[Reading]) -> Row:
    other = [reading for reading in readings if reading.line.subject == OFF_TOPIC]
    return share_row(TAKEN, sum(bool(reading.wrong) for reading in other), len(other), "sentences")


def measure(size: Size) -> list[Row]:
    readings = [read(line) for subject in SUBJECTS for line in lines(subject)]
    found = Score(readings)
    whole = share_row(WHOLE, found.whole, found.utterances, "utterances")
    return [*slot_rows(found), whole, off_topic(readings)]


PART = Part(names(), measure)
