"""Whether how far it is is right: told, or worked out from the green and where the flag stands; and in other units."""

from caddie.reply.phrases import flag_said, said
from caddie.reply.putt import putt_unit
from caddie.reply.spoken import sentences
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.units import Unit, from_metres, spoken_length, to_metres
from caddie.words import Understanding
from caddie.words.echoes import Figure, figures_in
from caddie.words.golf_talk import unit_said
from caddie.words.sayings import compared

NEAR = 0.6
"""A number as near to the distance as it is counted is that distance."""


def names_the_length(known: Known, text: str) -> bool:
    """Whether the one number said is how far it is to the flag, in some unit."""
    plan, figures = in_play(known), figures_in(text)
    if plan is None or plan.situation.pin_m is None or len(figures) != 1:
        return False
    pin_m = plan.situation.pin_m
    return any(abs(from_metres(pin_m, unit) - figures[0].value) < NEAR for unit in Unit)


def asks_in_a_unit(known: Known, text: str) -> bool:
    """Whether a length just told is asked for in another unit: "how many feet is that?"; a pace is no length."""
    return unit_said(text) is not None and _length_told(known) is not None and "pace" not in compared(text)


def in_that_unit(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The length just told, and what it is in the unit asked for."""
    unit = unit_said(heard.heard)
    told = _length_told(known, unit)
    if unit is None or told is None:
        return no_shot(known)
    pace_m = desk.bag.player.pace_m
    length_m = to_metres(told.value, Unit(str(told.unit)), pace_m)
    before = spoken_length(length_m, Unit(str(told.unit)), pace_m)
    far = spoken_length(length_m, unit, pace_m)
    spoken = sentences([before if far == before else lines.IN_UNIT.format(told=before, far=far)])
    return Said(known.changed(spoken=known.spoken), spoken)


def _length_told(known: Known, unit: Unit | None = None) -> Figure | None:
    """The length of the last reply that "that" means: the first in another unit than is asked for, else the first."""
    units = {each.value for each in Unit}
    told = [each for each in figures_in(known.spoken) if each.unit in units]
    return next((each for each in told if each.unit != unit), told[0] if told else None)


def length_asked(desk: Desk, known: Known, heard: Understanding) -> Said:
    """As it was told, or from what it was worked out; and that it may be put right."""
    plan = in_play(known)
    if plan is None or plan.situation.pin_m is None:
        return no_shot(known)
    there, bag = plan.situation, desk.bag
    assert there.pin_m is not None
    putting = plan.chosen.line is not None
    far = spoken_length(there.pin_m, putt_unit(bag)) if putting else flag_said(there.pin_m, bag)
    if known.situation.pin_m is None and there.front_m is not None:
        room = said(there.pin_m - there.front_m, bag)
        told = lines.LENGTH_WORKED_OUT.format(front=said(there.front_m, bag), room=room, far=far)
    else:
        told = lines.LENGTH_TOLD.format(far=far)
    spoken = sentences([told, lines.SAY_THE_LENGTH])
    return Said(known.changed(spoken=spoken), spoken)
