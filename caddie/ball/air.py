"""The air a ball flies through: density, viscosity and the wind by height."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats
from caddie.errors import CaddieError

WIND_HEIGHT_M = 10.0
"""Height above the ground at which the wind of :class:`Air` blows: that of forecasts, station readings and the
Beaufort scale (World Meteorological Organization, Guide No. 8: 10 m over open ground)."""

HEAD_M = 1.7
"""Height at which a player feels the wind."""

ROUGHNESS_M = 0.03
"""Aerodynamic roughness length of open grass."""

_GAS_DRY = 287.0528
_GAS_VAPOUR = 461.523
_KELVIN = 273.15


@dataclass(frozen=True)
class Air:
    """Air at the ball.

    ``wind_along_m_s`` is positive with the shot (a tailwind), ``wind_across_m_s`` positive toward the
    player's left (+y); both are at :data:`WIND_HEIGHT_M` above the ground.
    """

    density_kg_m3: float
    viscosity_pa_s: float
    wind_along_m_s: float = 0.0
    wind_across_m_s: float = 0.0

    @staticmethod
    def calm() -> "Air":
        """Still air of the standard atmosphere at sea level, 15 degrees C, dry."""
        return Air(density_kg_m3=1.225, viscosity_pa_s=1.7894e-5)

    def still(self) -> "Air":
        """The same air without its wind."""
        return replace(self, wind_along_m_s=0.0, wind_across_m_s=0.0)

    def wind_at(self, height_m: ArrayLike) -> tuple[Floats, Floats]:
        """Wind (along, across) in m/s at ``height_m`` above the ground, any shape.

        Neutral log profile u(z) = u(10 m) ln(z / z0) / ln(10 / z0) with z0 = 0.03 m, open grass
        (World Meteorological Organization, Guide No. 8, roughness classes); nothing below z0.
        """
        share = _profile(height_m)
        return self.wind_along_m_s * share, self.wind_across_m_s * share


def _profile(height_m: ArrayLike) -> Floats:
    """Wind at a height as a share of that at :data:`WIND_HEIGHT_M`."""
    return np.asarray(
        np.log(np.maximum(height_m, ROUGHNESS_M) / ROUGHNESS_M) / np.log(WIND_HEIGHT_M / ROUGHNESS_M)
    )


def aloft(felt_m_s: float) -> float:
    """Wind at :data:`WIND_HEIGHT_M` when ``felt_m_s`` is felt at the head.

    >>> round(aloft(5.0), 2)
    7.19
    """
    return felt_m_s / float(_profile(HEAD_M))


def _within(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise CaddieError(f"air: {name} {value:g} {unit} is outside {low:g} to {high:g}: give a value within")


def standard_pressure_pa(altitude_m: float) -> float:
    """Pressure in Pa at ``altitude_m`` (geopotential, up to 11 km).

    US Standard Atmosphere 1976, eq. 33a: p = p0 (T / T0)^(g0 / (R L)), lapse rate 6.5 K/km.

    >>> round(standard_pressure_pa(1000.0))
    89875
    """
    return float(101325.0 * (1.0 - 0.0065 * altitude_m / 288.15) ** 5.255877)


def air(
    temperature_c: float = 15.0,
    altitude_m: float = 0.0,
    humidity: float = 0.5,
    wind_along_m_s: float = 0.0,
    wind_across_m_s: float = 0.0,
    pressure_pa: float | None = None,
) -> Air:
    """Air from what a weather report says.

    Density is that of an ideal mixture of dry air and vapour, the vapour's saturation pressure by
    O. Tetens (1930); viscosity by W. Sutherland (1893) with the constants of the US Standard
    Atmosphere 1976, eq. 51. ``humidity`` is relative, 0 to 1; ``pressure_pa`` is the station
    pressure and replaces the standard pressure at ``altitude_m``.

    Raises:
        CaddieError: a value no course on earth has.

    >>> round(air(20.0, humidity=0.5).density_kg_m3, 4)
    1.1989
    """
    _within("temperature", temperature_c, -40.0, 60.0, "degrees C")
    _within("altitude", altitude_m, -450.0, 6000.0, "m")
    _within("humidity", humidity, 0.0, 1.0, "(relative)")
    _within("wind along", wind_along_m_s, -40.0, 40.0, "m/s")
    _within("wind across", wind_across_m_s, -40.0, 40.0, "m/s")
    pressure = standard_pressure_pa(altitude_m) if pressure_pa is None else pressure_pa
    _within("pressure", pressure, 40_000.0, 110_000.0, "Pa")
    kelvin = temperature_c + _KELVIN
    vapour = humidity * 610.78 * float(np.exp(17.27 * temperature_c / (temperature_c + 237.3)))
    density = (pressure - vapour) / (_GAS_DRY * kelvin) + vapour / (_GAS_VAPOUR * kelvin)
    viscosity = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)
    return Air(density, viscosity, wind_along_m_s, wind_across_m_s)
