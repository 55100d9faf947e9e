"""How something to practise is begun, told for where the player is: no command is named where one taps."""

from enum import StrEnum

from caddie.practice.drills import layout


class ReadOn(StrEnum):
    """Where the player reads what is told."""

    TERMINAL = "terminal"
    PAGE = "page"


def how_to_begin(drill: str, read_on: ReadOn) -> str:
    """What to type or to tap.

    Args:
        drill: name of a putting drill; empty for a rehearsal.
        read_on: where it is read.

    Raises:
        CaddieError: if there is no such drill.

    >>> how_to_begin("ring", ReadOn.TERMINAL), how_to_begin("", ReadOn.PAGE)
    ('caddie practice drill ring', 'tap Rehearsal')
    """
    if read_on is ReadOn.TERMINAL:
        return f"caddie practice drill {drill}" if drill else "caddie practice rehearse"
    return f"tap Putting drills, then {layout(drill).title}" if drill else "tap Rehearsal"
