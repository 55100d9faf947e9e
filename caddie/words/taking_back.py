"""How many shots a player wants taken out of the log again: "undo the last three", "scratch that shot"."""

from caddie.words.numbers import read_number
from caddie.words.sayings import bare, begins, compared, says_in_part

MOST_TAKEN_OUT = 18
"""A greater number beside a shot is a length or a loft."""
_TELLS_NO_COUNT = frozenset("feet foot yards metres paces iron wood wedge degree degrees".split())
"""What a number is followed by that counts no shots."""
_SHOTS = frozenset({"shot", "shots", "stroke", "strokes", "strike", "result", "results", "entry", "entries"})
_NOT_A_SHOT = "not_hit"
_TAKES_OUT = "undo_lead"


def shots_to_take_out(text: str) -> int | None:
    """The number of shots named; None when only the last thing said is taken back.

    >>> shots_to_take_out("undo the last three"), shots_to_take_out("scratch that shot"), shots_to_take_out("undo")
    (3, 1, None)
    >>> shots_to_take_out("take the last dozen out"), shots_to_take_out("scratch the nine iron shot")
    (12, 1)
    """
    words = compared(bare(text))
    if "both" in words:
        return 2
    if (count := _counted(words)) is not None:
        return count
    of_a_shot = not _SHOTS.isdisjoint(words) or ("last" in words and "one" in words)
    return 1 if of_a_shot or says_in_part(text, _NOT_A_SHOT) or begins(text, _TAKES_OUT) else None


def _counted(words: tuple[str, ...]) -> int | None:
    """The first whole number of more than one that counts shots."""
    if not _TELLS_NO_COUNT.isdisjoint(words):
        return None
    numbers = (read_number(words, at) for at in range(len(words)))
    counts = (
        int(number.value) for number in numbers if number is not None and number.value == int(number.value)
    )
    return next((count for count in counts if 1 < count <= MOST_TAKEN_OUT), None)
