"""A shot read as a putt that is none: the ball lies off the green, and everything else that was told holds."""

from caddie.plan.candidates import Only
from caddie.talk import lines
from caddie.talk.planning import planned
from caddie.talk.state import Desk, Known, Said
from caddie.words import Understanding


def off_the_green(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "It's a chip, not a putt": the shot from the same place with another lie, of the kind that is named."""
    green = known.situation.green.model_copy(update={"borrow": None, "break_part": None})
    situation = known.situation.model_copy(update={"lie": None, "green": green})
    only = Only(family=heard.family, without=known.only.without)
    after = known.changed(situation=situation, only=only, question=None, other=None, supposed=None)
    return planned(desk, after, heard, before=known.situation, lead=lines.OFF_THE_GREEN)
