"""One played shot as data: what was faced, advised, played and said to have become of it."""

from datetime import UTC, datetime
from enum import StrEnum
from typing import Annotated, Any

from pydantic import AwareDatetime, Field

from caddie.bag.models import Family
from caddie.situation import Frozen, Result, Situation


class Mode(StrEnum):
    """What the shot was played for."""

    PRACTICE = "practice"
    """A round in which advice may be given."""
    COMPETITION = "competition"
    RANGE = "range"
    REHEARSAL = "rehearsal"
    GAME = "game"


ROUNDS = (Mode.PRACTICE, Mode.COMPETITION)
"""Modes in which shots come as the course gives them, not as a drill chose them."""


class Commitment(StrEnum):
    """How the player says they went through with the shot."""

    COMMITTED = "committed"
    QUIT = "quit"
    """Slowed down into the ball."""
    RUSH = "rush"
    """Swung too fast."""


def now() -> datetime:
    """This moment in UTC."""
    return datetime.now(UTC)


class Shot(Frozen):
    """A played shot, as the log keeps it."""

    time: AwareDatetime = Field(default_factory=now)
    mode: Mode = Mode.PRACTICE
    player: Annotated[str, Field(min_length=1)] = "player"
    sentence: str = ""
    """What was said or typed about the situation."""
    situation: Situation = Situation()
    advice: dict[str, Any] | None = None
    """The option that was advised, in the form of ``advice`` on the wire."""
    club: str | None = None
    """Id of the club played, which need not be the advised one."""
    swing: str | None = None
    family: Family | None = None
    flight: str | None = None
    """``low``, ``stock`` or ``high``."""
    result: Result = Result()
    commitment: Commitment | None = None
    cue: str | None = None
    """Id of the commitment cue that was given."""
    down_in: Annotated[int, Field(ge=1, le=12)] | None = None
    """Strokes it took to hole out, this one included, when the player says so."""
