"""A turn about the shot in play that is known by its topic, in whatever words: what is asked so keeps the shot."""

from dataclasses import replace

from caddie.bag import Bag
from caddie.situation import Situation
from caddie.talk.asked import in_play
from caddie.talk.kinds import BY_INTENT, BY_SAYING
from caddie.talk.state import Desk, Known, Said
from caddie.units import Unit, to_metres
from caddie.words import Intent, Understanding, understand
from caddie.words.echoes import Figure, figures_in
from caddie.words.gist import asks_meaning, intent_of, is_question
from caddie.words.numbers_in_play import says_so_plainly
from caddie.words.outright import without_what_is_told
from caddie.words.sayings import clauses, sentences_of
from caddie.words.topics import OTHER, PUTT, SHOT, TOLD, Topic, topic_of

_ENDS_IT = (Intent.NEXT_HOLE, Intent.STOP, Intent.READY, Intent.UNDO)
"""What a sentence beside a question may be that is not passed over for it."""
_NAMED = ("pin_m", "hazards", "lie", "pin_position")
"""Facts that the words of a question itself read as."""
_UNITS = {unit.value: unit for unit in Unit}
_SAME_M = 0.5


def asked_by_topic(desk: Desk, known: Known, text: str) -> Said | None:
    """The answer to a turn that asks one thing of the shot in play and tells nothing new; None for any other."""
    topic = _topic(known, text, changing=False)
    if topic is None or _asks_more(text, known, topic) or _tells_news(text, known, topic, desk.on(known.day).bag):
        return None
    return _answered(desk, known, text, topic)


def wished_by_topic(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """The answer to words that are nothing else, by their topic, be it a wish for another shot."""
    topic = _topic(known, heard.heard, changing=True)
    return None if topic is None else _answered(desk, known, heard.heard, topic)


def _topic(known: Known, text: str, *, changing: bool) -> Topic | None:
    where = _where(known)
    return topic_of(text, where, changing=changing) if where and not asks_meaning(text) else None


def _where(known: Known) -> frozenset[str]:
    """Where in the round something is said; empty before there is a shot."""
    plan = in_play(known)
    if plan is None:
        return frozenset({TOLD}) if known.played else frozenset()
    on_green = plan.chosen.line is not None
    return frozenset({PUTT if on_green else SHOT} | ({OTHER} if known.other is not None else set()))


def _asks_more(text: str, known: Known, topic: Topic) -> bool:
    """Whether something else is asked or told beside it."""
    where = _where(known)
    for each in clauses(text):
        found = topic_of(each, where, changing=True)
        if found is not None and found.kind != topic.kind:
            return True
    sentences = sentences_of(text)
    others = [each for each in sentences if len(sentences) > 1 and topic_of(each, where, changing=True) is None]
    return any(is_question(each) or understand(each).intent in _ENDS_IT for each in others)


def _tells_news(text: str, known: Known, topic: Topic, bag: Bag) -> bool:
    """Whether a fact of the shot is told with it, or a shot that was hit."""
    heard = understand(text, unit=bag.player.distances_in, pace_m=bag.player.pace_m)
    told = heard.situation.model_copy(update=dict.fromkeys(_NAMED) | {"hazards": ()})
    if told != Situation():
        return True
    if heard.intent is Intent.RESULT and not (is_question(text) or topic.numbers):
        return True
    return any(_is_new(figure, text, known, topic, bag) for figure in figures_in(text))


def _is_new(figure: Figure, text: str, known: Known, topic: Topic, bag: Bag) -> bool:
    """Whether a figure is a length that neither the reply nor the golfer said of this shot."""
    unit, pin_m = _UNITS.get(figure.unit or ""), known.situation.pin_m
    if unit is None or any(figure.is_of(each) for each in figures_in(known.replied)):
        return False
    if pin_m is not None and abs(to_metres(figure.value, unit, bag.player.pace_m) - pin_m) < _SAME_M:
        return False
    return says_so_plainly(text, figure.value) or not topic.numbers


def _answered(desk: Desk, known: Known, text: str, topic: Topic) -> Said | None:
    player = desk.bag.player
    heard = without_what_is_told(
        understand(text, unit=player.distances_in, pace_m=player.pace_m), topic.kind
    )
    kind = BY_SAYING.get(topic.kind)
    if kind is None:
        intent = intent_of(topic.kind) or Intent.OUT_OF_SCOPE
        asked = heard.model_copy(update={"intent": intent})
        return replace(BY_INTENT[intent](desk, known, asked), intent=intent.value)
    if not kind.when(known, text):
        return None
    return replace(kind.handle(desk, known, heard), intent=kind.intent or heard.intent.value)
