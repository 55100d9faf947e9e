"""A turn about the shot in play that is known by its topic, in whatever words: what is asked so keeps the shot."""

from dataclasses import replace

from caddie.bag import Bag, Player
from caddie.talk.as_said import wedge_named
from caddie.talk.asked import in_play
from caddie.talk.clubs_by_number import clubs_by_number
from caddie.talk.kinds import BY_INTENT, BY_SAYING
from caddie.talk.lasts import has_news
from caddie.talk.question import answer_to
from caddie.talk.state import Desk, Known, Said
from caddie.units import Unit, to_metres
from caddie.words import Intent, Understanding, understand, understand_turn
from caddie.words.asked_of_facts import tells_in_asking
from caddie.words.echoes import Figure, figures_in
from caddie.words.gist import asks_meaning, intent_of, is_question
from caddie.words.numbers_in_play import says_so_plainly
from caddie.words.outright import without_what_is_told
from caddie.words.sayings import begins, clauses, sentences_of
from caddie.words.told_as_made import tells_as_made
from caddie.words.topics import (
    OF_A_PUTT,
    OF_A_RESULT,
    OF_A_SHOT,
    OF_ANOTHER,
    AskedTopic,
    asks_why,
    loose_kinds,
    topic_of,
)

_ENDS_IT = (Intent.NEXT_HOLE, Intent.STOP, Intent.READY, Intent.UNDO)
"""What a sentence beside a question may be that is not passed over for it."""
SWING = "swing"
_OF_A_CLUB = ("leaves", "worse", "mishits", SWING)
"""Topics that a club or a swing is named with: "how much am I giving up with the fifty-two", "is that waist high"."""
_ASKED_OF_CLUBS = {"either": _OF_A_CLUB, "more_club": ("must_be_harder",)}
"""What clubs are named or counted in, and the topics that tell more surely what is asked of them.

"Chance I thin the sixty versus the fifty-two", "more club because of the rough"."""
_PUTS_RIGHT = "puts_right"
_WHY = "why"
"""Begins the names of what is asked by "why"."""
_LOOSE = (
    *(Intent.SITUATION, Intent.PUTT, Intent.CORRECT, Intent.WHAT_IF),
    *(Intent.OUT_OF_SCOPE, Intent.WHY, Intent.RESULT),
)
"""Readings that a topic takes the place of, where the words tell nothing new."""
_UNITS = {unit.value: unit for unit in Unit}
_SAME_M = 0.5


def asked_by_topic(desk: Desk, known: Known, text: str) -> Said | None:
    """The answer to a turn that asks one thing of the shot in play and tells nothing new; None for any other."""
    bag = desk.on(known.day).bag
    text = clubs_by_number(text, known, bag)
    topic = _topic(known, text)
    if (
        topic is None
        or tells_in_asking(text, understand)
        or understand(text).gone
        or _asks_more(text, known, topic)
        or _tells_news(text, known, topic, bag)
    ):
        return None
    if (begins(text, _PUTS_RIGHT) and not (topic.plainly or _is_why(topic))) or not _gives_way(
        text, known, topic, bag.player
    ):
        return None
    return answered_by_topic(desk, known, text, topic)


def topic_wished(known: Known, text: str) -> AskedTopic | None:
    """What words that are nothing else come to by their topic, be it a wish for another shot."""
    where = _where(known)
    return topic_of(text, where, changing=True, refused=True) if where and not asks_meaning(text) else None


def asks_by_topic(known: Known, text: str) -> bool:
    """Whether the words ask something of the shot, whatever figure of a reply they begin with."""
    topic = _topic(known, text)
    return topic is not None and (not topic.plainly or topic.numbers)


def asks_of_a_swing(known: Known, text: str) -> bool:
    """Whether it is asked how far back the swing goes, by what it is pictured by, or doubted for that length."""
    topic = _topic(known, text)
    return topic is not None and (topic.kind == SWING or (topic.plainly and topic.numbers))


def _topic(known: Known, text: str) -> AskedTopic | None:
    where = _where(known)
    return topic_of(text, where, changing=False) if where and not asks_meaning(text) else None


def _where(known: Known) -> frozenset[str]:
    """Where in the round something is said; empty before there is a shot."""
    plan = in_play(known)
    if plan is None:
        return frozenset({OF_A_RESULT}) if known.played else frozenset()
    on_green = plan.chosen.line is not None
    return frozenset(
        {OF_A_PUTT if on_green else OF_A_SHOT} | ({OF_ANOTHER} if known.other is not None else set())
    )


