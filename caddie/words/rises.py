"""How much higher or lower the hole is than the ball: of a putt its slope, once it is known how far that is."""

from caddie.situation import Fall, Green
from caddie.units import SMALL_UNITS
from caddie.words.mentions import Mention
from caddie.words.scene import Scene

STEEPEST = 0.4
_MOST_RISE_M, _LEAST_PUTT_M = 0.8, 0.4
"""Up to here "uphill a foot" tells how much, and "a foot uphill" is no putt (common practice, no source)."""


def is_a_rise(scene: Scene, mention: Mention) -> bool:
    """ "Uphill about a foot" tells how much higher the hole is; "three feet uphill" is how far."""
    quantity, at = mention.quantity, mention.quantity_at
    if "elevation" not in mention or quantity is None or at is None or not quantity.is_length:
        return False
    most_m = _MOST_RISE_M if at > mention.start else _LEAST_PUTT_M
    return quantity.unit is not None and not quantity.footer and scene.length_m(quantity) <= most_m


def is_of_a_putt(scene: Scene, mention: Mention, pin_m: float | None) -> bool:
    """ "Fourteen feet, uphill about a foot": a rise beside a length, both counted as putts are."""
    lengths = [p.quantity.unit for p in scene.pieces if p.quantity is not None and p.quantity.is_length]
    return pin_m is not None and is_a_rise(scene, mention) and set(lengths) <= set(SMALL_UNITS)


def with_rise(green: Green, scene: Scene, pin_m: float | None) -> Green:
    """The green of a putt with its slope up or down, where how much it rises or drops was told."""
    told = [m.quantity for m in scene.having("elevation") if is_a_rise(scene, m) and m.quantity is not None]
    if not told or pin_m is None or green.fall_slope is not None or green.fall not in _UP_AND_DOWN:
        return green
    return green.model_copy(update={"fall_slope": slope_of(scene.length_m(told[-1]), pin_m)})


_UP_AND_DOWN = (Fall.TOWARD, Fall.AWAY)


def slope_of(rise_m: float, far_m: float) -> float:
    """Rise over run of a green that rises so much on the way.

    >>> slope_of(0.3048, 6.096)
    0.05
    """
    return round(min(abs(rise_m) / far_m, STEEPEST), 3)
