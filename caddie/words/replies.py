"""What a question just asked may be answered with, and an answer as read."""

from enum import StrEnum

from caddie.range.told import BallTold, CarryAsSaid, Command
from caddie.situation import Frozen, Result


class Expecting(StrEnum):
    """What was just asked."""

    CARRY = "carry"
    """What became of a ball on the range."""
    STROKES = "strokes"
    """How many strokes it took to hole out."""
    LEFT = "left"
    """Where a ball ended, mostly how far from the hole."""
    HOLED = "holed"
    """Whether a putt went in."""
    THROUGH = "through"
    """Whether a putt went through a gate."""
    STOPPED = "stopped"
    """Where a putt stopped against a zone: short, in or long."""
    YES_NO = "yes_no"
    CLUBS = "clubs"
    """Which clubs the player has."""
    CARRIES = "carries"
    """How far clubs carry."""
    HANDICAP = "handicap"
    CHOICE = "choice"
    """Some of the things named with the question."""


class Reply(Frozen):
    """An answer to what was asked; only what was asked is filled.

    With neither an answer nor a ``command`` it was not understood, and ``problem`` says why when there is more
    to say than that.
    """

    heard: str
    command: Command | None = None
    yes: bool | None = None
    """Yes or no; of a putt, whether it was well: holed, through, in the zone; of a list, no for none of it."""
    ball: BallTold | None = None
    strokes: int | None = None
    result: Result | None = None
    commitment: str | None = None
    """How the player went through with the shot: committed, quit or rush."""
    clubs: tuple[str, ...] = ()
    """As :func:`caddie.range.new_bag.usual_club` takes them: "56", "pw", "9i"."""
    carries: tuple[CarryAsSaid, ...] = ()
    handicap: float | None = None
    """Below zero for a plus handicap."""
    chosen: tuple[str, ...] = ()
    unknown: str | None = None
    """The first word that is none of what was asked for."""
    problem: str | None = None
