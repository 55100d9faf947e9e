"""Whether the hole takes a rolling ball, by its speed and how far off centre it crosses.

``holmes``: B. W. Holmes, "Putting: how a golf ball and hole interact", *Am. J. Phys.* 59(2), 129-136 (1991):
1.63 m/s through the centre; off centre by delta the capture speed falls as 1.63 [1 - (delta / R)^2] (recalled
from memory).
``free_fall``: A. R. Penner, "The physics of putting", *Can. J. Phys.* 80(2), 83-96 (2002): the ball falls its
own radius while its centre crosses the chord of the hole less its radius, 1.31 m/s through the centre.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Bools, Floats
from caddie.ball.sphere import GRAVITY_M_S2, RADIUS_M
from caddie.errors import CaddieError

HOLE_RADIUS_M = 0.054
"""Half of the 4.25 in (108 mm) of the Rules of Golf."""

HOLMES_M_S = 1.63


def holmes(offset_m: ArrayLike) -> Floats:
    """Fastest captured speed m/s at ``offset_m`` from the centre, Holmes (1991)."""
    share = np.asarray(offset_m, dtype=float) / HOLE_RADIUS_M
    return np.asarray(HOLMES_M_S * np.maximum(1.0 - share * share, 0.0))


def free_fall(offset_m: ArrayLike) -> Floats:
    """Fastest captured speed m/s at ``offset_m`` from the centre, Penner (2002)."""
    offset = np.asarray(offset_m, dtype=float)
    chord = 2 * np.sqrt(np.maximum(HOLE_RADIUS_M**2 - offset * offset, 0.0))
    fall_time = np.sqrt(2 * RADIUS_M / GRAVITY_M_S2)
    return np.asarray(np.maximum(chord - RADIUS_M, 0.0) / fall_time)


CAPTURE: Mapping[str, Callable[[ArrayLike], Floats]] = {"holmes": holmes, "free_fall": free_fall}


def capture_model(name: str) -> Callable[[ArrayLike], Floats]:
    """The model called ``name``.

    Raises:
        CaddieError: no such model.
    """
    if name not in CAPTURE:
        raise CaddieError(f"hole: no capture model {name!r}: choose one of {', '.join(CAPTURE)}")
    return CAPTURE[name]


@dataclass(frozen=True)
class Hole:
    """Where a hole is [m], and the name of the model of :data:`CAPTURE` by which it takes a ball.

    Raises:
        CaddieError: no such model.
    """

    x_m: float
    y_m: float = 0.0
    capture: str = "holmes"

    def __post_init__(self) -> None:
        capture_model(self.capture)


def captured(speed_m_s: ArrayLike, offset_m: ArrayLike, capture: str = "holmes") -> Bools:
    """Whether a ball crossing the hole at ``speed_m_s`` and ``offset_m`` from its centre drops, any shape.

    Raises:
        CaddieError: no such capture model.
    """
    fastest = capture_model(capture)
    offset = np.abs(np.asarray(offset_m, dtype=float))
    return np.asarray((np.asarray(speed_m_s) <= fastest(offset)) & (offset < HOLE_RADIUS_M))
