"""What becomes of a turn that the rules refuse: a second opinion may name its kind, and it is answered as such.

No fact of a shot comes of it. What would end or change anything is asked back first; a yes to that is the wish.
"""

import tomllib
from dataclasses import replace
from functools import cache

from caddie.bag import Player
from caddie.places import shipped
from caddie.reply.spoken import sentences
from caddie.talk.about import declined
from caddie.talk.by_topic import answered_by_topic, topic_wished
from caddie.talk.kinds import BY_INTENT, BY_SAYING, intent_said, kind_said
from caddie.talk.state import Desk, Known, Question, Said
from caddie.words import Intent, Understanding, understand
from caddie.words.golf_talk import is_beyond
from caddie.words.reduction import plain_english
from caddie.words.sayings import compared
from caddie.words.second_opinion import second_opinion

_ASKED_BACK = "meant "
"""Begins the field of a question that asks whether something was meant; the kind of turn follows."""


def second_look(desk: Desk, known: Known, heard: Understanding) -> Said:
    """A refused turn answered by the kind that a second opinion gives it, or declined.

    Nothing is looked at again before there is a plan: the first answer waits for nothing.
    """
    wished = topic_wished(known, heard.heard)
    if wished is not None and wished.kind in asks_back():
        return _asked_back(known, wished.kind)
    if wished and (said := answered_by_topic(desk, known, heard.heard, wished)) is not None:
        return said
    if (said := _in_plain_english(desk, known, heard)) is not None:
        return said
    opinion = None
    if known.plan is not None and not is_beyond(heard.heard):
        opinion = second_opinion(compared(heard.heard))
    if opinion is None:
        return declined(desk, known, heard)
    name = opinion.kind
    if name not in plainly():
        return _asked_back(known, name)
    plain = _plain(name, desk.bag.player)
    kind = kind_said(plain, known)
    if name in BY_SAYING and kind is not BY_SAYING[name]:
        return declined(desk, known, heard)
    if name == "adopt" and known.other is None:
        return declined(desk, known, heard)
    if name in asks_back():
        return _asked_back(known, name)
    intent = intent_said(plain, known) or plain.intent
    if kind is not None:
        said = replace(kind.handle(desk, known, plain), intent=kind.intent or intent.value)
    else:
        said = replace(BY_INTENT[intent](desk, known, plain), intent=intent.value)
    taken = sentences([f"taken as: {plain.heard}"])
    return replace(said, written=f"{said.written or said.spoken}\n{taken}")


def _in_plain_english(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """The answer to a question that dialect hid, asked in plain words; None where it is none of the shot in play."""
    words = plain_english(heard.heard)
    if known.plan is None or compared(words) == compared(heard.heard):
        return None
    plain = understand(words, unit=desk.bag.player.distances_in, pace_m=desk.bag.player.pace_m)
    names = [name for name in plain.asks if name in plainly() and name not in asks_back()]
    if len(names) != len(plain.asks) or not names:
        return None
    if (kind := kind_said(plain, known)) is not None:
        return kind.answer(desk, known, plain)
    intent = intent_said(plain, known)
    return replace(BY_INTENT[intent](desk, known, plain), intent=intent.value) if intent else None


def meant(heard: Understanding, known: Known, player: Player) -> Understanding:
    """What was asked back, when this is a yes to it; else what was heard."""
    question = known.question
    if question is None or known.spoken != question.text or heard.intent is not Intent.YES:
        return heard
    name = question.field.removeprefix(_ASKED_BACK)
    return _plain(name, player) if name != question.field and name in plainly() else heard


def plainly() -> dict[str, str]:
    """Every kind of turn that a refused one may become, and the plain words for it."""
    return _data()["plainly"]


def asks_back() -> dict[str, str]:
    """The kinds that are asked back, and the question."""
    return _data()["asks_back"]


def _asked_back(known: Known, name: str) -> Said:
    text = asks_back()[name]
    question = Question(f"{_ASKED_BACK}{name}", text)
    return Said(known.changed(question=question, spoken=text), text)


def _plain(name: str, player: Player) -> Understanding:
    return understand(plainly()[name], unit=player.distances_in, pace_m=player.pace_m)


@cache
def _data() -> dict[str, dict[str, str]]:
    return tomllib.loads(shipped("grammars/en/second_look.toml").read_text(encoding="utf-8"))
