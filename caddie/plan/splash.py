"""The bunker splash by the player's own measured splashes, and by the share of the speed that they show."""

from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from caddie.bag import Bag, Carry, SwingLength
from caddie.ball.air import Air
from caddie.ball.flight import fly
from caddie.ball.launch import speed_for_carry, splash_for
from caddie.ball.lie import CONTACT
from caddie.plan.dispersion import SPREAD_BY_LIE
from caddie.plan.swings import SwingCurve, cell_spread
from caddie.situation import Lie

Floats = NDArray[np.float64]

SAND_KEEPS = CONTACT["bunker"].speed_share
SAND_SPREAD = SPREAD_BY_LIE[Lie.BUNKER]


def with_splashes(curves: tuple[SwingCurve, ...], bag: Bag, measured_air: Air) -> tuple[SwingCurve, ...]:
    """The curves with what the bag's measured splashes say; the same ones when none was measured.

    A club with splash carries gets a curve of its own for sand. The others splash at the mean share of the
    grass speed that the measured splashes show.

    Raises:
        CaddieError: when no ball speed splashes as far as a cell says.
    """
    return _with_splashes(curves, bag.swings, bag.player.handicap, measured_air)


@lru_cache(maxsize=16)
def _with_splashes(
    curves: tuple[SwingCurve, ...], swings: tuple[SwingLength, ...], handicap: float, measured_air: Air
) -> tuple[SwingCurve, ...]:
    shares = {swing.name: swing.share for swing in swings}
    sands: list[SwingCurve | None] = []
    ratios: list[float] = []
    for curve in curves:
        cells = {shares[cell.swing]: cell for cell in curve.club.splash}
        if not cells:
            sands.append(None)
            continue
        measured = np.array(sorted(cells))
        carry_m = np.array([cells[share].carry_m for share in measured])
        loft_rad = np.radians(curve.club.loft_deg)
        speed_m_s = speed_for_carry(carry_m, loft_rad, measured_air, splash=True)
        ratios += list(speed_m_s / _grass_speed(curve, measured))
        sands.append(_sand_curve(curve, cells, speed_m_s, handicap, measured_air))
    if not ratios:
        return curves
    ratio = float(np.mean(ratios)) / SAND_KEEPS
    return tuple(
        replace(curve, splash=sand, splash_speed=ratio) for curve, sand in zip(curves, sands, strict=True)
    )


def _grass_speed(curve: SwingCurve, share: Floats) -> Floats:
    """Ball speed from grass [m/s], beyond the longest measured swing in proportion."""
    return curve.speed_at(share) * np.maximum(share / curve.longest, 1.0)


def _sand_curve(
    curve: SwingCurve, cells: dict[float, Carry], speed_m_s: Floats, handicap: float, measured_air: Air
) -> SwingCurve:
    """The club's curve out of sand: its measured splashes, and its other swings after them.

    Between two measured splashes, and from rest to the first, the splash's speed follows the same swing's
    from grass, and the spread follows the carry; beyond the last they grow in proportion.
    """
    measured = np.array(sorted(cells))
    knots = np.union1d(curve.share, measured)
    at = np.searchsorted(knots, measured)
    known, grass = _grass_speed(curve, measured), _grass_speed(curve, knots)
    speed = _followed(grass, known, speed_m_s, 0.0)

    carry = np.zeros_like(knots)
    carry[1:] = fly(splash_for(np.radians(curve.club.loft_deg), speed[1:]), measured_air).x_m
    ordered = [cells[share] for share in measured]
    carry[at] = [cell.carry_m for cell in ordered]

    length_sd, side_sd = cell_spread(ordered, carry[at], handicap, wider=SAND_SPREAD)
    still_length, still_side = SAND_SPREAD * curve.length_sd_m[0], SAND_SPREAD * curve.side_sd_m[0]

    run_bias = np.interp(knots, curve.share, curve.run_bias_m)
    run_bias[at] = [cell.run_bias_m for cell in ordered]
    names = dict(zip(curve.share[1:].tolist(), curve.names, strict=True))
    names |= {share: cell.swing for share, cell in cells.items()}
    return SwingCurve(
        club=curve.club,
        share=knots,
        speed_m_s=speed,
        carry_m=carry,
        length_sd_m=_followed(carry, carry[at], length_sd, still_length),
        side_sd_m=_followed(carry, carry[at], side_sd, still_side),
        run_bias_m=run_bias,
        names=tuple(names[share] for share in knots[1:].tolist()),
        lie=Lie.BUNKER,
        # Its speeds are those from sand already: what any lie takes is given back before it is taken.
        splash_speed=1.0 / SAND_KEEPS,
    )


def _followed(along: Floats, known: Floats, value: Floats, at_rest: float) -> Floats:
    """What is known at some places and at rest, joined; beyond the last place in proportion."""
    joined = np.interp(along, [0.0, *known], [at_rest, *value])
    return np.asarray(joined * np.maximum(along / known[-1], 1.0))
