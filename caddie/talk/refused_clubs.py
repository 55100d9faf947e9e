"""Clubs that the player will not hit with this shot, in whatever words: "no way am I hitting the sixty"."""

import re
from collections.abc import Iterator

from caddie.bag import Bag, Club, ClubKind, Family
from caddie.plan.candidates import Only
from caddie.situation import Lie, Situation
from caddie.talk.of_two import named_shots
from caddie.talk.wish import without_putter
from caddie.words import Understanding
from caddie.words.gist import gists_of, is_question
from caddie.words.sayings import compared, says_in_part
from caddie.words.talk_files import lore_data

_CLUB_OF: dict[Family | None, str] = {Family.LOB: "lob wedge"}
"""Kinds of shot that a club has its name of: who does not fancy the lob leaves the club in the bag."""
REFUSED = "refused"
NO_PUTTER = "no_putter"
_CLAUSES = re.compile(r"(?<=[,.;:!?…])\s+|\s+(?=but\s)")


def refused_clubs(text: str, bag: Bag) -> tuple[Club, ...]:
    """The clubs of the bag that the words refuse, the putter apart."""
    named = (each for clause in _refusing(text, REFUSED) for each in named_shots(clause, bag))
    clubs = (bag.club_called(each.club or _CLUB_OF.get(each.family, "")) for each in named)
    return tuple(
        club for club in dict.fromkeys(clubs) if club is not None and club.kind is not ClubKind.PUTTER
    )


def refuses_a_club(text: str) -> bool:
    """Whether the words turn any club down."""
    return refuses_the_putter(text) or any(True for _ in _refusing(text, REFUSED))


def refuses_the_putter(text: str) -> bool:
    """Whether the words turn the putter down: "I'm not putting over that"."""
    return (_may_refuse(text) and says_in_part(text, NO_PUTTER)) or any(
        True for _ in _refusing(text, NO_PUTTER)
    )


def unrefused(only: Only, heard: Understanding, situation: Situation, bag: Bag) -> Only:
    """The wish without the clubs that the same words refuse; on the green the putter stays."""
    if situation.lie is not Lie.GREEN and refuses_the_putter(heard.heard):
        only = without_putter(only, bag)
    return without_clubs(only, refused_clubs(heard.heard, bag), bag)


def without_clubs(only: Only, clubs: tuple[Club, ...], bag: Bag) -> Only:
    """The same wish with these clubs left out, and none of them asked for."""
    if not clubs:
        return only
    out = {club.id for club in clubs}
    asked = bag.club_called(only.club) if only.club else None
    kept = {"club": None, "swing": None, "longest": None} if asked is not None and asked.id in out else {}
    return only.model_copy(update={**kept, "without": tuple(sorted(out.union(only.without)))})


def _refusing(text: str, saying: str) -> Iterator[str]:
    told = _CLAUSES.split(text) if _may_refuse(text) else ()
    return (clause for clause in told if saying in gists_of(clause) and not is_question(clause))


def _may_refuse(text: str) -> bool:
    """Whether a word is said without which no club is refused: most turns are told apart by that alone."""
    return not set(lore_data()["refusing"]).isdisjoint(compared(text))
