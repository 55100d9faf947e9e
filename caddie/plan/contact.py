"""What today's lie and stance do to the strike: the physics' contact for a situation."""

import numpy as np

from caddie.bag import Handed
from caddie.ball.lie import CONTACT, Contact, modified, on_slope
from caddie.situation import Lie, Sitting, Situation, Stance

SLOPE_RAD = float(np.radians(6.0))
"""A sloping lie that is spoken of, with no word of how much (common practice, no source)."""


def contact_of(situation: Situation, handed: Handed) -> Contact:
    """Friction, speed and slope of the strike from lie, sitting, wet grass, dirty grooves and stance."""
    contact = modified(
        CONTACT[(situation.lie or Lie.FAIRWAY).value],
        wet=bool(situation.wet),
        dirty_grooves=bool(situation.dirty_grooves),
        sitting_up=situation.sitting is Sitting.UP,
        sitting_down=situation.sitting is Sitting.DOWN,
    )
    stances = set(situation.stance)
    uphill = (Stance.UPHILL in stances) - (Stance.DOWNHILL in stances)
    above = (Stance.BALL_ABOVE in stances) - (Stance.BALL_BELOW in stances)
    if uphill or above:
        contact = on_slope(contact, uphill * SLOPE_RAD, above * SLOPE_RAD, handed is Handed.RIGHT)
    return contact
