"""How far back a swing goes: as it is defined, and whether what the player pictures it by is right.

"How far back is between hip and chest, like, belly button?", "so waist high?", "is that nine o'clock?"
"""

from functools import cache

from caddie.bag import Family
from caddie.plan.option import Plan
from caddie.reply.phrases import swing_said
from caddie.reply.spoken import shortest
from caddie.talk.asked import in_play, of_the_shot, swing
from caddie.talk.compare import names_another, with_the_club
from caddie.talk.lore import meaning_of
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said
from caddie.words import Understanding
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data

SAME_HEIGHT = 0.35
"""A height that differs by less of the way from hip to chest is the same to the eye."""
_HANDS = "hands "


def swing_asked(desk: Desk, known: Known, heard: Understanding) -> Said:
    """How big a swing: the one that is named, else that of the shot; with another club, that club's from here."""
    if names_another(desk, known, heard):
        return with_the_club(desk, known, heard)
    plan = in_play(known)
    said = (
        of_the_shot(swing)(desk, known, heard) if plan is None else swing_pictured(desk, known, heard.heard)
    )
    return said or of_the_shot(swing)(desk, known, heard)


def swing_pictured(desk: Desk, known: Known, text: str) -> Said | None:
    """What a length of swing is that is named or pictured; None where neither is."""
    plan = in_play(known)
    if plan is None or plan.chosen.family is Family.PUTT:
        return None
    text = f" {' '.join(compared(text))} "
    named = max((each for each in _heights() if f" {each} " in text), key=len, default="")
    pictured = _pictured(text.replace(f" {named} ", " . ") if named else text)
    if not named and pictured is None:
        return None
    meant = meaning_of(f"{_HANDS}{named}") if named else None
    called = named or _called(plan)
    height = _heights()[called]
    told = (meant or meaning_of(swing_said(plan.chosen)) or "").partition(": ")[2] or swing_said(plan.chosen)
    right = _right(pictured, height) if pictured is not None else ""
    spoken = shortest([[right, told] if right else [f"{called}: {told}"], [right or told]])
    return Said(known.changed(spoken=spoken, question=None), spoken, intent=ASKED_OF_THE_SHOT)


def _right(pictured: float, height: float) -> str:
    if abs(pictured - height) <= SAME_HEIGHT:
        return "yes, about there"
    return "no, lower than that" if pictured > height else "no, a little higher than that"


def _called(plan: Plan) -> str:
    return swing_said(plan.chosen).removeprefix(_HANDS)


def _pictured(text: str) -> float | None:
    """How high what is pictured is, the longest name of one first."""
    found = [(len(said), height) for said, height in _pictures().items() if f" {said} " in text]
    return max(found)[1] if found else None


@cache
def _heights() -> dict[str, float]:
    found: dict[str, float] = lore_data()["how_high"]
    return found


@cache
def _pictures() -> dict[str, float]:
    """What a swing is pictured by, and how high that is."""
    told: dict[str, list[str]] = lore_data()["looks_like"]
    return {" ".join(compared(said)): float(height) for height, ways in told.items() for said in ways}
