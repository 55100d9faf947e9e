"""The physics of a golf ball, in SI units, over arrays of balls: air, launch, flight, bounce, roll, hole.

Axes: origin at the ball at ground height, x toward the flag, y to the player's left, z up.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from caddie.ball.air import Air, air
from caddie.ball.flight import Landing, fly, trace
from caddie.ball.launch import (
    CONTACT,
    Contact,
    Flight,
    Launch,
    launch_for,
    modified,
    on_slope,
    speed_for_carry,
    splash_for,
)

if TYPE_CHECKING:
    from caddie.ball.ground import Ground, Patch, Strip, Surface, flat
    from caddie.ball.hole import Hole, captured
    from caddie.ball.path import roll_path
    from caddie.ball.roll import Rest, settle
    from caddie.ball.table import FlightTable, tabulate
    from caddie.ball.track import roll_back, roll_putts
    from caddie.ball.turf import deceleration, steepest_hold

__all__ = [
    "CONTACT",
    "Air",
    "Contact",
    "Flight",
    "FlightTable",
    "Ground",
    "Hole",
    "Landing",
    "Launch",
    "Patch",
    "Rest",
    "Strip",
    "Surface",
    "air",
    "captured",
    "deceleration",
    "flat",
    "fly",
    "launch_for",
    "modified",
    "on_slope",
    "roll_back",
    "roll_path",
    "roll_putts",
    "settle",
    "speed_for_carry",
    "splash_for",
    "steepest_hold",
    "tabulate",
    "trace",
]

# Imported when first used: carries need no ground.
_ON_THE_GROUND = {
    **dict.fromkeys(("Ground", "Patch", "Strip", "Surface", "flat"), "ground"),
    **dict.fromkeys(("Hole", "captured"), "hole"),
    "roll_path": "path",
    **dict.fromkeys(("Rest", "settle"), "roll"),
    **dict.fromkeys(("FlightTable", "tabulate"), "table"),
    **dict.fromkeys(("roll_back", "roll_putts"), "track"),
    **dict.fromkeys(("deceleration", "steepest_hold"), "turf"),
}


def __getattr__(name: str) -> Any:
    if name not in _ON_THE_GROUND:
        raise AttributeError(f"module 'caddie.ball' has no attribute {name!r}")
    return getattr(import_module(f"caddie.ball.{_ON_THE_GROUND[name]}"), name)
