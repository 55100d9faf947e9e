"""Where a flight meets ground far above or below the ball, against scipy's integrator down to that ground."""

from functools import lru_cache

import numpy as np
import pytest

from caddie.ball.air import Air, air
from caddie.ball.flight import Landing, fly, on_the_way
from caddie.ball.ground import Ground, Strip, Surface
from caddie.ball.impact import first_contact
from caddie.ball.launch import Flight, Launch, launch_for
from caddie.ball.roll import settle
from caddie.ball.table import FlightTable, tabulate
from caddie.units import YARD_M
from tests.ball.test_flight import reference_contact

WINDS = {"calm": (0.0, 0.0), "ahead": (-6.7, 0.0), "behind": (6.7, 0.0), "across": (0.0, 6.7)}
SHOTS = {
    "chip, 7-iron": (33.0, Flight.STOCK, 9.0),
    "chip, sand wedge": (56.0, Flight.STOCK, 9.0),
    "low pitch, pitching wedge": (46.0, Flight.LOW, 22.0),
    "pitch, gap wedge": (50.0, Flight.STOCK, 20.0),
    "full, pitching wedge": (46.0, Flight.STOCK, 38.0),
    "full, lob wedge": (60.0, Flight.STOCK, 34.0),
}
HEIGHTS = (8.0, 3.0, 1.5, -1.5, -3.0, -6.0, -10.0, -15.0)
FRONT_M = {"near": 9.0, "far": 30.0}


def banked(height_m: float, front_m: float) -> Ground:
    """Level ground, a bank as steep as a scene makes it, and a level green."""
    start_m = max(front_m - abs(height_m) / 0.25, 0.05 * front_m)
    slope = float(np.clip(height_m / (front_m - start_m), -0.5, 0.5))
    rows = [Strip(0.0, Surface.FAIRWAY), Strip(start_m, Surface.FAIRWAY, slope=slope)]
    return Ground.of_strips([*rows, Strip(front_m, Surface.GREEN)])


def height_of(ground: Ground) -> float:
    return float(ground.base_m[-1])


@lru_cache
def tabled(wind: str, height_m: float) -> tuple[Launch, Air, FlightTable]:
    along, across = WINDS[wind]
    here = air(20.0, wind_along_m_s=along, wind_across_m_s=across)
    fastest = np.array([speed for _, _, speed in SHOTS.values()])[:, None]
    speeds = fastest * np.linspace(0.15, 1.12, 28) ** 2
    each = [
        launch_for(np.radians(loft), speeds[i], flight) for i, (loft, flight, _) in enumerate(SHOTS.values())
    ]
    launch = Launch(*(np.stack([getattr(one, name) for one in each]) for name in vars(each[0])))
    return launch, here, tabulate(launch, here, height_m, ways=True)


def met(ground: Ground, landing: Landing) -> np.ndarray:
    """States (9, n) at first contact."""
    names = list(Landing.__dataclass_fields__)[:9]
    state = np.array([getattr(landing, name) for name in names])
    first_contact(ground, state[:3], state[3:6], landing.time_s, met=True)
    return state


@pytest.mark.parametrize("front", FRONT_M)
@pytest.mark.parametrize("wind", WINDS)
@pytest.mark.parametrize("height_m", HEIGHTS)
def test_contact_with_ground_above_or_below_agrees_with_an_independent_integration(
    height_m: float, wind: str, front: str
) -> None:
    """scipy.integrate.solve_ivp of the same force law down to the same banked ground.

    Tolerances 0.1 yd, 1 % of the speed, 0.5 degrees, 1 % of the spin.
    """
    ground = banked(height_m, FRONT_M[front])
    height_m = height_of(ground)
    launch, here, table = tabled(wind, height_m)
    row, node = (index.ravel() for index in np.mgrid[0 : len(SHOTS), 9:28:6])
    speed = launch.speed_m_s[row, node]
    ours = met(ground, table.meet(ground, row, speed, np.full(row.size, 0.02)))
    for i in range(row.size):
        one = Launch(*(value[row[i], node[i]] for value in vars(launch).values()))
        one = Launch(one.speed_m_s, one.angle_rad, np.asarray(0.02), one.spin_rad_s, one.axis_rad)
        state, _ = reference_contact(
            one,
            here,
            height_m=lambda x: float(ground.height_m(x, 0.0)),
            lowest_m=min(height_m, 0.0),
        )
        off = np.hypot(ours[0, i] - state[0], ours[1, i] - state[1])
        what = f"{list(SHOTS)[row[i]]} at {speed[i]:.1f} m/s: {ours[:3, i]} for {state[:3]}"
        assert off < 0.1 * YARD_M, what
        assert np.linalg.norm(ours[3:6, i]) == pytest.approx(np.linalg.norm(state[3:6]), rel=0.01), what
        angle, wanted = (np.degrees(np.arctan2(-v[2], np.hypot(v[0], v[1]))) for v in (ours[3:6, i], state[3:6]))
        assert angle == pytest.approx(wanted, abs=0.5), what
        assert np.linalg.norm(ours[6:, i]) == pytest.approx(state[6], rel=0.01), what