def _asks_more(text: str, known: Known, topic: AskedTopic) -> bool:
    """Whether something else is asked or told beside it."""
    where = _where(known)
    found = [topic_of(each, where, changing=False) for each in clauses(text)]
    if any(each and each.kind != topic.kind and not _goes_with(each, topic) for each in found):
        return True
    sentences = sentences_of(text)
    others = [
        each for each in sentences if len(sentences) > 1 and topic_of(each, where, changing=True) is None
    ]
    # "A full cup? Why so much?" asks one thing.
    if _is_why(topic):
        return any(each.endswith("?") and understand(each).asks for each in others)
    return any(is_question(each.rstrip(" ?!.")) or understand(each).intent in _ENDS_IT for each in others)


def _goes_with(other: AskedTopic, topic: AskedTopic) -> bool:
    """Whether one is said on the way to the other: a doubt before "why", and what both are asked by."""
    return _is_why(topic) and (other.plainly or _is_why(other))


def _tells_news(text: str, known: Known, topic: AskedTopic, bag: Bag) -> bool:
    """Whether a fact of the shot is told with it, or a shot that was hit."""
    heard = understand(text, unit=bag.player.distances_in, pace_m=bag.player.pace_m)
    if heard.intent is Intent.RESULT and not (is_question(text) or topic.numbers):
        return True
    if any(_is_new(figure, text, known, topic, bag) for figure in figures_in(text)):
        return True
    return any(
        has_news(understand(each).situation, known.situation)
        for each in clauses(text)
        if topic.tells or not _asks(each, known, topic)
    )


def _gives_way(text: str, known: Known, topic: AskedTopic, player: Player) -> bool:
    """Whether the turn as the grammar reads it is one thing, and none that is told more surely than the topic."""
    parts = understand_turn(
        text, unit=player.distances_in, pace_m=player.pace_m, answered=answer_to(known, player)
    )
    if len(parts) > 1 and not _is_why(topic):
        return False
    if len(parts) > 1 and any(_tells_a_stroke(part) for part in parts):
        return False
    if topic.tells and any(has_news(part.situation, known.situation) for part in parts):
        return False
    return all(_is_loose(part, topic) for part in parts)


def _tells_a_stroke(heard: Understanding) -> bool:
    """ "I've left it four feet short. Why is that?": what became of a ball is told, and asked about then."""
    return heard.intent is Intent.RESULT and not is_question(heard.heard) and tells_as_made(heard.heard)


def _is_loose(heard: Understanding, topic: AskedTopic) -> bool:
    """Whether a reading is of a kind that a topic tells more surely."""
    if heard.intent is Intent.STOP:
        return not topic.plainly
    if heard.asks:
        why_by_itself = heard.asks[0].startswith(_WHY)
        if heard.asks[0] in _ASKED_OF_CLUBS:
            return topic.kind in _ASKED_OF_CLUBS[heard.asks[0]]
        return heard.asks[0] in loose_kinds() or (_is_why(topic) and not why_by_itself)
    if heard.intent is Intent.WHAT_IF and (heard.club or heard.family or heard.flight or heard.swing):
        return _is_why(topic) or topic.kind in _OF_A_CLUB
    return heard.intent in _LOOSE


def _is_why(topic: AskedTopic) -> bool:
    return topic.kind.startswith(_WHY)


def _asks(clause: str, known: Known, topic: AskedTopic) -> bool:
    """Whether a clause is what is asked, so that its words tell nothing."""
    if _is_why(topic) and asks_why(clause):
        return True
    found = topic_of(clause, _where(known), changing=True)
    return is_question(clause) or (found is not None and found.kind == topic.kind)


def _is_new(figure: Figure, text: str, known: Known, topic: AskedTopic, bag: Bag) -> bool:
    """Whether a figure is a length that neither the reply nor the golfer said of this shot."""
    unit, pin_m = _UNITS.get(figure.unit or ""), known.situation.pin_m
    if unit is None or any(figure.is_of(each) for each in figures_in(known.replied)):
        return False
    if pin_m is not None and abs(to_metres(figure.value, unit, bag.player.pace_m) - pin_m) < _SAME_M:
        return False
    return says_so_plainly(text, figure.value) or not topic.numbers


def answered_by_topic(desk: Desk, known: Known, text: str, topic: AskedTopic) -> Said | None:
    """The answer to a topic, with the club that is named; None where it means nothing there."""
    player, text = desk.bag.player, wedge_named(text, known, desk.bag)
    heard = without_what_is_told(understand(text, unit=player.distances_in, pace_m=player.pace_m), topic.kind)
    kind = BY_SAYING.get(topic.kind)
    if kind is None:
        intent = intent_of(topic.kind) or Intent.OUT_OF_SCOPE
        asked = heard.model_copy(update={"intent": intent})
        return replace(BY_INTENT[intent](desk, known, asked), intent=intent.value)
    if not kind.when(known, text):
        return None
    return kind.answer(desk, known, heard)
