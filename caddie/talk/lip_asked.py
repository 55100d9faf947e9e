"""A lip to clear whose height is not told: it is asked for."""

from caddie.situation import IN_SAND, Situation
from caddie.words import Understanding
from caddie.words.sayings import talk_data

LIP = "lip_m"
LIP_ASKED = "How high is the lip: knee, hip or head?"


def lip_unsaid(heard: Understanding, situation: Situation) -> str:
    """The question how high the lip is, where a ball in sand is told to have one to clear and not how high."""
    named = not set(talk_data()["lip"]["say"]).isdisjoint(heard.left_over)
    return LIP_ASKED if named and situation.lie in IN_SAND and situation.lip_m is None else ""
