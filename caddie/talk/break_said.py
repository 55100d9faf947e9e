"""A short length said while a longer putt is looked at is how far it breaks: "I said about a foot"."""

from caddie.situation import SIDEWAYS, Fall, Lie, Situation
from caddie.talk.state import Known
from caddie.units import Unit
from caddie.words import Intent, Understanding
from caddie.words.borrow import MOST_ALONE_M, borrow_of
from caddie.words.golf_talk import gives_a_line, tells_of_another_putt, unit_said

_SHARE = 0.25
"""Of the putt that is looked at, at most so much is its break where nothing says so (common practice, no source)."""
_READ_SO = (Intent.PUTT, Intent.CORRECT, Intent.SITUATION)


def break_meant(heard: Understanding, known: Known) -> Understanding:
    """What was said, with a length that is a break taken for one.

    It is one where a putt that breaks, or is given a length, is looked at and not yet struck, at most a quarter as
    long, and nothing tells of another putt.
    """
    length_m, before_m = heard.situation.pin_m, known.situation.pin_m
    if heard.intent not in _READ_SO or not _looks_at_a_breaking_putt(heard, known):
        return heard
    if length_m is None or before_m is None or length_m > min(MOST_ALONE_M, _SHARE * before_m):
        return heard
    if heard.pin_named or tells_of_another_putt(heard.heard) or _tells_how_it_climbs(heard):
        return heard
    unit = unit_said(heard.heard) or known.day.putt_unit or Unit.FEET
    green = heard.situation.green.model_copy(update={"borrow": borrow_of(length_m, unit)})
    situation = heard.situation.model_copy(update={"pin_m": None, "green": green})
    return heard.model_copy(update={"situation": situation, "intent": Intent.CORRECT, "pin_range_m": None})


def _tells_how_it_climbs(heard: Understanding) -> bool:
    """ "Four feet, uphill": the length of a putt, as its line climbs no way of its own."""
    green = heard.situation.green
    return not {green.fall, green.side_fall}.isdisjoint((Fall.TOWARD, Fall.AWAY)) and not gives_a_line(
        heard.heard
    )


def _looks_at_a_breaking_putt(heard: Understanding, known: Known) -> bool:
    if known.plan is None or known.played or known.situation.lie is not Lie.GREEN:
        return False
    return _breaks(known.situation) or _breaks(heard.situation) or gives_a_line(heard.heard)


def _breaks(situation: Situation) -> bool:
    return not SIDEWAYS.isdisjoint({situation.green.fall, situation.green.side_fall})
