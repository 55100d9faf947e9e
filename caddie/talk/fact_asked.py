"""A lone fact with a question mark: "Firm?" asks whether that is what was taken, and changes nothing."""

from caddie.bag import Bag
from caddie.reply.situation import situation_said
from caddie.reply.spoken import sentences
from caddie.situation import Fall, Green, Lie, Situation
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.lasts import facts_of, news_of
from caddie.talk.question import answers, framed, in_context
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said
from caddie.words import Intent, Understanding
from caddie.words.gist import supposes
from caddie.words.sayings import bare, compared, sayings_of

MOST_WORDS = 4
"""A longer question is more than a fact said back."""
_READS_AS_A_FACT = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT, Intent.OUT_OF_SCOPE)
_ASKED_ALONE = ("pin_position", "green.firmness")
"""Facts that a word or two are asked about by."""
_HOW_FAR = ("pin_m", "front_m", "room_m", "hazards")
"""What is asked about in ways of its own."""


def fact_asked(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """Whether the fact was taken so, or as what instead; None when no lone fact is asked about."""
    plan = in_play(known)
    text = heard.heard.rstrip()
    if plan is None or not text.endswith("?") or heard.intent not in _READS_AS_A_FACT or supposes(text):
        return None
    if known.supposed is not None and compared(text)[:1] == ("and",):
        # "And downhill?" after a what-if supposes more.
        return None
    if not 0 < len(compared(bare(text))) <= MOST_WORDS or heard.club or heard.gone:
        return None
    fact = None if sayings_of(text) else _fact_of(heard, known, desk.bag)
    if fact is None:
        return None
    name = facts_of(fact)[0]
    told = "" if _of_another_axis(fact, known.situation) else _only(known.situation, name, desk.bag)
    if not told and known.question is not None and answers(known.question.field, fact):
        return None
    if facts_of(news_of(fact, known.situation)) == ():
        return _told(known, lines.TAKEN_SO.format(told=situation_said(fact, desk.bag) or lines.SO))
    if told:
        return _told(known, lines.TOLD_OTHERWISE.format(told=told))
    taken = _only(plan.situation, name, desk.bag)
    if taken == situation_said(fact, desk.bag) != "":
        return _told(known, lines.TAKEN_SO_UNTOLD.format(taken=taken))
    return _told(known, lines.TAKEN_OTHERWISE.format(taken=taken) if taken else lines.NOT_TOLD)


def _of_another_axis(fact: Situation, known: Situation) -> bool:
    """Whether a fall to the side is asked about where one along the line is known, or the other way round."""
    along = [each.green.fall in _ALONG for each in (fact, known) if each.green.fall is not None]
    return len(along) == 2 and along[0] is not along[1]


_ALONG = (Fall.TOWARD, Fall.AWAY)


def _fact_of(heard: Understanding, known: Known, bag: Bag) -> Situation | None:
    """The one fact that the words tell, or that they are in the usual frames; on the green of the putt."""
    found = heard.situation
    if known.situation.lie is Lie.GREEN:
        putt = in_context(heard, known.changed(question=None), bag.player).situation
        found = Situation(green=putt.green) if putt.green != Green() else found
    if found == Situation():
        framings = (framed(bare(heard.heard), field, bag.player) for field in _ASKED_ALONE)
        found = next((each for each in framings if each is not None), found)
    facts = facts_of(found)
    alone = len(facts) == 1 or {each.partition(".")[0] for each in facts} == {"wind"}
    named = heard.swing or heard.family or heard.flight
    return found if alone and facts[0] not in _HOW_FAR and not named else None


def _only(situation: Situation, name: str, bag: Bag) -> str:
    """One fact of a situation in words, empty where it has none."""
    part, _, each = name.rpartition(".")
    whole = getattr(situation, part) if part else situation
    value = getattr(whole, each)
    if value in (None, ()):
        return ""
    kept = whole.model_copy(update=dict.fromkeys(type(whole).model_fields) | {each: value})
    only = Situation(**{part: kept}) if part else Situation(**{each: value})
    return situation_said(only, bag)


def _told(known: Known, line: str) -> Said:
    spoken = sentences([line])
    return Said(known.changed(spoken=spoken), spoken, intent=ASKED_OF_THE_SHOT)
