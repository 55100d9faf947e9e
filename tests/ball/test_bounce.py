import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.ball.bounce import BOUNCE, bounce_model, penner, penner_2002, rebound, restitution, rigid
from caddie.ball.sphere import RADIUS_M
from caddie.errors import CaddieError

component = st.floats(-25.0, 25.0)
vectors = st.tuples(component, component, st.floats(-25.0, -0.01))
spins = st.tuples(*[st.floats(-900.0, 900.0)] * 3)
normals = st.tuples(st.floats(-0.5, 0.5), st.floats(-0.5, 0.5)).map(lambda s: np.array([-s[0], -s[1], 1.0]))


def column(values: object) -> np.ndarray:
    return np.array(values, dtype=float).reshape(3, 1)


def energy(velocity: np.ndarray, spin: np.ndarray) -> float:
    """Kinetic energy per mass of a uniform sphere."""
    return float(0.5 * np.sum(velocity**2) + 0.2 * RADIUS_M**2 * np.sum(spin**2))


@given(vectors, spins, normals, st.floats(0, 0.7), st.floats(0, 1), st.floats(0, 1.5))
def test_energy_never_grows_and_momentum_about_the_contact_is_kept(
    velocity: tuple, spin: tuple, normal: np.ndarray, tilt: float, give: float, friction: float
) -> None:
    v, w, n = column(velocity), column(spin), column(normal / np.linalg.norm(normal))
    out, turned = rebound(v, w, n, np.array([tilt]), give, friction)
    assert energy(out, turned) <= energy(v, w) * (1 + 1e-9) + 1e-12
    change, twist = (out - v)[:, 0], (turned - w)[:, 0]
    assert twist @ change == pytest.approx(
        0.0, abs=1e-6 * (1 + np.linalg.norm(twist) * np.linalg.norm(change))
    )


@given(vectors, spins, st.floats(0, 0.9))
def test_without_friction_spin_and_level_speed_stay(velocity: tuple, spin: tuple, give: float) -> None:
    v, w = column(velocity), column(spin)
    out, turned = rebound(v, w, column([0, 0, 1]), 0.0, give, 0.0)
    assert out[:2] == pytest.approx(v[:2])
    assert turned == pytest.approx(w)
    assert out[2] == pytest.approx(-give * v[2])


@given(st.floats(0.5, 20), st.floats(0.5, 20), st.floats(-900, 900), st.floats(0.05, 1.2))
def test_rigid_bounce_is_the_textbook_one(level: float, normal: float, back: float, friction: float) -> None:
    """Slide if mu < 2 (v_t + r omega) / (7 (1 + e) v_n), else v_t' = (5 v_t - 2 r omega) / 7 and it rolls."""
    give = float(restitution(np.array(normal)))
    v, w = column([level, 0.0, -normal]), column([0.0, -back, 0.0])
    out, turned = rebound(v, w, column([0, 0, 1]), 0.0, give, friction)
    slip = level + RADIUS_M * back
    if friction < 2 * abs(slip) / (7 * (1 + give) * normal):
        expected = level - np.sign(slip) * friction * (1 + give) * normal
    else:
        expected = (5 * level - 2 * RADIUS_M * back) / 7
        assert turned[1, 0] * RADIUS_M == pytest.approx(out[0, 0], abs=1e-9)
    assert out[0, 0] == pytest.approx(expected, abs=1e-9)
    assert out[2, 0] == pytest.approx(give * normal)


@given(vectors, spins, st.floats(0, 0.6))
def test_a_mirrored_bounce_is_mirrored(velocity: tuple, spin: tuple, tilt: float) -> None:
    flip, flip_spin = column([1, -1, 1]), column([-1, 1, -1])
    v, w, n = column(velocity), column(spin), column([0, 0, 1])
    out, turned = rebound(v, w, n, np.array([tilt]), 0.4, 0.4)
    other, other_turned = rebound(v * flip, w * flip_spin, n, np.array([tilt]), 0.4, 0.4)
    assert other == pytest.approx(out * flip, abs=1e-9)
    assert other_turned == pytest.approx(turned * flip_spin, abs=1e-7)


@given(st.sampled_from(sorted(BOUNCE)), st.floats(0, 30), st.floats(0, 30), st.floats(0, 1))
def test_models_stay_within_bounds(model: str, normal: float, level: float, firmness: float) -> None:
    tilt, give = BOUNCE[model](np.array([normal]), np.array([level]), np.array([firmness]))
    assert 0 <= np.max(tilt) <= 0.7
    assert 0 < give[0] < 0.7


@given(st.floats(1, 20), st.floats(1, 20))
def test_softer_ground_tilts_more_and_gives_less_back(normal: float, level: float) -> None:
    arrays = np.array([normal, normal]), np.array([level, level])
    tilt, give = penner(*arrays, np.array([0.2, 0.8]))
    assert np.asarray(tilt)[0] >= np.asarray(tilt)[1]
    assert give[0] < give[1]


def test_both_craters_are_penners_at_his_impact_on_firm_ground() -> None:
    """15.4 degrees at 18.6 m/s and 44.4 degrees from the normal."""
    angle = np.radians(44.4)
    impact = np.array([18.6 * np.cos(angle)]), np.array([18.6 * np.sin(angle)]), np.array([1.0])
    for model in (penner_2002, penner):
        assert np.degrees(model(*impact)[0]) == pytest.approx([15.4], abs=1e-6)
    assert rigid(*impact)[0] == 0.0


def test_unknown_model_is_refused() -> None:
    with pytest.raises(CaddieError, match="penner"):
        bounce_model("magic")
