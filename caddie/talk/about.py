"""Turns about the shot already advised: why, repeat, shorter, ready, yes and no."""

from dataclasses import replace

from caddie.plan.option import Plan
from caddie.reply import speak
from caddie.reply.cue import cue_for
from caddie.reply.situation import LIE_SAID, situation_said
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import why_said
from caddie.situation import Firmness, Lie, PinPosition
from caddie.talk import lines
from caddie.talk.compare import another
from caddie.talk.planning import planned, short_of, with_where_it_goes
from caddie.talk.routine import COUNT, PACE, routine
from caddie.talk.state import Desk, Handler, Known, Said, no_shot
from caddie.talk.wish import of_the_club, with_club
from caddie.words import Intent, Understanding
from caddie.words.golf_talk import golf_word, is_beyond, is_golf, is_of_the_game
from caddie.words.sayings import says


def repeat(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The last reply once more."""
    return Said(known, known.spoken or lines.NOTHING_SAID)


def shorter(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The last reply in a few words."""
    return Said(known, known.short or lines.NOTHING_KNOWN)


def why(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The reasons."""
    if known.plan is None or known.played:
        return no_shot(known)
    spoken = why_said(known.plan, desk.bag)
    after = known.changed(spoken=spoken, short=sentences(spoken.split(". ")[:1]))
    return Said(after, spoken, written="\n".join(known.plan.reasons))


def the_shot(desk: Desk, known: Known, heard: Understanding | None = None) -> Said:
    """The advice once more, whatever was said since."""
    if known.plan is None or known.cue is None or known.played:
        return Said(known, known.question.text) if known.question else no_shot(known)
    spoken = speak(known.plan, desk.bag, known.cue)
    return Said(known.changed(spoken=spoken), spoken, brief=short_of(known.plan, desk.bag, ""))


def ready(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The routine: the picture, the cue and the count."""
    if known.plan is None or known.cue is None or known.played:
        return no_shot(known)
    spoken = routine(known.plan, desk.bag, known.cue)
    after = known.changed(spoken=spoken, question=None, swung=True)
    return Said(after, spoken, written=f"{spoken}\n{PACE}", brief=sentences([*COUNT]))


def adopted(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Play the shot that was asked about instead of the one advised, with what was supposed for it.

    With none asked about, "I'll do that" is the one advised.
    """
    if known.other is None:
        return kept_to(lines.STICKS)(desk, known, heard)
    assert known.plan is not None
    if known.supposed is not None:
        return planned(desk, known.changed(situation=known.supposed, question=None), heard)
    plan = known.plan.model_copy(update={"chosen": known.other})
    cue = cue_for(plan, desk.bag, desk.cue_weights)
    short = short_of(plan, desk.bag, cue.say)
    spoken = shortest([[with_where_it_goes(plan, desk.bag), cue.say], [short]])
    only = known.only if known.other.lay_up or known.other.sideways else with_club(known.only, known.other)
    after = known.changed(
        plan=plan, cue=cue, only=only, other=None, spoken=spoken, short=short, question=None
    )
    return Said(after, spoken, step=True, brief=short_of(plan, desk.bag, ""))


def kept_to(lead: str) -> Handler:
    """A turn that drops what was asked about besides, and says the advice in short after ``lead``."""

    def keep(desk: Desk, known: Known, heard: Understanding) -> Said:
        if known.plan is None or known.cue is None or known.played:
            return no_shot(known)
        option = known.advised or known.plan.chosen
        plan = known.plan.model_copy(update={"chosen": option})
        cue = cue_for(plan, desk.bag, desk.cue_weights)
        short = short_of(plan, desk.bag, cue.say)
        named = bool(heard.club)
        after = known.changed(
            plan=plan,
            cue=cue,
            only=with_club(known.only, option) if named else of_the_club(known.only, option, desk.bag),
            other=None,
            supposed=None,
            verdict="",
            spoken=short,
            short=short,
            question=None,
        )
        return Said(after, sentences([lead, short]), step=True, brief=short_of(plan, desk.bag, ""))

    return keep


def yes_or_no(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Yes and no: to a question, or to the advice."""
    if known.question is not None:
        if heard.intent is Intent.NO or known.question.repeated:
            return passed(desk, known, heard)
        return Said(known.changed(question=replace(known.question, repeated=True)), known.question.text)
    if known.plan is None or known.played:
        return Said(known, lines.NOTHING_KNOWN)
    if heard.intent is Intent.NO:
        return another(desk, known)
    return Said(known, lines.GO_ON)


def passed(desk: Desk, known: Known, heard: Understanding) -> Said:
    """A question that the player cannot or will not answer: the assumption stands and is named."""
    question = known.question
    if question is None or known.plan is None:
        return Said(known, question.text if question else lines.NOTHING_KNOWN)
    value = _assumed(question.field, known.plan)
    spoken = lines.TAKEN_FOR.format(value=value) if value else lines.KEEP
    return Said(known.changed(question=None), spoken, step=True)


def known_so_far(desk: Desk, known: Known, heard: Understanding | None = None) -> Said:
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


def helped(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What can be said."""
    return Said(known, lines.HELP)


def goodbye(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The end of the talk."""
    return Said(known, lines.GOODBYE, over=True)


def not_hit(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "I haven't hit it yet": the shot waits for the player."""
    return Said(known, lines.GO_ON)


def one_line(line: str) -> Handler:
    """A turn that is answered with this line, whatever is known."""

    def answer(desk: Desk, known: Known, heard: Understanding) -> Said:
        return Said(known, line)

    return answer


def greeted(desk: Desk, known: Known, heard: Understanding) -> Said:
    """A greeting or thanks: a friendly word back."""
    if says(heard.heard, "thanks"):
        return _one_line(known, lines.WELCOME_FIRST, lines.WELCOME)
    return _one_line(known, lines.GREETING, lines.GREETING_MIDWAY)


def declined(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What was not understood: golf beyond the short game, golf in other words, or no golf at all."""
    if is_beyond(heard.heard):
        return Said(known, lines.BEYOND)
    if is_golf(heard.heard) or (known.plan is not None and is_of_the_game(heard.heard)):
        about = golf_word(heard.heard)
        about = f" that about the {about}" if about else ""
        first, midway = (line.format(about=about) for line in (lines.NOT_FOLLOWED_FIRST, lines.NOT_FOLLOWED))
        return _one_line(known, first, midway)
    return _one_line(known, lines.OFF_TOPIC, lines.OFF_TOPIC_MIDWAY)


def _one_line(known: Known, first: str, midway: str) -> Said:
    """One short line, and the open question once more when there is one that was not repeated yet."""
    question = known.question
    if question is not None and not question.repeated:
        after = known.changed(question=replace(question, repeated=True))
        return Said(after, sentences([midway, question.text]))
    return Said(known, first if known.plan is None and not known.played else midway)


def never_mind(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Never mind" takes nothing back: what was talked about holds."""
    if known.plan is None or known.cue is None or known.played:
        return Said(known, lines.NEVER_MIND)
    return kept_to(lines.AS_IT_WAS)(desk, known, heard)
