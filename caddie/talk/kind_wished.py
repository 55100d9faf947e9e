"""A kind of shot wished for in a breath: low, plain, no lob, long for all one cares, with a club or without.

All that is wished in the turn makes one shot, the best of its kind from there, and what it costs; a club that "I will
just bump out" names is played so.
"""

from contextlib import suppress
from dataclasses import replace

from caddie.bag import Bag, Family
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.called import name_of
from caddie.plan.candidates import Face, Only
from caddie.plan.choose import advise
from caddie.plan.option import CAUGHT_ON, Option, Plan
from caddie.reply.phrases import club_said, shot_said, trouble_that_matters
from caddie.reply.spoken import shortest
from caddie.situation import IN_SAND, Side
from caddie.talk import lines
from caddie.talk.asked import in_play, same_shot
from caddie.talk.clubs_by_number import clubs_by_number
from caddie.talk.comparison import compared_with, told
from caddie.talk.lasts import has_news
from caddie.talk.planning import planned, with_where_it_goes
from caddie.talk.state import Desk, Known, Said
from caddie.talk.why_so import clubs_named
from caddie.words import Intent, understand
from caddie.words.sayings import sentences_of
from caddie.words.topics import asks_why, lists_in

_LOW, _PLAIN, _LONG, _WANTED, _PLAYED = "runs_low", "plain_kind", "long_is_good", "wish_kind", "plays_it_so"
_NOT_SO = ("where_asked", "how_far")
_IF = "only_if"
_RUNNING = (Family.CHIP, Family.BUMP_AND_RUN)


def kind_wished(desk: Desk, known: Known, text: str) -> Said | None:
    """The shot of the kind that the turn wishes for in more than one word of it; None for any other turn."""
    plan, bag = in_play(known), desk.on(known.day).bag
    if plan is None or plan.chosen.family is Family.PUTT or plan.situation.lie in IN_SAND or asks_why(text):
        return None
    text = clubs_by_number(text, known, bag)
    found = lists_in(text)
    club = next((each.id for each in clubs_named(text, bag)), None)
    wishes = found & {_LOW, _PLAIN, _LONG}
    played = _PLAYED in found and club is not None and _LOW in found
    enough = len(wishes) > 1 or (_PLAIN in wishes and _WANTED in found)
    only_if = _IF in found and _LONG not in found
    if not (played or enough) or only_if or found.intersection(_NOT_SO) or _tells_news(text, known):
        return None
    if played:
        only = _low_with(known, bag, plan, club)
        heard = understand(text).model_copy(update={"intent": Intent.WHAT_IF})
        return replace(planned(desk, known.changed(only=only, question=None), heard), intent="adopt")
    return _answered(desk, known, plan, club, low=_LOW in wishes)


def _tells_news(text: str, known: Known) -> bool:
    return any(has_news(understand(each).situation, known.situation) for each in sentences_of(text))


def _low_ways(club: str | None) -> list[Only]:
    """How a ball is kept low: run along the ground, or flown from farther back in the stance."""
    return [*(Only(club=club, family=family) for family in _RUNNING), Only(club=club, flight=Flight.LOW)]


def _low_with(known: Known, bag: Bag, plan: Plan, club: str | None) -> Only:
    """The low shot with a club: a running one where it goes with it, else the ball back in the stance."""
    for only in _low_ways(club):
        with suppress(CaddieError):
            advise(known.situation, bag, seed=plan.seed, only=only)
            return only
    return Only(club=club, face=Face.SQUARE)


def _answered(desk: Desk, known: Known, plan: Plan, club: str | None, *, low: bool) -> Said:
    ours, bag = plan.chosen, desk.on(known.day).bag
    in_the_way = trouble_that_matters(plan.situation) if low else None
    if in_the_way is not None and in_the_way.kind in CAUGHT_ON and in_the_way.side in (Side.SHORT, None):
        over = lines.MUST_CARRY.format(trouble=name_of(in_the_way))
        return _said(known, [over, with_where_it_goes(plan, bag)], [over, shot_said(ours, bag)])
    if club in (None, ours.club) and _is_so(ours, low=low):
        so = lines.IS_THAT_KIND
        return _said(known, [so, with_where_it_goes(plan, bag)], [so, shot_said(ours, bag)])
    found = []
    for only in _low_ways(club) if low else [Only(club=club, face=Face.SQUARE)]:
        with suppress(CaddieError):
            found.append(advise(known.situation, bag, seed=plan.seed, only=only).chosen)
    other = min(
        (each for each in found if _is_so(each, low=low)), key=lambda each: each.rank_score, default=None
    )
    if other is None or same_shot(other, ours):
        return _said(known, [lines.NO_OTHER_KIND.format(club=club_said(ours, bag))])
    compared = told(other, plan, desk, supposed=False, there=plan.situation)
    return replace(compared_with(known, compared), settles=True, intent=Intent.WHAT_IF.value)


def _said(known: Known, *versions: list[str]) -> Said:
    spoken = shortest(list(versions))
    return Said(known.changed(spoken=spoken, question=None), spoken, intent=Intent.WHAT_IF.value)


def _is_so(option: Option, *, low: bool) -> bool:
    """Whether a shot is plain, and where that is wished low: no lob, and no face laid open."""
    if option.wide_open or option.family is Family.LOB or option.flight is Flight.HIGH:
        return False
    return not low or option.family in _RUNNING or option.flight is Flight.LOW
