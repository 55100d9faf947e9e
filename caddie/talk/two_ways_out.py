"""Sideways and the drop asked about in one breath: what each costs."""

from contextlib import suppress

from caddie.errors import CaddieError
from caddie.plan.choose import advise, aside_of
from caddie.plan.option import Option
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import flag_said, shot_said
from caddie.reply.spoken import shortest
from caddie.reply.why import costs_said, strokes_said
from caddie.situation import IN_SAND, Lie, Situation
from caddie.talk import lines
from caddie.talk.asked import in_play, says_of
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said
from caddie.units import Unit, to_metres
from caddie.words import understand
from caddie.words.echoes import figures_in
from caddie.words.gist import is_question, supposes
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
    going, out = plan.chosen, aside_of(plan, desk.bag)
    drop = None
    with suppress(CaddieError):
        dropped = known.situation.model_copy(update={"unplayable": True})
        drop = advise(dropped, desk.bag, seed=desk.seed).chosen
    told = [
        f"sideways leaves {flag_said(out.leave_m, desk.bag)}, {_more(out, going)}"
        if out is not None
        else lines.NO_GAIN_ASIDE,
        f"the unplayable {_more(drop, going)}" if drop is not None else "",
    ]
    best = all(each is None or each.strokes > going.strokes for each in (out, drop))
    spoken = shortest([[*told, lines.PLAY_IT if best else ""], told])
    figures = ", ".join(f"{each.strokes:.2f}" for each in (going, out, drop) if each is not None)
    after = known.changed(spoken=spoken, question=None, other=out, supposed=None)
    return Said(after, spoken, written=f"{spoken}\n{figures} strokes", intent=ASKED_OF_THE_SHOT, settles=True)


def way_out_to(desk: Desk, known: Known, text: str) -> Said | None:
    """ "What if I went out sideways, to twenty yards?": the stroke to get there, and what is left from there.

    None where no length is named that the way out leaves.
    """
    plan = in_play(known)
    if plan is None or plan.chosen.line is not None or says_of("drop", text) or not says_of("aside", text):
        return None
    player = desk.bag.player
    lengths = [each for each in figures_in(text) if each.unit in _LENGTHS]
    if len(lengths) != 1 or not (is_question(text) or supposes(text)):
        return None
    left_m = to_metres(lengths[0].value, _LENGTHS[lengths[0].unit or ""], player.pace_m)
    lie = understand(text, unit=player.distances_in, pace_m=player.pace_m).situation.lie
    lie = Lie.FAIRWAY if lie is None or lie in IN_SAND else lie
    there = Situation(pin_m=left_m, lie=lie, green=known.situation.green, wind=known.situation.wind)
    going, then = plan.chosen, advise(there, desk.bag, seed=desk.seed).chosen
    gap = 1.0 + then.strokes - going.strokes
    verdict = lines.AS_GOOD_AS_GOING if abs(gap) < AS_GOOD else f"{costs_said(gap)} than going for it"
    left = lines.OUT_AND_THEN.format(left=flag_said(left_m, desk.bag))
    figures = f"{1.0 + then.strokes:.2f} strokes against {going.strokes:.2f}"
    spoken = shortest([[verdict, left, shot_said(then, desk.bag)], [verdict, left]])
    after = known.changed(spoken=spoken, question=None)
    return Said(after, spoken, written=f"{spoken}\n{figures}", intent=ASKED_OF_THE_SHOT, settles=True)


_LENGTHS = {unit.value: unit for unit in (Unit.YARDS, Unit.METRES, Unit.PACES)}


def _more(other: Option, going: Option) -> str:
    gap = other.strokes - going.strokes
    if abs(gap) < AS_GOOD:
        return "costs the same"
    return f"costs {strokes_said(gap)} more" if gap > 0 else f"saves {strokes_said(gap)}"
