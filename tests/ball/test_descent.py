"""Where a flight meets ground far above or below the ball, against scipy's integrator down to that ground."""

from functools import lru_cache

import numpy as np
import pytest
from reference_flight import reference_contact

from caddie.ball.air import Air, air
from caddie.ball.flight import Landing, fly, on_the_way
from caddie.ball.ground import Ground, Strip, Surface
from caddie.ball.impact import first_contact
from caddie.ball.launch import Flight, Launch, launch_for
from caddie.ball.roll import settle
from caddie.ball.table import FlightTable, tabulate
from caddie.units import YARD_M

WINDS = {"calm": (0.0, 0.0), "ahead": (-6.7, 0.0), "behind": (6.7, 0.0), "across": (0.0, 6.7)}
SHOTS = {
    "chip, 7-iron": (33.0, Flight.STOCK, 9.0),
    "chip, sand wedge": (56.0, Flight.STOCK, 9.0),
    "low pitch, pitching wedge": (46.0, Flight.LOW, 22.0),
    "pitch, gap wedge": (50.0, Flight.STOCK, 20.0),
    "full, pitching wedge": (46.0, Flight.STOCK, 34.0),
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


def reference(one: Launch, here: Air, ground: Ground, raised_m: float = 0.0) -> np.ndarray:
    return reference_contact(
        one,
        here,
        tolerance=1e-6,
        height_m=lambda x: float(ground.height_m(x, 0.0)) + raised_m * min(x, 1.0),
        lowest_m=min(height_of(ground), 0.0),
    )[0]


def agrees(ours: np.ndarray, state: np.ndarray) -> bool:
    """Within 0.1 yd, 1 % of the speed, 0.5 degrees of descent and 1 % of the spin."""
    angle, wanted = (np.degrees(np.arctan2(-v[5], np.hypot(v[3], v[4]))) for v in (ours, state))
    return bool(
        np.hypot(ours[0] - state[0], ours[1] - state[1]) < 0.1 * YARD_M
        and np.linalg.norm(ours[3:6]) == pytest.approx(np.linalg.norm(state[3:6]), rel=0.01)
        and angle == pytest.approx(wanted, abs=0.5)
        and np.linalg.norm(ours[6:]) == pytest.approx(state[6], rel=0.01)
    )


@pytest.mark.parametrize("front", FRONT_M)
@pytest.mark.parametrize("height_m", HEIGHTS)
def test_contact_with_ground_above_or_below_agrees_with_an_independent_integration(
    height_m: float, front: str
) -> None:
    """scipy.integrate.solve_ivp of the same force law down to the same banked ground.

    A ball that scrapes along a bank or over its edge, so that 5 cm more or less of it decide, may be off.
    """
    ground = banked(height_m, FRONT_M[front])
    row, node = (index.ravel() for index in np.mgrid[0 : len(SHOTS), 9:26:8])
    grazes = 0
    for wind in WINDS:
        launch, here, table = tabled(wind, height_of(ground))
        ours = met(ground, table.meet(ground, row, launch.speed_m_s[row, node], np.full(row.size, 0.02)))
        for i in range(row.size):
            speed, angle, _, spin, axis = (value[row[i], node[i]] for value in vars(launch).values())
            one = Launch(speed, angle, np.asarray(0.02), spin, axis)
            state = reference(one, here, ground)
            if not agrees(ours[:, i], state):
                near = [reference(one, here, ground, raised_m) for raised_m in (-0.05, 0.05)]
                moved_m = max(np.hypot(*(each - state)[:2]) for each in near)
                assert moved_m > 0.25, f"{list(SHOTS)[row[i]]}, {wind}: {ours[:, i]} for {state}"
                grazes += 1
    assert grazes <= 3


def test_a_low_pitch_to_a_green_ten_metres_below_falls_no_farther_for_the_drop_than_it_should() -> None:
    """A parabola from the landing back to the ball's own level would add ten yards to this one."""
    ground = banked(-10.0, 30.0)
    launch, here, table = tabled("calm", -10.0)
    low = list(SHOTS).index("low pitch, pitching wedge")
    speed = launch.speed_m_s[low, 20]
    end = fly(Launch(*(value[low, 20] for value in vars(launch).values())), here, -10.0)
    assert end.apex_m < 10.0 and end.x_m > 31.0
    rest = settle(table.meet(ground, [low], [speed]), ground, met=True)
    assert rest.first_bounce_x_m == pytest.approx([float(end.x_m)], abs=0.1 * YARD_M)


def test_states_on_the_way_begin_at_the_launch_and_end_at_the_landing() -> None:
    start = launch_for(np.radians([46.0, 58.0]), [30.0, 18.0])
    here = air(wind_along_m_s=-6.0, wind_across_m_s=4.0)
    end = fly(start, here, -8.0)
    nodes = on_the_way(start, here, -8.0, end)
    assert nodes.shape == (5, 9, 2)
    assert np.all(nodes[0, :3] == 0.0)
    assert nodes[-1, :3] == pytest.approx(np.array([end.x_m, end.y_m, end.z_m]), abs=0.01)
    assert nodes[-1, 3:6] == pytest.approx(np.array([end.vx_m_s, end.vy_m_s, end.vz_m_s]), abs=0.03)
    assert nodes[-1, 6:] == pytest.approx(
        np.array([end.spin_x_rad_s, end.spin_y_rad_s, end.spin_z_rad_s]), rel=1e-3, abs=1e-3
    )


def test_over_level_ground_every_ball_is_left_at_its_landing() -> None:
    ground = Ground.of_strips([Strip(0.0, Surface.GREEN)])
    _, _, table = tabled("across", 0.0)
    row = np.zeros(5, dtype=int)
    plain, there = (
        each(*given)
        for each, given in (
            (table.land, (row, np.linspace(4.0, 9.0, 5))),
            (table.meet, (ground, row, np.linspace(4.0, 9.0, 5))),
        )
    )
    assert np.array_equal(plain.x_m, there.x_m)
    assert np.array_equal(plain.vz_m_s, there.vz_m_s)
