from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caddie.ball.air import Air, air
from caddie.ball.flight import Landing, fly
from caddie.ball.launch import Launch, launch_for
from caddie.ball.table import tabulate
from caddie.errors import CaddieError
from caddie.units import YARD_M

LOFTS = np.radians([46.0, 52.0, 56.0, 60.0])


@settings(max_examples=15, deadline=None)
@given(st.floats(-8, 8), st.floats(-8, 8), st.floats(-3, 3), st.floats(10.0, 26.0), st.integers(0, 2**31))
def test_table_agrees_with_flying_every_ball_within_a_tenth_of_a_yard(
    along: float, across: float, height: float, speed: float, seed: int
) -> None:
    here = air(wind_along_m_s=along, wind_across_m_s=across)
    speeds = speed * np.linspace(0.75, 1.25, 20)
    table = tabulate(launch_for(LOFTS[:, None], speeds), here, min(height, 0.0))
    rng = np.random.default_rng(seed)
    row = rng.integers(0, 4, 200)
    played = speed * rng.uniform(0.76, 1.24, 200)
    azimuth = rng.normal(0.0, 0.06, 200)
    found = table.land(row, played, azimuth)
    direct = fly(replace(launch_for(LOFTS[row], played), azimuth_rad=azimuth), here, min(height, 0.0))
    assert np.hypot(found.x_m - direct.x_m, found.y_m - direct.y_m).max() < 0.1 * YARD_M
    for name in ("vx_m_s", "vy_m_s", "vz_m_s"):
        assert getattr(found, name) == pytest.approx(getattr(direct, name), abs=0.1)
    assert found.spin_rad_s == pytest.approx(direct.spin_rad_s, rel=0.03)


def test_a_turn_in_calm_air_is_exact() -> None:
    table = tabulate(launch_for(LOFTS[:, None], np.linspace(15, 25, 8)), Air.calm())
    straight, turned = table.land(2, 20.0, 0.0), table.land(2, 20.0, 0.3)
    assert np.hypot(turned.x_m, turned.y_m) == pytest.approx(straight.x_m)
    assert np.arctan2(turned.y_m, turned.x_m) == pytest.approx(0.3)
    assert turned.spin_rad_s == pytest.approx(straight.spin_rad_s)


def test_speeds_beyond_a_row_are_held_to_its_ends() -> None:
    table = tabulate(launch_for(LOFTS[:, None], np.linspace(15, 25, 8)), Air.calm())
    assert table.land(0, [5.0, 15.0]).x_m[0] == table.land(0, [5.0, 15.0]).x_m[1]


def test_heights_may_differ_by_row() -> None:
    table = tabulate(
        launch_for(LOFTS[:, None], np.linspace(15, 25, 8)), Air.calm(), np.array([[0.0], [-1], [-2], [2]])
    )
    assert table.land([0, 1, 2, 3], 22.0).z_m == pytest.approx([0.0, -1.0, -2.0, 2.0], abs=1e-6)


def test_every_field_is_filled_for_many_balls() -> None:
    table = tabulate(launch_for(LOFTS[:, None], np.linspace(15, 25, 8)), Air.calm())
    found = table.land(np.zeros(1000, dtype=int), np.full(1000, 20.0), 0.0)
    assert all(getattr(found, field.name).shape == (1000,) for field in fields(Landing))
    assert np.all(found.apex_m > 2)


def test_grids_that_are_no_grids_are_refused() -> None:
    flat = launch_for(0.9, np.linspace(15, 25, 8))
    with pytest.raises(CaddieError, match="ascending"):
        tabulate(flat, Air.calm())
    falling = Launch(*(np.atleast_2d(getattr(flat, field.name))[:, ::-1] for field in fields(Launch)))
    with pytest.raises(CaddieError, match="ascending"):
        tabulate(falling, Air.calm())
