"""When words mean what they may mean: by the shot in play, the one just hit, and what is asked."""

from caddie.situation import Lie
from caddie.talk.state import Known


def in_play(known: Known, text: str) -> bool:
    """A shot is advised and not hit."""
    return known.plan is not None and not known.played


def not_in_play(known: Known, text: str) -> bool:
    """None is."""
    return not in_play(known, text)


_ANSWERED_ALIKE = ("green.firmness", "lie", "water")
"""Questions that "high" or "the middle" is no answer to."""


def free(known: Known, text: str) -> bool:
    """In play, and nothing asked that a word or two like these may answer."""
    asked = known.question
    return in_play(known, text) and (asked is None or asked.field in _ANSWERED_ALIKE)


def putting(known: Known, text: str) -> bool:
    """A putt is being played, or was: "missed it" is then no "I did not hear"."""
    putt = known.plan is not None and known.plan.chosen.pace_m is not None
    return putt or known.played


def on_the_green(known: Known, text: str) -> bool:
    """A putt is in play, and not just hit."""
    return in_play(known, text) and known.plan is not None and known.plan.chosen.line is not None


def begun(known: Known, text: str) -> bool:
    """A shot is advised, or over."""
    return known.played or known.plan is not None


def compared(known: Known, text: str) -> bool:
    """Another shot was set beside the one advised."""
    return known.other is not None and in_play(known, text)


def beside_here(known: Known, text: str) -> bool:
    """Another shot was compared, from where the ball lies."""
    return compared(known, text) and known.supposed is None


def putter_in_play(known: Known, text: str) -> bool:
    """Whether a putter off the green is the shot."""
    return in_play(known, text) and known.situation.lie is not Lie.GREEN


def stuck(known: Known, text: str) -> bool:
    """Whether something at the ball makes a drop a thing to think of."""
    shot = known.situation
    return in_play(known, text) and bool(shot.unplayable or shot.against or shot.obstruction or shot.hampered)


def waits(known: Known, text: str) -> bool:
    """Something is asked."""
    return known.question is not None
