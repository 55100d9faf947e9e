"""One played shot as data: what was faced, advised, played and said to have become of it."""

from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Annotated, Any, TypedDict

from pydantic import AfterValidator, AwareDatetime, Field

from caddie.bag.models import Family
from caddie.situation import Frozen, Result, Situation

FIRST_YEAR, LAST_YEAR = 1900, 2900
DEEPEST_ADVICE = 8


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


def local_day(moment: datetime) -> date:
    """The calendar day on the player's own clock: what "today" and "a round" are counted by."""
    return moment.astimezone().date()


def within_years(moment: datetime) -> datetime:
    """The moment, if its year is one that every time zone can count in.

    Raises:
        ValueError: if not.
    """
    if not FIRST_YEAR <= moment.year <= LAST_YEAR:
        raise ValueError(f"the year must be {FIRST_YEAR} to {LAST_YEAR}")
    return moment


def _shallow(advice: dict[str, Any]) -> dict[str, Any]:
    level: list[Any] = [advice]
    for _ in range(DEEPEST_ADVICE):
        level = [
            inner
            for each in level
            for inner in (each.values() if isinstance(each, dict) else each if isinstance(each, list) else ())
        ]
    if level:
        raise ValueError("advice is nested deeper than any of caddie's")
    return advice


class Shot(Frozen):
    """A played shot, as the log keeps it."""

    time: Annotated[AwareDatetime, AfterValidator(within_years)] = Field(default_factory=now)
    mode: Mode = Mode.PRACTICE
    player: Annotated[str, Field(min_length=1)] = "player"
    sentence: str = ""
    """What was said or typed about the situation."""
    situation: Situation = Situation()
    advice: Annotated[dict[str, Any], AfterValidator(_shallow)] | None = None
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


class ToldLater(TypedDict, total=False):
    """What may be told of a kept shot beside its result."""

    commitment: Commitment | None
    down_in: int | None
    club: str | None
    """Another club than the one it was taken for: how it was swung is then not known."""


def columns_of(later: ToldLater) -> dict[str, str | int | None]:
    """What was told, as the log's columns hold it."""
    commitment, down_in = later.get("commitment"), later.get("down_in")
    told: dict[str, str | int | None] = {} if commitment is None else {"commitment": commitment.value}
    if (club := later.get("club")) is not None:
        told |= {"club": club, "swing": None, "family": None, "flight": None}
    return told if down_in is None else {**told, "down_in": down_in}
