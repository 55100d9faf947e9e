"""What today's lie and stance do to the strike: the physics' contact for a situation."""

from dataclasses import replace

import numpy as np

from caddie.bag import Handed
from caddie.ball.launch import CONTACT, Contact, on_slope
from caddie.situation import Lie, Sitting, Situation, Stance

SLOPE_RAD = float(np.radians(6.0))
"""A sloping lie that is spoken of, with no word of how much (common practice, no source)."""
WET_FRICTION = 0.63
"""Spin kept on wet grass (published test: about 37 % less)."""
DIRTY_FRICTION = 0.6
"""Spin kept with sand or grass in the grooves (common practice, no source)."""
DOWN = {Lie.LIGHT_ROUGH: 0.9, Lie.HEAVY_ROUGH: 0.8}
"""Speed kept when the ball sits down in the grass."""


def contact_of(situation: Situation, handed: Handed) -> Contact:
    """Friction, speed and slope of the strike; wet grass and dirty grooves take spin away.

    A ball sitting up in rough is struck as cleanly as the fringe allows; one sitting down loses speed.
    """
    lie = situation.lie or Lie.FAIRWAY
    contact = CONTACT[lie.value]
    if situation.sitting is Sitting.UP and lie in DOWN:
        contact = replace(
            contact,
            friction_share=(contact.friction_share + CONTACT["fringe"].friction_share) / 2,
            speed_share=(contact.speed_share + 1.0) / 2,
        )
    if situation.sitting is Sitting.DOWN:
        contact = replace(contact, speed_share=contact.speed_share * DOWN.get(lie, 0.95))
    if situation.wet:
        contact = replace(contact, friction_share=contact.friction_share * WET_FRICTION)
    if situation.dirty_grooves:
        contact = replace(contact, friction_share=contact.friction_share * DIRTY_FRICTION)
    stances = set(situation.stance)
    uphill = (Stance.UPHILL in stances) - (Stance.DOWNHILL in stances)
    above = (Stance.BALL_ABOVE in stances) - (Stance.BALL_BELOW in stances)
    if uphill or above:
        contact = on_slope(contact, uphill * SLOPE_RAD, above * SLOPE_RAD, handed is Handed.RIGHT)
    return contact
