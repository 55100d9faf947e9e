"""Another shot beside the one advised, by the one thing that is asked of it: gentler, nearer, stopping sooner."""

from dataclasses import replace

from caddie.bag import Family
from caddie.plan.option import Option, Plan
from caddie.reply.phrases import club_said, said, shot_said, times_in_ten
from caddie.reply.putt import near_said, pace_said, putt_unit
from caddie.reply.rolled import rolled_said
from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.asked import in_play, says_of
from caddie.talk.choices import still, why_not_that_one
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.talk.why_so import not_that_club
from caddie.units import FOOT_M
from caddie.words import Understanding

LEAST_NEARER_M = 0.3


def than_what(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Closer than what?": the shot that another was put beside; with none compared, the last reply once more."""
    if known.other is None or known.advised is None or in_play(known) is None:
        return Said(known, known.spoken or lines.NOTHING_SAID)
    return Said(known, sentences([lines.THAN_ADVISED.format(shot=shot_said(known.advised, desk.bag))]))


def how_much_harder(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "How much harder must I hit it, then?": the shot as it is now beside what it was before the facts changed."""
    plan, before = in_play(known), known.before
    if plan is None:
        return no_shot(known)
    now, was = _how(plan.chosen, plan, desk), "" if before is None else _how(before, plan, desk)
    text = now if not was else f"no harder than before: {now}" if was == now else f"it was {was}, now {now}"
    spoken = shortest([[text]])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _how(option: Option, plan: Plan, desk: Desk) -> str:
    if option.line is not None:
        pace = pace_said(option, plan.situation, putt_unit(desk.bag)).lower()
    elif option.family is Family.PUTT:
        pace = rolled_said(option, desk.bag)
    else:
        return shot_said(option, desk.bag)
    return pace.removeprefix("roll it as ")


def would_club(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Would the sixty not stop quicker?": what was asked of it beside the shot advised, then what it costs.

    "Why would I not hit the sixty and have it stop?" is answered by what it costs, and by no yes.
    """
    plan, club = in_play(known), desk.bag.club_called(heard.club or "")
    if plan is not None and says_of("why", heard.heard):
        return why_not_that_one(desk, known, heard)
    if plan is None or club is None or club.id == plan.chosen.club:
        return still(desk, known, heard)
    said = not_that_club(desk, known, heard)
    if said.known.other is None:
        return said
    lead = _beside_ours(said.known.other, plan.chosen, heard.heard, desk)
    spoken = shortest([[lead, said.spoken], [lead, said.spoken.partition(":")[0]], [lead]])
    return replace(said, known=said.known.changed(spoken=spoken), spoken=spoken)


def _beside_ours(other: Option, ours: Option, text: str, desk: Desk) -> str:
    """The one thing asked about of both: how near it ends, how it stops, how far it goes, or how often it comes off."""
    if says_of("near", text):
        theirs, mine = (near_said(max(each.leave_m, FOOT_M), putt_unit(desk.bag)) for each in (other, ours))
        return f"{_yes(other.leave_m < ours.leave_m - LEAST_NEARER_M)}: half within {_each(theirs, mine, ours, desk)}"
    if says_of("run", text):
        theirs, mine = (said(max(each.run_m, 0.0), desk.bag) for each in (other, ours))
        asks_more = says_of("more", text)
        yes = theirs != mine and (other.run_m > ours.run_m if asks_more else other.run_m < ours.run_m)
        return f"{_yes(yes)}: it runs {_each(theirs, mine, ours, desk)}"
    if says_of("trouble", text):
        theirs, mine = (times_in_ten(each.in_trouble) for each in (other, ours))
        return f"trouble {_each(theirs, mine, ours, desk)}"
    theirs, mine = (times_in_ten(each.on_green) for each in (other, ours))
    return f"it finds the green {_each(theirs, mine, ours, desk)}"


def _each(theirs: str, mine: str, ours: Option, desk: Desk) -> str:
    """A figure of both, that of the shot advised with its club; once where they are the same as told."""
    return (
        f"{theirs} both ways" if theirs == mine else f"{theirs}, {mine} with the {club_said(ours, desk.bag)}"
    )


def _yes(holds: bool) -> str:
    return "yes" if holds else "no"
