"""An error, as it is said in a talk."""

from caddie.reply.spoken import MOST_WORDS, sentences
from caddie.talk.state import Known, Said


def refused(known: Known, reason: str) -> Said:
    """An error as it is said: a sentence, cut after thirty words; the written one is whole."""
    whole = sentences([reason])
    words = whole.split()
    spoken = whole if len(words) <= MOST_WORDS else f"{' '.join(words[:MOST_WORDS]).rstrip('.,;:')}."
    return Said(known, spoken, written=whole)
