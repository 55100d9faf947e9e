"""Taking stock on the walk to the ball: high point, low side, water, wear, tiers, wind, one question a turn.

Every stop may be passed over; what is answered goes into the plan. The order is that in which things come
into view: the lie of the whole green from afar, the hole from near by.
"""

import re
from dataclasses import dataclass

from caddie.bag import Player
from caddie.plan.assume import question_for
from caddie.reply.spoken import sentences
from caddie.situation import Fall, Firmness, Green, Hazard, HazardKind, Lie, PinPosition, Situation
from caddie.talk import lines
from caddie.talk.laid_over import merged
from caddie.talk.lore import walk
from caddie.talk.planning import planned
from caddie.talk.question import MOST_WORDS, framed, part_of
from caddie.talk.state import Desk, Known, Question, Said
from caddie.words import Intent, Understanding
from caddie.words.sayings import plain, says

_LEAD = re.compile(
    r"^(its|it is|the|thats|that is)? *(high|low|higher|lower|highest|lowest)? *(point|side|part|end|bit)? *"
    r"(is|would be)? *(at|on|in|to|toward|towards)? *(the)? *"
)
_FLAG = frozenset("flag flags pin pins hole holes stick flagstick cup".split())
_ALONG = {
    PinPosition.BACK: Fall.TOWARD,
    PinPosition.FRONT: Fall.AWAY,
}
_ACROSS = (Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT)
_OPPOSITE = {
    Fall.TOWARD: Fall.AWAY,
    Fall.AWAY: Fall.TOWARD,
    Fall.LEFT_TO_RIGHT: Fall.RIGHT_TO_LEFT,
    Fall.RIGHT_TO_LEFT: Fall.LEFT_TO_RIGHT,
}


@dataclass(frozen=True)
class Answer:
    """What a stop's answer comes to: facts, or nothing, or that it must be asked once more."""

    facts: Situation | None = None
    more: str = ""


def begin(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Start the walk with the first stop whose answer is not known yet."""
    fresh = known.afresh() if known.played else known
    to_come = tuple(stop for stop in walk() if stop not in fresh.walked)
    return _next(fresh.changed(walk=to_come), lead="", step=True)


def on_the_walk(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """One turn of the walk; None when what was said belongs to the rest of the conversation."""
    if known.walk is None:
        return None
    text = heard.heard
    if says(text, "enough") or heard.intent in (Intent.STOP, Intent.READY):
        return _over(desk, known, heard)
    stop = known.question.field if known.question else ""
    answer = read_answer(stop, heard, desk.bag.player)
    answered = answer is not None
    if answer is None and heard.intent in (Intent.SITUATION, Intent.PUTT, Intent.CORRECT):
        answer = Answer(heard.situation)
    if answer is None:
        return None
    if answer.more:
        question = Question(stop, answer.more)
        return Said(known.changed(question=question, spoken=answer.more), answer.more)
    situation = merged(known.situation, answer.facts or Situation(), heard.corrected)
    sentence = f"{known.sentence}; {text}" if known.sentence else text
    rest = tuple(each for each in known.walk if not (answered and each == stop))
    after = known.changed(situation=situation, sentence=sentence, walk=rest, question=None, plan=None)
    lead = lines.WALK_NOTED if answer.facts else ""
    return _next(after, lead=lead, step=True) if _open(after) else _over(desk, after, heard)


def read_answer(stop: str, heard: Understanding, player: Player) -> Answer | None:
    """The answer to a stop's question, or None when the words are about something else."""
    text = heard.heard
    if stop and (says(text, "pass") or says(text, "none") or heard.intent is Intent.NO):
        return Answer()
    if stop in ("high", "low"):
        if heard.situation.pin_position is not None and not bare_place(text):
            return None
        if heard.situation.pin_m is not None or heard.situation.lie not in (None, Lie.GREEN):
            return None
        fall = slope_of(text, player, low=stop == "low")
        return Answer(Situation(green=fall)) if fall else None
    if stop == "wear":
        firmness = _wear(text) or heard.situation.green.firmness
        return Answer(Situation(green=Green(firmness=firmness))) if firmness else None
    if heard.intent is Intent.YES and plain(text) != "right":
        if stop == "tier":
            return Answer(Situation(hazards=(Hazard(kind=HazardKind.TIER),)))
        return Answer(more=lines.WATER_SIDE) if stop == "water" else None
    if stop in ("water", "tier", "wind"):
        found = part_of(heard.situation, stop) or framed(text, stop, player)
        return Answer(found) if found else None
    return None


def bare_place(text: str) -> bool:
    """Whether a place on the green is told that is not said to be the flag's."""
    return _FLAG.isdisjoint(plain(text).split())


def slope_of(text: str, player: Player, *, low: bool) -> Green | None:
    """The fall of a green whose high point (or low side) is there: seen by the player, back is far."""
    words = plain(text)
    if len(words.split()) > 2 * MOST_WORDS:
        return None
    found = framed(_LEAD.sub("", words), "pin_position", player)
    if found is None or found.pin_position is None:
        return None
    depth, _, side = found.pin_position.value.partition("_")
    along = _ALONG.get(PinPosition(depth))
    across = {"left": Fall.LEFT_TO_RIGHT, "right": Fall.RIGHT_TO_LEFT}.get(side)
    if low:
        along, across = along and _OPPOSITE[along], across and _OPPOSITE[across]
    if along is None and across is None:
        return None
    return Green(fall=along or across, side_fall=across if along else None)


def _wear(text: str) -> Firmness | None:
    """Worn turf at the hole is firm, fresh turf soft (common practice, no source)."""
    if says(text, "worn"):
        return Firmness.FIRM
    return Firmness.SOFT if says(text, "fresh") else None


def _open(known: Known) -> tuple[str, ...]:
    return tuple(stop for stop in known.walk or () if not _is_known(stop, known.situation))


def _is_known(stop: str, situation: Situation) -> bool:
    green = situation.green
    kinds = {hazard.kind for hazard in situation.hazards}
    return {
        "high": green.fall is not None,
        "low": green.side_fall is not None or green.fall in _ACROSS,
        "water": HazardKind.WATER in kinds,
        "wear": green.firmness is not None,
        "tier": bool(kinds & {HazardKind.TIER, HazardKind.RIDGE, HazardKind.SWALE}),
        "wind": situation.wind.from_ is not None or situation.wind.speed_m_s is not None,
    }[stop]


def _next(known: Known, *, lead: str, step: bool) -> Said:
    stops = _open(known)
    if not stops:
        return Said(known.changed(walk=None, question=None), lines.WALK_OVER, step=step)
    question = Question(stops[0], walk()[stops[0]])
    walked = tuple(dict.fromkeys((*known.walked, stops[0])))
    after = known.changed(
        walk=stops, walked=walked, question=question, spoken=question.text, short=question.text
    )
    return Said(after, sentences([lead, question.text]), step=step)


def _over(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The walk is done: the shot when its distance is known, else the question for it."""
    after = known.changed(walk=None, question=None)
    if question_for(after.situation):
        question = Question("pin_m", lines.WALK_DISTANCE)
        return Said(
            after.changed(question=question, spoken=question.text, short=question.text),
            lines.WALK_DISTANCE,
            step=True,
        )
    return planned(desk, after, heard)
