"""How fast an utterance is read, warm, over every line of the corpus."""

import beside  # noqa: F401  finds utterances
from rows import Part, Row, Size, times_row, wall_ms
from utterances import SUBJECTS, lines, read

NAME = "an utterance read, warm"


def measure(size: Size) -> list[Row]:
    said = [line for subject in SUBJECTS for line in lines(subject)]
    for line in said[:50]:
        read(line)
    taken = [wall_ms(lambda line=line: read(line)) for _ in range(size.take(5, 1)) for line in said]
    return [times_row(NAME, taken, "ms", "utterances")]


PART = Part((NAME,), measure)
