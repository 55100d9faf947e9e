"""How many shots a player wants taken out of the log again: "undo the last three", "scratch that shot"."""

from caddie.words.sayings import bare, begins, compared, says_in_part

_COUNTS = {"two": 2, "three": 3, "four": 4, "five": 5, "2": 2, "3": 3, "4": 4, "5": 5}
_OF_A_LENGTH = frozenset({"feet", "foot", "yards", "metres", "paces"})
_SHOTS = frozenset({"shot", "shots", "stroke", "strokes", "strike", "result", "results", "entry", "entries"})
_NOT_A_SHOT = "not_hit"
_TAKES_OUT = "undo_lead"


def shots_to_take_out(text: str) -> int | None:
    """The number of shots named; None when only the last thing said is taken back.

    >>> shots_to_take_out("undo the last three"), shots_to_take_out("scratch that shot"), shots_to_take_out("undo")
    (3, 1, None)
    """
    words = compared(bare(text))
    if "both" in words:
        return 2
    named = [_COUNTS[word] for word in words if word in _COUNTS]
    if named and _OF_A_LENGTH.isdisjoint(words):
        return named[0]
    of_a_shot = not _SHOTS.isdisjoint(words) or ("last" in words and "one" in words)
    return 1 if of_a_shot or says_in_part(text, _NOT_A_SHOT) or begins(text, _TAKES_OUT) else None
