"""The bunker splash beside the same swing from grass: how fast the ball leaves, how far it carries.

A player's measured splashes say how fast their ball leaves the sand; the other swings and clubs follow them.
Without one, everything about sand here is common practice.
"""

from collections.abc import Mapping

import numpy as np

from caddie.arrays import Floats
from caddie.bag.curve import SAND_SPREAD, expected_spread_m, speed_fraction
from caddie.bag.models import Bag, Carry, Club, ClubKind
from caddie.ball.air import Air, air
from caddie.ball.flight import fly
from caddie.ball.launch import speed_for_carry, splash_for
from caddie.ball.lie import CONTACT

SPLASH_SPEED = 0.5
"""Ball speed of a splash as a share of the same swing's from grass, before the sand takes the share that any
lie takes: the club meets sand, not the ball (common practice: a splash carries about a third of the same swing
from the fairway)."""
SAND_WEDGE_DEG = 56.0
"""Loft of a sand wedge (common practice, no source)."""
SAND_KEEPS = CONTACT["bunker"].speed_share


def grass_speed(share: Floats, knots: Floats, speed_m_s: Floats) -> Floats:
    """Ball speed from grass [m/s] at swing shares, beyond the longest knot in proportion."""
    between = np.interp(speed_fraction(share), speed_fraction(knots), speed_m_s)
    return np.asarray(between * np.maximum(share / knots[-1], 1.0))


def followed(along: Floats, known: Floats, value: Floats, at_rest: float) -> Floats:
    """What is known at some places and at rest, joined; beyond the last place in proportion."""
    joined = np.interp(along, [0.0, *known], [at_rest, *value])
    return np.asarray(joined * np.maximum(along / known[-1], 1.0))


def measured_speed(club: Club, shares: Mapping[str, float], measured_air: Air) -> tuple[Floats, Floats]:
    """Swing shares of the club's splash cells, ascending, and the ball speed [m/s] that explains each.

    Raises:
        CaddieError: when no ball speed splashes as far as a cell says.
    """
    cells = sorted(club.splash, key=lambda cell: shares[cell.swing])
    share = np.array([shares[cell.swing] for cell in cells])
    carry_m = np.array([cell.carry_m for cell in cells])
    return share, speed_for_carry(carry_m, np.radians(club.loft_deg), measured_air, splash=True)


def splash_carry_m(loft_deg: float, speed_m_s: Floats, in_air: Air) -> Floats:
    """Carry [m] of splashes that leave clean sand at these ball speeds; 0 at rest."""
    carry = np.zeros_like(speed_m_s)
    moving = speed_m_s > 0.0
    carry[moving] = fly(splash_for(np.radians(loft_deg), speed_m_s[moving]), in_air).x_m
    return carry


def splash_cells(bag: Bag) -> dict[str, tuple[Carry, ...]]:
    """The sand matrix: the measured splash of every club and swing, else an estimate with ``shots`` = 0.

    Estimated are the swings whose carry from grass is known: between measured splashes of the club by the
    same swings from grass, and for a club without any at the mean share of the grass speed that the others
    show, :data:`SPLASH_SPEED` when there is no splash at all.

    Raises:
        CaddieError: when no ball speed carries as far as a cell says.
    """
    measured_air = air(bag.measured_in.temperature_c, bag.measured_in.altitude_m)
    shares = {swing.name: swing.share for swing in bag.swings}
    clubs = [club for club in bag.clubs if club.carries and club.kind is not ClubKind.PUTTER]
    if not clubs:
        return {}
    grass = {club.id: _from_grass(club, shares, measured_air) for club in clubs}
    splashed = {club.id: measured_speed(club, shares, measured_air) for club in clubs if club.splash}
    ratios = [
        ratio
        for name, (share, speed) in splashed.items()
        for ratio in speed / grass_speed(share, *grass[name])
    ]
    ratio = float(np.mean(ratios)) if ratios else SPLASH_SPEED * SAND_KEEPS
    matrix = {}
    for club in clubs:
        knots, speed = grass[club.id]
        if club.id in splashed:
            share, known = splashed[club.id]
            sand = followed(speed, grass_speed(share, knots, speed), known, 0.0)
        else:
            sand = ratio * speed
        carry_m = splash_carry_m(club.loft_deg, sand, measured_air)[1:]
        length_sd, _ = expected_spread_m(carry_m, bag.player.handicap)
        estimates = {
            cell.swing: Carry(swing=cell.swing, carry_m=float(carry), sd_m=float(SAND_SPREAD * sd), shots=0)
            for cell, carry, sd in zip(_ordered(club.carries, shares), carry_m, length_sd, strict=True)
        }
        known_cells = {cell.swing: cell for cell in club.splash}
        matrix[club.id] = _ordered(tuple((estimates | known_cells).values()), shares)
    return matrix


def with_splash_estimates(bag: Bag) -> Bag:
    """The bag with every splash that :func:`splash_cells` can tell, estimates and all."""
    matrix = splash_cells(bag)
    clubs = tuple(club.with_cells(matrix.get(club.id, ()), sand=True) for club in bag.clubs)
    return bag.model_copy(update={"clubs": clubs})


def _from_grass(club: Club, shares: Mapping[str, float], measured_air: Air) -> tuple[Floats, Floats]:
    cells = _ordered(club.carries, shares)
    carry_m = np.array([cell.carry_m for cell in cells])
    speed = speed_for_carry(carry_m, np.radians(club.loft_deg), measured_air)
    return np.array([0.0, *(shares[cell.swing] for cell in cells)]), np.concatenate([[0.0], speed])


def _ordered(cells: tuple[Carry, ...], shares: Mapping[str, float]) -> tuple[Carry, ...]:
    return tuple(sorted(cells, key=lambda cell: shares[cell.swing]))
