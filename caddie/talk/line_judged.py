"""Whether so much break is right: "is a whole cup too much?", "would two balls be enough?"."""

from caddie.reply.putt import putt_unit, start_said
from caddie.reply.spoken import sentences
from caddie.situation import BALL_ACROSS_M
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.words import Understanding
from caddie.words.borrow import amount_named

ALIKE = 0.25
"""Share by which two starts may differ and be one to a player's eye (common practice, no source)."""


def names_an_amount(known: Known, text: str) -> bool:
    """Whether a break is named, with a putt in play."""
    plan = in_play(known)
    return plan is not None and plan.chosen.line is not None and amount_named(text) is not None


def line_judged(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The amount beside where the putt is to be started."""
    plan, named = in_play(known), amount_named(heard.heard)
    if plan is None or plan.chosen.line is None or named is None:
        return no_shot(known)
    start_m = abs(plan.chosen.aim_left_m)
    more_m = named.aim_m - start_m
    if abs(more_m) <= max(ALIKE * start_m, BALL_ACROSS_M / 2):
        verdict = lines.ABOUT_RIGHT
    else:
        verdict = lines.TOO_MUCH_BREAK if more_m > 0 else lines.TOO_LITTLE_BREAK
    spoken = sentences([verdict, start_said(plan.chosen, putt_unit(desk.bag))])
    return Said(known.changed(spoken=spoken), spoken)
