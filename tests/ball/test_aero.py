import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.ball.aero import AERO, aero_model, bearman_harvey, smits_smith
from caddie.ball.sphere import RADIUS_M
from caddie.ball.wind_tunnel import AIR_SPEED_M_S, DRAG, LIFT, SPIN_RPM
from caddie.errors import CaddieError
from caddie.units import RPM_RAD_S


def at(model: str, speed: float, rpm: float) -> tuple[float, float]:
    speeds = np.array([speed])
    drag, lift = AERO[model](speeds, np.array([rpm * RPM_RAD_S]), speeds * 2 * RADIUS_M / 1.46e-5)
    return float(drag[0]), float(lift[0])


def test_table_is_met_at_every_node() -> None:
    rpm, speed = np.meshgrid(SPIN_RPM, AIR_SPEED_M_S, indexing="ij")
    drag, lift = bearman_harvey(speed.ravel(), rpm.ravel() * RPM_RAD_S, speed.ravel())
    assert drag.reshape(DRAG.shape) == pytest.approx(DRAG, abs=1e-9)
    assert lift.reshape(LIFT.shape) == pytest.approx(LIFT, abs=1e-9)


@given(st.sampled_from(sorted(AERO)), st.floats(0.5, 95), st.floats(0, 13000))
def test_coefficients_are_physical_and_continuous(model: str, speed: float, rpm: float) -> None:
    drag, lift = at(model, speed, rpm)
    near = at(model, speed * 1.0005, rpm + 1.0)
    assert 0.0 <= drag < 0.6
    assert 0.0 <= lift < 0.6
    if model != "smits_smith" or rpm > 100:
        assert near == pytest.approx((drag, lift), abs=0.01)


@pytest.mark.parametrize("model", ["bearman_harvey", "smits_smith"])
def test_no_spin_no_lift(model: str) -> None:
    assert at(model, 30.0, 0.0)[1] == 0.0


@given(st.floats(2.0, 13.6), st.floats(0.2, 0.95))
def test_slow_air_reads_the_slowest_column_at_the_same_spin_ratio(speed: float, ratio: float) -> None:
    rpm = ratio * speed / RADIUS_M / RPM_RAD_S
    same = ratio * 13.7 / RADIUS_M / RPM_RAD_S
    assert at("bearman_harvey", speed, rpm) == pytest.approx(
        at("bearman_harvey", 13.7, min(same, 6000.0)), abs=1e-6
    )


@given(st.floats(20, 80), st.floats(6000, 13000))
def test_fast_spin_goes_a_quarter_of_the_way_to_the_same_spin_ratio(speed: float, rpm: float) -> None:
    edge = np.array(at("bearman_harvey", speed, 6000.0))
    slower = max(speed * 6000.0 / rpm, 13.7)
    ratio = np.array(at("bearman_harvey", slower, 6000.0))
    assert at("bearman_harvey", speed, rpm) == pytest.approx(edge + 0.25 * (ratio - edge), abs=0.006)


def test_smits_smith_by_hand() -> None:
    """Re 1.4e5 at W 0.2: C_D = 0.24 + 0.036 + 0.06 sin(pi/4), C_L = 0.54 * 0.2^0.4."""
    speed = np.array([48.0])
    drag, lift = smits_smith(speed, 0.2 * speed / RADIUS_M, np.array([140_000.0]))
    assert drag[0] == pytest.approx(0.24 + 0.036 + 0.06 * np.sqrt(0.5))
    assert lift[0] == pytest.approx(0.54 * 0.2**0.4)


def test_unknown_model_is_refused() -> None:
    with pytest.raises(CaddieError, match="bearman_harvey"):
        aero_model("magic")
