"""Air density and viscosity against published tables."""

import csv
from pathlib import Path

import pytest

from caddie.ball.air import air

HERE = Path(__file__).parent


def rows(name: str) -> list[dict[str, str]]:
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize(
    "row", rows("air_isa1976.csv"), ids=lambda row: row["geopotential_altitude_m"] + " m"
)
def test_standard_atmosphere(row: dict[str, str]) -> None:
    """US Standard Atmosphere 1976, table I: density, viscosity within 0.01 %."""
    altitude_m = float(row["geopotential_altitude_m"])
    here = air(float(row["T_K"]) - 273.15, altitude_m=altitude_m, humidity=0.0)
    assert here.density_kg_m3 == pytest.approx(float(row["rho_kg_m3"]), rel=1e-4)
    assert here.viscosity_pa_s == pytest.approx(float(row["mu_Pa_s"]), rel=1e-4)


@pytest.mark.parametrize(
    "row", rows("air_moist.csv"), ids=lambda row: row["t_C"] + " C " + row["rel_humidity"]
)
def test_moist_air(row: dict[str, str]) -> None:
    """CIPM-2007 (Picard et al., Metrologia 45, 149, 2008) within 0.06 %; Tetens ideal gas within 0.005 %."""
    here = air(float(row["t_C"]), humidity=float(row["rel_humidity"]), pressure_pa=float(row["p_Pa"]))
    assert here.density_kg_m3 == pytest.approx(float(row["rho_CIPM2007"]), rel=6e-4)
    assert here.density_kg_m3 == pytest.approx(float(row["rho_ideal_Tetens"]), rel=5e-5)


def test_wind_profile_against_fao56() -> None:
    """FAO-56 (Allen et al., 1998), example 14: 3.2 m/s at 10 m is 2.4 m/s at 2 m (secondary); within 5 %.

    FAO's eq. 47 is for a clipped reference crop, ours for open grass with z0 = 0.03 m.
    """
    unit = air(wind_along_m_s=1.0)
    ratio = float(unit.wind_at(2.0)[0] / unit.wind_at(10.0)[0])
    assert 3.2 * ratio == pytest.approx(2.4, rel=0.05)
