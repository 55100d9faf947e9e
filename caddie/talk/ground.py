"""Questions about the ground of the shot in play: the sand, and what the green is taken for."""

from dataclasses import replace

from caddie.bag import Bag, Family
from caddie.plan.option import Plan
from caddie.reply.phrases import OPEN, face_said
from caddie.reply.spoken import sentences
from caddie.situation import IN_SAND, Lie, Sand
from caddie.talk import lines
from caddie.talk.asked import in_play, of_the_shot
from caddie.talk.state import Desk, Known, Said
from caddie.units import spoken_number
from caddie.words import Understanding
from caddie.words.sayings import compared


def ball_or_sand(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What to hit first, where that is asked, and how much sand to take: in brief that alone."""
    words = set(compared(heard.heard))
    asked = words >= {"ball", "sand"} and "behind" not in words

    def told(plan: Plan, bag: Bag) -> list[str]:
        splashed = plan.situation.lie is Lie.PLUGGED or plan.chosen.family is Family.SPLASH
        return [*([lines.SAND_NOT_BALL] if asked and splashed else []), *sand(plan, bag)]

    said, plan = of_the_shot(told)(desk, known, heard), in_play(known)
    if plan is None:
        return said
    return replace(said, brief=sentences([told(plan, desk.bag)[0].partition(". ")[0]]))


def sand(plan: Plan, bag: Bag) -> list[str]:
    """How much sand to take."""
    if plan.situation.lie is Lie.PLUGGED:
        return [lines.SAND_DEEP]
    if plan.chosen.family is not Family.SPLASH:
        return [lines.NO_SAND_TAKEN if plan.situation.lie in IN_SAND else lines.NO_SAND]
    told = plan.situation.sand
    if face_said(plan.chosen) == OPEN:
        return [lines.SAND_SOFT if told is Sand.SOFT else lines.SAND_ADVICE]
    return [lines.SAND_ADVICE if told is Sand.SOFT else lines.SAND_FIRM]


def green_taken(plan: Plan, bag: Bag) -> list[str]:
    """How quick and firm the green is taken for, and that the player may say otherwise."""
    green = plan.situation.green
    told = [lines.GREEN_TAKEN.format(stimp=spoken_number(round(green.stimp_ft)))] if green.stimp_ft else []
    told += [f"{green.firmness.value} firmness"] if green.firmness else []
    return [", ".join(told), lines.SAY_OTHERWISE]
