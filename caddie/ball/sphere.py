"""The ball itself: a uniform sphere at the limits of the Rules of Golf (Equipment Rules, part 4).

A file of its own because flight, bounce, roll and hole all stand on it and on nothing of each other.
"""

import math

MASS_KG = 0.04593
RADIUS_M = 0.042670 / 2
AREA_M2 = math.pi * RADIUS_M**2
GRAVITY_M_S2 = 9.80665
