"""Where a shot is aimed in a crosswind, and what becomes of the ball after it has drifted and landed."""

import numpy as np
import pytest
from reference_flight import reference_contact

from caddie.bag import load_bag
from caddie.ball.bounce import rebound
from caddie.ball.launch import Launch
from caddie.ball.roll import settle
from caddie.plan.candidates import ANY, same_swing
from caddie.plan.choose import advise
from caddie.plan.scene import lay_out
from caddie.plan.search import launch_rows
from caddie.reply import speak
from caddie.reply.cue import cue_for
from caddie.situation import Situation, Wind, WindFrom
from caddie.units import FOOT_M, MPH_M_S, YARD_M


@pytest.mark.parametrize(("from_", "upwind"), [(WindFrom.LEFT, 1.0), (WindFrom.RIGHT, -1.0)])
def test_a_pitch_across_the_wind_lands_upwind_of_the_flag_and_comes_to_rest_in_its_line(
    from_: WindFrom, upwind: float
) -> None:
    """The flight by scipy's integrator, started on the line that is said: 80 yd, 15 mph across.

    The aim at the flag's distance is drift and sideways run together, within 0.5 m.
    """
    bag = load_bag()
    bag = bag.model_copy(update={"player": bag.player.model_copy(update={"usual_misses": ()})})
    wind = Wind(from_=from_, speed_m_s=15 * MPH_M_S)
    plan = advise(Situation(pin_m=80 * YARD_M, wind=wind), bag)
    scene = lay_out(plan.situation, bag)
    rows = launch_rows(scene, bag, ANY)
    shot = same_swing(scene, rows, bag, plan.chosen)
    assert shot is not None
    row, speed = int(shot.row[0]), float(shot.speed_m_s[0])
    azimuth = np.arctan2(plan.chosen.aim_left_m, scene.pin_m)
    struck = rows.launch_of(row, speed)
    start = Launch(*(np.asarray(value[0]) for value in vars(struck).values()))
    start = Launch(
        start.speed_m_s, start.angle_rad, start.azimuth_rad + azimuth, start.spin_rad_s, start.axis_rad
    )
    state, _ = reference_contact(start, scene.air)
    landing = rows.table.land([row], [speed], [azimuth])
    assert landing.y_m == pytest.approx([state[1]], abs=0.1 * YARD_M)
    rest = settle(landing, scene.ground)
    assert 1.0 < upwind * state[1] < 4.0
    assert rest.y_m == pytest.approx([0.0], abs=0.6)
    drift_m = state[0] * np.tan(azimuth) - state[1]
    ran_m = float(landing.y_m[0] - rest.y_m[0])
    at_landing_m = plan.chosen.aim_left_m * state[0] / scene.pin_m
    assert at_landing_m == pytest.approx(drift_m + ran_m, abs=0.6)
    assert f"{'left' if upwind > 0 else 'right'}" in speak(plan, bag, cue_for(plan, bag))
    assert upwind * plan.chosen.aim_left_m > 20 * FOOT_M


def test_backspin_square_to_the_start_line_leaves_a_ball_most_of_its_sideways_speed() -> None:
    """Coulomb friction on a level plane worked by hand: the impulse mu (1 + e) v_n points against the slip."""
    mu, give, radius_m = 0.4, 0.2, 0.021335
    velocity, spin = np.array([[13.4], [-1.6], [-13.1]]), np.array([[123.0], [-695.0], [0.0]])
    slip = np.array([13.4 + radius_m * 695.0, -1.6 + radius_m * 123.0])
    push = mu * (1 + give) * 13.1
    wanted = np.array([13.4, -1.6]) - push * slip / np.hypot(*slip)
    up = (np.zeros(1), np.zeros(1), np.ones(1))
    out, _ = rebound(velocity, spin, up, 0.0, give, mu)
    assert out[:2, 0] == pytest.approx(wanted, rel=1e-9)
    assert out[1, 0] / -1.6 > 0.9 and out[0, 0] / 13.4 < 0.6
