"""Every way of saying every entry, reduced to pieces."""

from caddie.words.grammar import Grammar
from caddie.words.reduction import Reducer

Patterns = dict[str, dict[str, list[str]]]
"""By first piece, then by the number of the entry: the pieces of each way to say it, joined by blanks."""

_BARE = frozenset({"", "#", "it", "to", "of", "i"})
"""Templates made of passed-over words alone say nothing."""


def patterns(words: Grammar, reduce: Reducer) -> Patterns:
    """The patterns of a grammar, in the order of its entries."""
    found: dict[str, dict[str, set[str]]] = {}
    for index, entry in enumerate(words.entries):
        for node in entry.say:
            for pattern in reduce.patterns(node, whole=entry.whole):
                if (said := " ".join(pattern)) not in _BARE:
                    found.setdefault(pattern[0], {}).setdefault(str(index), set()).add(said)
    return {
        first: {index: sorted(said) for index, said in entries.items()} for first, entries in found.items()
    }
