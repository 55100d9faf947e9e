"""The spoken reply: at most thirty words, in the order a caddie says them."""

from caddie.bag import Bag, Family
from caddie.plan.shot import Plan
from caddie.reply.cue import Cue
from caddie.reply.phrases import (
    aim_said,
    club_said,
    flight_said,
    landing_said,
    run_said,
    said,
    swing_said,
    trouble_said,
    trouble_that_matters,
)
from caddie.reply.putt import speak_putt

MOST_WORDS = 30


def speak(plan: Plan, bag: Bag, cue: Cue) -> str:
    """Distance as understood, club, swing, landing and run, the trouble that matters, the cue.

    When that is more than thirty words, the least needed parts go first: the trouble, then the flight,
    then the aim.
    """
    option, situation = plan.chosen, plan.situation
    if option.pace_m is not None:
        return speak_putt(plan, bag, cue)
    assert situation.pin_m is not None
    if option.family is Family.PUTT:
        shot = f"{club_said(option, bag)}, {run_said(option, bag).replace('it runs', 'roll it')}"
        return _sentences([said(situation.pin_m, bag), shot, cue.say])
    hazard = trouble_that_matters(situation)
    club = ", ".join(filter(None, (club_said(option, bag), flight_said(option), swing_said(option))))
    plain_club = f"{club_said(option, bag)}, {swing_said(option)}"
    landing = f"{landing_said(option, situation, bag)}, {run_said(option, bag)}"
    aim = aim_said(option, bag)
    trouble = trouble_said(hazard, option, bag) if hazard else ""
    distance = said(situation.pin_m, bag)
    versions = [
        [distance, club, landing, aim, trouble, cue.say],
        [distance, club, landing, aim, cue.say],
        [distance, plain_club, landing, aim, cue.say],
        [distance, plain_club, landing, cue.say],
    ]
    spoken = [_sentences(parts) for parts in versions]
    return next((text for text in spoken if len(text.split()) <= MOST_WORDS), spoken[-1])


def _sentences(parts: list[str]) -> str:
    """Join the parts as short sentences."""
    sentences = [part.rstrip(".") for part in parts if part]
    return " ".join(f"{sentence[:1].upper()}{sentence[1:]}." for sentence in sentences)
