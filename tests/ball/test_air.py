import numpy as np
import pytest
from fluids import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from caddie.ball.air import HEAD_M, Air, air, aloft, standard_pressure_pa
from caddie.errors import CaddieError


@given(st.floats(-400, 6000))
def test_density_and_viscosity_follow_the_1976_atmosphere_of_an_independent_library(
    altitude_m: float,
) -> None:
    """`fluids.ATMOSPHERE_1976` wants geometric height; geopotential h = r z / (r + z)."""
    radius = 6_356_766.0
    reference = ATMOSPHERE_1976(radius * altitude_m / (radius - altitude_m))
    here = air(reference.T - 273.15, altitude_m=altitude_m, humidity=0.0) if reference.T < 333 else None
    assert here is not None
    assert here.density_kg_m3 == pytest.approx(reference.rho, rel=2e-4)
    assert here.viscosity_pa_s == pytest.approx(reference.mu, rel=2e-4)
    assert standard_pressure_pa(altitude_m) == pytest.approx(reference.P, rel=2e-4)


@given(st.floats(-10, 45), st.floats(0, 3000), st.floats(0, 0.99))
def test_warmer_higher_or_damper_air_is_thinner(
    temperature_c: float, altitude_m: float, humidity: float
) -> None:
    here = air(temperature_c, altitude_m, humidity).density_kg_m3
    assert air(temperature_c + 1, altitude_m, humidity).density_kg_m3 < here
    assert air(temperature_c, altitude_m + 10, humidity).density_kg_m3 < here
    assert air(temperature_c, altitude_m, humidity + 0.01).density_kg_m3 < here


def test_station_pressure_replaces_altitude() -> None:
    assert air(altitude_m=3000, pressure_pa=101325).density_kg_m3 == air().density_kg_m3


@given(st.floats(-20, 20), st.floats(-20, 20), st.floats(0.03, 60), st.floats(0.01, 20))
def test_wind_grows_with_height_and_keeps_its_direction(
    along: float, across: float, height_m: float, rise_m: float
) -> None:
    here = air(wind_along_m_s=along, wind_across_m_s=across)
    low, high = here.wind_at(height_m), here.wind_at(height_m + rise_m)
    assert np.hypot(*high) >= np.hypot(*low) - 1e-9
    assert low[0] * across == pytest.approx(low[1] * along, abs=1e-9)


def test_wind_is_as_given_at_ten_metres_and_nothing_at_the_grass() -> None:
    """Wind is reported at 10 m above open ground (World Meteorological Organization, Guide No. 8)."""
    here = air(wind_along_m_s=-5.0, wind_across_m_s=2.0)
    assert here.wind_at(10.0) == pytest.approx((-5.0, 2.0))
    assert here.wind_at([0.0, 0.03])[0] == pytest.approx([0.0, 0.0])


def test_calm_is_the_standard_day() -> None:
    here, standard = Air.calm(), air(humidity=0.0)
    assert here.density_kg_m3 == pytest.approx(standard.density_kg_m3, rel=1e-4)
    assert here.viscosity_pa_s == pytest.approx(standard.viscosity_pa_s, rel=1e-4)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("temperature_c", 95),
        ("altitude_m", 9000),
        ("humidity", 50),
        ("wind_along_m_s", 200),
        ("pressure_pa", 1013),
    ],
)
def test_nonsense_is_refused_by_name(field: str, value: float) -> None:
    with pytest.raises(CaddieError, match=field.split("_")[0]):
        air(**{field: value})


def test_a_felt_wind_is_stronger_where_forecasts_have_it() -> None:
    """The profile read backward; FAO-56 eq. 47 has u(2 m) = 0.748 u(10 m), at 1.7 m it is a little less."""
    assert air(wind_along_m_s=aloft(6.0)).wind_at(HEAD_M)[0] == pytest.approx(6.0)
    assert 0.65 < 1.0 / aloft(1.0) < 0.748
