"""The shot that a player names: club, swing, kind, flight and face to keep to."""

from caddie.bag import Bag, ClubKind, Family
from caddie.ball.launch import Flight
from caddie.plan.candidates import Face, Only
from caddie.plan.option import Option
from caddie.situation import Lie
from caddie.words import Understanding
from caddie.words.gist import is_question
from caddie.words.sayings import begins, clauses, ends

_PUTTER = "putter"
_KINDS_ASKED_FOR = (Family.PUTT, Family.BUMP_AND_RUN, Family.LOB)


def asked_for(heard: Understanding) -> Only:
    """The club, swing, kind of shot and flight named in an utterance."""
    # "Putter, boring. I want to chip": a kind that no putter plays is the wish, and the putter turned down.
    swung = heard.family not in (None, Family.PUTT) and heard.club == _PUTTER
    return Only(
        club=None if swung else heard.club,
        swing=heard.swing,
        longest=_longest_swing(heard),
        family=heard.family,
        flight=Flight(heard.flight) if heard.flight else None,
        face=Face(heard.face) if heard.face else None,
    )


def asked_with_facts(heard: Understanding, swing: str | None) -> Only:
    """What is named of a shot among its facts; a swing, ``swing``, or a kind that many shots have alone is no wish."""
    return Only(
        club=heard.club,
        swing=swing if heard.club else None,
        family=_kind_asked_for(heard),
        longest=_longest_swing(heard) if heard.club else None,
        face=Face(heard.face) if heard.face else None,
    )


def without_putter(only: Only, bag: Bag) -> Only:
    """The same wish with every putter left out, and no putt asked for."""
    putters = {club.id for club in bag.clubs if club.kind is ClubKind.PUTTER}
    update = {"club": None, "family": None} if only.is_putting(bag) else {}
    return only.model_copy(update={**update, "without": tuple(sorted(putters.union(only.without)))})


def with_club(only: Only, option: Option) -> Only:
    """The wish once the player has chosen a shot: its club holds until the shot is over, whatever else is told."""
    if option.line is not None:
        return only
    return Only(club=option.club, without=tuple(club for club in only.without if club != option.club))


def of_the_club(only: Only, option: Option, bag: Bag) -> Only:
    """The wish, without a club chosen that is not the one of the shot kept to."""
    chosen = bag.club_called(only.club) if only.club else None
    return only if chosen is None or chosen.id == option.club else Only(without=only.without)


def still_refused(named: Only, before: Only, bag: Bag) -> Only:
    """What is named now, with the clubs that were refused before, but the one named."""
    club = bag.club_called(named.club) if named.club else None
    kept = {each for each in before.without if club is None or each != club.id}
    return named.model_copy(update={"without": tuple(sorted(kept.union(named.without)))})


def _kind_asked_for(heard: Understanding) -> Family | None:
    """The kind of shot that would be played: one that leaves others out, as "chip" does only when it is chosen."""
    off_green = heard.situation.lie is not Lie.GREEN
    named = heard.family in _KINDS_ASKED_FOR or is_chosen(heard.heard)
    return heard.family if off_green and named else None


def _longest_swing(heard: Understanding) -> str | None:
    """The longest swing of one that is to be less than full: "smooth" is three-quarter, "little" half.

    Common practice, no source.
    """
    return _LONGEST.get(heard.effort or "") if heard.swing is None else None


_LONGEST = {"eased": "shoulder", "little": "chest"}


def is_chosen(text: str) -> bool:
    """ "Let's go with the gap wedge", "alright, chip then": said to be played, and not asked about."""
    if any(begins(part, "adopt_lead") for part in (text, *clauses(text))):
        return True
    return ends(text, "taken_end") and not is_question(text)
