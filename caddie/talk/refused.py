"""An error, as it is said in a talk."""

import re

from caddie.reply.spoken import MOST_WORDS, sentences
from caddie.talk.state import Known, Said

_CLAUSE = re.compile(r"(?<=[,;:.])\s+")


def refused(known: Known, reason: str) -> Said:
    """An error as it is said: as many clauses as go in thirty words; the written one is whole."""
    whole = sentences([reason])
    words = whole.split()
    if len(words) <= MOST_WORDS:
        return Said(known, whole, written=whole)
    said: list[str] = []
    for clause in _CLAUSE.split(whole):
        if sum(len(each.split()) for each in (*said, clause)) > MOST_WORDS:
            break
        said.append(clause)
    spoken = " ".join(said or words[:MOST_WORDS]).rstrip(".,;:")
    return Said(known, f"{spoken}.", written=whole)
