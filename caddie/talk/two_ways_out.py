"""Sideways and the drop asked about in one breath, or whether to go at it at all: what each costs."""

from contextlib import suppress

from caddie.errors import CaddieError
from caddie.plan.choose import advise, way_out
from caddie.plan.option import Option
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import said, stays_in_said, times_in_ten
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import strokes_said
from caddie.talk import lines
from caddie.talk.asked import in_play, says_of
from caddie.talk.safe_shots import safer
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said, no_shot
from caddie.words import Understanding
from caddie.words.sayings import sentences_of


def both_ways_out(desk: Desk, known: Known, text: str) -> Said | None:
    """What going sideways and what a drop would cost, where both are named in one question; None for any other."""
    plan = in_play(known)
    if plan is None or plan.chosen.line is not None:
        return None
    asked = [
        each
        for each in sentences_of(text)
        if says_of("aside", each) and says_of("drop", each) and "?" in each
    ]
    if not asked or len(sentences_of(text)) > len(asked):
        return None
    going, out = plan.chosen, _sideways(desk, known)
    drop = None
    with suppress(CaddieError):
        dropped = known.situation.model_copy(update={"unplayable": True})
        drop = advise(dropped, desk.bag, seed=desk.seed).chosen
    told = [
        f"sideways leaves {said(out.leave_m, desk.bag)}, {_more(out, going)}"
        if out is not None
        else lines.NO_GAIN_ASIDE,
        f"the unplayable {_more(drop, going)}" if drop is not None else "",
    ]
    best = all(each is None or each.strokes > going.strokes for each in (out, drop))
    spoken = shortest([[*told, lines.PLAY_IT if best else ""], told])
    figures = ", ".join(f"{each.strokes:.2f}" for each in (going, out, drop) if each is not None)
    after = known.changed(spoken=spoken, question=None, other=out, supposed=None)
    return Said(after, spoken, written=f"{spoken}\n{figures} strokes", intent=ASKED_OF_THE_SHOT, settles=True)


def daft(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Am I daft to go at it?": no or yes by what sideways costs beside it, and how often it fails."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    going, out = plan.chosen, _sideways(desk, known)
    if going.sideways or out is None:
        return safer(desk, known, heard)
    gap = out.strokes - going.strokes
    answer = "no" if gap > AS_GOOD else "yes" if gap < -AS_GOOD else "either way"
    fails = stays_in_said(going, plan.situation) or f"trouble {times_in_ten(going.in_trouble)}"
    spoken = sentences([f"{answer}: sideways {_more(out, going)}", fails])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _sideways(desk: Desk, known: Known) -> Option | None:
    plan = in_play(known)
    assert plan is not None
    return next((each for each in plan.options if each.sideways), None) or way_out(plan.situation, desk.bag)


def _more(other: Option, going: Option) -> str:
    gap = other.strokes - going.strokes
    if abs(gap) < AS_GOOD:
        return "costs the same"
    return f"costs {strokes_said(gap)} more" if gap > 0 else f"saves {strokes_said(gap)}"
