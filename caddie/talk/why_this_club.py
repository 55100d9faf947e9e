"""Why the club advised and not the one that is usual: what it has for it here, then how the other compares.

"Why the fifty-two? I thought you use a sand wedge over a bunker", "isn't it meant to be the sixty?": what is believed
of a club at large tells nothing of this shot, and plays none.
"""

from caddie.bag import Bag, Club, Family
from caddie.errors import CaddieError
from caddie.plan.called import name_of
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.option import Option
from caddie.plan.patches import carry_needed_m
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import club_said, said, times_in_ten, trouble_that_matters
from caddie.reply.rivals import LONGER_SWING, TELLS_APART, costs
from caddie.reply.spoken import shortest
from caddie.reply.why import strokes_said
from caddie.situation import Side, Situation
from caddie.talk.asked import in_play
from caddie.talk.lasts import facts_of, news_of
from caddie.talk.state import Desk, Known, Said
from caddie.talk.why_so import clubs_named
from caddie.words import Intent, understand
from caddie.words.echoes import figures_in
from caddie.words.sayings import clauses, sentences_of
from caddie.words.topics import asks_why, is_believed, lists_in

_WHY_NOT = "why_not"
"""The list of what asks what the other costs."""


def why_this_club(desk: Desk, known: Known, text: str) -> Said | None:
    """The answer to a turn that asks why the club advised, beside another that it names; None for any other turn."""
    plan = in_play(known)
    if plan is None or plan.chosen.line is not None or _WHY_NOT in lists_in(text):
        return None
    if not _is_of_the_club(text, known):
        return None
    bag = desk.on(known.day).bag
    ours = plan.chosen.club
    why = [each for each in clauses(text) if asks_why(each)]
    others = [club for club in clubs_named(text, bag) if club.id != ours]
    asked_of = [club.id for each in why for club in clubs_named(each, bag)][:1]
    if not others or (asked_of and asked_of != [ours]):
        return None
    return _beside(desk, known, others[0], bag)


def _is_of_the_club(text: str, known: Known) -> bool:
    """Whether the turn asks why, or tells what is believed of clubs, and nothing of this shot."""
    parts = sentences_of(text)
    believed = [each for each in parts if is_believed(each)]
    if not believed and not any(asks_why(each) for each in clauses(text)):
        return False
    if any(figure.unit is not None for figure in figures_in(text)):
        return False
    told = (understand(each).situation for each in parts if each not in believed and not asks_why(each))
    return all(facts_of(news_of(each, known.situation)) == () for each in told)


def _beside(desk: Desk, known: Known, club: Club, bag: Bag) -> Said:
    plan = in_play(known)
    assert plan is not None
    chosen, there = plan.chosen, plan.situation
    name = club_said(chosen, bag)
    try:
        other = advise(known.situation, bag, seed=plan.seed, only=Only(club=club.id)).chosen
    except CaddieError as error:
        spoken = shortest([[f"the {name}", str(error).partition(":")[0]]])
        return Said(known.changed(spoken=spoken, question=None), spoken, intent=Intent.WHY.value)
    found = for_it(chosen, other, there, bag)
    mine = f"the {name} {_listed(found)}" if found else ""
    theirs = _stands(other, chosen, bag) if found else costs(other, chosen, there, bag)
    one = f"the {name} {found[0]}" if found else ""
    spoken = shortest([[mine, theirs], [one, theirs], [theirs]])
    after = known.changed(spoken=spoken, question=None, other=other, supposed=None, verdict="")
    return Said(after, spoken, intent=Intent.WHY.value)


def _stands(other: Option, chosen: Option, bag: Bag) -> str:
    gap, name = other.strokes - chosen.strokes, club_said(other, bag)
    if abs(gap) < AS_GOOD:
        return f"the {name} is as good by numbers; play the one you trust"
    return f"the {name} {'costs' if gap > 0 else 'saves'} {strokes_said(gap)}{' more' if gap > 0 else ''}"


MOST_FOR_IT = 3


def for_it(chosen: Option, other: Option, situation: Situation, bag: Bag) -> list[str]:
    """What the shot advised has for it beside another, the weightiest first: "is mishit less: once in ten"."""
    shares = (
        ("finds trouble", other.in_trouble, chosen.in_trouble),
        ("is mishit", other.heavy + other.thin, chosen.heavy + chosen.thin),
        ("goes through the green", other.through_green, chosen.through_green),
        ("stays short", other.short_of_green, chosen.short_of_green),
    )
    found = [
        f"{does} {often}, not {before}"
        for does, theirs, mine in shares
        if theirs - mine >= TELLS_APART and (often := times_in_ten(mine)) != (before := times_in_ten(theirs))
    ]
    swung = Family.PUTT not in (chosen.family, other.family)
    plainly = {
        "is a swing you have measured": swung and chosen.owned and not other.owned,
        "takes a shorter swing": swung and other.share - chosen.share >= LONGER_SWING,
        _over(chosen, situation, bag): True,
        "is a club you trust more": chosen.trusted or chosen.trust - other.trust >= TRUSTED_MORE,
        "rolls most of the way, so its carry need not be exact": chosen.run_m > chosen.carry_m > 0.0,
    }
    return [*found, *(each for each, holds in plainly.items() if each and holds)][:MOST_FOR_IT]


TRUSTED_MORE = 0.2


def _over(option: Option, situation: Situation, bag: Bag) -> str:
    """That it clears what lies before the green, which is what another club is thought of for."""
    hazard = trouble_that_matters(situation)
    if hazard is None or hazard.side not in (Side.SHORT, None) or option.family is Family.PUTT:
        return ""
    margin_m = option.carry_m - carry_needed_m(hazard, situation)
    return f"clears the {name_of(hazard)} by {said(margin_m, bag)}" if margin_m > 0 else ""


def _listed(parts: list[str]) -> str:
    *first, last = parts
    return f"{', '.join(first)} and {last}" if first else last
