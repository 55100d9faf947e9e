"""Turns about the shot already advised: why, repeat, shorter, ready, yes and no."""

from caddie.plan.option import Plan
from caddie.reply import speak
from caddie.reply.cue import Cue, cue_for
from caddie.reply.situation import LIE_SAID, situation_said
from caddie.reply.spoken import sentences
from caddie.reply.why import why_said
from caddie.situation import Firmness, Lie, PinPosition
from caddie.talk import lines
from caddie.talk.compare import another
from caddie.talk.planning import short_of
from caddie.talk.routine import PACE, routine
from caddie.talk.sayings import says
from caddie.talk.state import Desk, Known, Said
from caddie.words import Intent, Understanding


def about_the_shot(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Why, repeat, shorter or ready."""
    if heard.intent is Intent.REPEAT:
        return Said(known, known.spoken or lines.NOTHING_SAID)
    if heard.intent is Intent.SHORTER and known.short:
        return Said(known, known.short)
    if known.plan is None or known.cue is None or known.played:
        return Said(known, lines.NOTHING_KNOWN)
    if heard.intent is Intent.WHY:
        spoken = why_said(known.plan, desk.bag)
        after = known.changed(spoken=spoken, short=sentences(spoken.split(". ")[:1]))
        return Said(after, spoken, written="\n".join(known.plan.reasons))
    if known.other is not None and says(heard.heard, "adopt"):
        return adopted(desk, known)
    return ready(known, known.plan, known.cue, desk)


def the_shot(desk: Desk, known: Known) -> Said:
    """The advice once more, whatever was said since."""
    if known.plan is None or known.cue is None or known.played:
        return Said(known, known.question.text if known.question else lines.NOTHING_KNOWN)
    spoken = speak(known.plan, desk.bag, known.cue)
    return Said(known.changed(spoken=spoken), spoken)


def ready(known: Known, plan: Plan, cue: Cue, desk: Desk) -> Said:
    """The routine: the picture, the cue and the count."""
    spoken = routine(plan, desk.bag, cue)
    return Said(known.changed(spoken=spoken, question=None), spoken, written=f"{spoken}\n{PACE}")


def adopted(desk: Desk, known: Known) -> Said:
    """Play the shot that was asked about instead of the one advised."""
    assert known.plan is not None and known.other is not None
    plan = known.plan.model_copy(update={"chosen": known.other})
    cue = cue_for(plan, desk.bag, desk.cue_weights)
    short = short_of(plan, desk.bag, cue.say)
    after = known.changed(plan=plan, cue=cue, other=None, spoken=short, short=short, question=None)
    return Said(after, short, step=True)


def yes_or_no(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Yes and no: to a question, or to the advice."""
    if known.question is not None:
        return passed(desk, known) if heard.intent is Intent.NO else Said(known, known.question.text)
    if known.plan is None or known.played:
        return Said(known, lines.NOTHING_KNOWN)
    if heard.intent is Intent.NO:
        return another(desk, known)
    return Said(known, lines.GO_ON)


def passed(desk: Desk, known: Known) -> Said:
    """A question that the player cannot or will not answer: the assumption stands and is named."""
    question = known.question
    if question is None or known.plan is None:
        return Said(known, question.text if question else lines.NOTHING_KNOWN)
    value = _assumed(question.field, known.plan)
    spoken = lines.TAKEN_FOR.format(value=value) if value else lines.KEEP
    return Said(known.changed(question=None), spoken, step=True)


def known_so_far(desk: Desk, known: Known) -> Said:
    """The facts as they were understood, read back."""
    said = situation_said(known.situation, desk.bag)
    return Said(known, sentences([said])) if said else Said(known, lines.NOTHING_KNOWN)


def _assumed(field: str, plan: Plan) -> str:
    value = plan.assumed.get(field)
    if isinstance(value, Lie):
        return LIE_SAID[value]
    if isinstance(value, PinPosition):
        return f"flag in the {value.value.replace('_', ' ')}"
    if isinstance(value, Firmness):
        return f"a {value.value} green"
    return "level" if field == "green.fall" else ""
