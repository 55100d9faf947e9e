"""What cannot be done or understood, said in one short line."""

from caddie.reply.spoken import MOST_WORDS, sentences
from caddie.talk.state import Known, Said

_PAUSES = ",;:."


def refused(known: Known, error: str) -> Said:
    """An error as it is said: a sentence, a longer one as far as a pause in thirty words; the written one is whole."""
    whole = sentences([error])
    words = whole.split()
    if len(words) <= MOST_WORDS:
        return Said(known, whole, written=whole)
    ends = [count for count in range(LEAST_SAID, MOST_WORDS + 1) if words[count - 1][-1] in _PAUSES]
    cut = " ".join(words[: ends[-1] if ends else MOST_WORDS])
    return Said(known, f"{cut.rstrip('.,;:')}.", written=whole)


LEAST_SAID = 8
"""Fewer words before a pause tell little."""
