"""How fast an utterance is read, warm, over every line of the corpus."""

import beside  # noqa: F401  finds test_corpus
from rows import Part, Row, Size, times_row, wall_ms
from test_corpus import files, read

from caddie.words import understand

NAME = "an utterance read, warm"


def measure(size: Size) -> list[Row]:
    said = [
        (line["say"], bool(line.get("from_speech", common.get("from_speech", False))))
        for lines, common in map(read, files())
        for line in lines
    ]
    for text, speech in said[:50]:
        understand(text, from_speech=speech)
    taken = [
        wall_ms(lambda text=text, speech=speech: understand(text, from_speech=speech))
        for _ in range(size.take(5, 1))
        for text, speech in said
    ]
    return [times_row(NAME, taken, "ms", "utterances")]


PART = Part((NAME,), measure)
