"""Every entry of a grammar as phrases of pieces, in stretches."""

from caddie.words.grammar import Grammar
from caddie.words.phrases import Stretches
from caddie.words.reduction import Reducer
from caddie.words.stretches import Cutter


def patterns(words: Grammar, reduce: Reducer) -> dict[int, list[Stretches]]:
    """The phrases of each entry, by its number."""
    cutter = Cutter(words, reduce)
    return {
        number: [cutter.stretches(node, whole=entry.whole) for node in entry.say]
        for number, entry in enumerate(words.entries)
    }
