"""What a lesson changes in the bag, with the sentence that explains it."""

from enum import StrEnum

from caddie.bag.models import Family
from caddie.situation import Frozen
from caddie.units import Unit, from_metres


class ChangeKind(StrEnum):
    """What a change is about."""

    CARRY = "carry"
    RUN = "run"
    SPREAD = "spread"
    SIDE = "side"
    STRIKES = "strikes"
    TRUST = "trust"
    HELD = "held"
    """Not applied, because the bag would contradict itself."""


class Change(Frozen):
    """One thing the shots say about the bag; lengths in metres."""

    kind: ChangeKind
    club: str | None = None
    swing: str | None = None
    family: Family | None = None
    before: float
    after: float
    se: float
    """Standard error of ``after``; 0 where none is stated."""
    shots: int
    """Shots behind it."""
    sentence: str


def swing_said(swing: str) -> str:
    """A swing length as part of a sentence.

    >>> swing_said("chest"), swing_said("full")
    ('to the chest', 'at full swing')
    """
    return f"to the {swing}" if swing in ("hip", "chest", "shoulder") else f"at {swing} swing"


def family_said(family: Family) -> str:
    """A kind of shot as said.

    >>> family_said(Family.BUMP_AND_RUN)
    'bump-and-run'
    """
    return {Family.SPLASH: "bunker splash"}.get(family, family.value.replace("_", "-"))


def plain(length_m: float, unit: Unit) -> str:
    """A length to the tenth, without its unit."""
    return f"{from_metres(length_m, unit):.1f}"


def length(length_m: float, unit: Unit) -> str:
    """A length to the tenth."""
    return f"{plain(length_m, unit)} {unit.value}"
