"""The bunker splash by the player's own measured splashes, and by the share of the speed that they show."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

import numpy as np

from caddie.arrays import Floats, distinct
from caddie.bag import Bag, SwingLength
from caddie.bag.curve import SAND_SPREAD
from caddie.bag.sand import SAND_KEEPS, followed, grass_speed, measured_speed, splash_carry_m
from caddie.ball.air import Air
from caddie.plan.dispersion import course_share
from caddie.plan.swings import SwingCurve, cell_spread
from caddie.situation import Lie


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
        if not curve.club.splash:
            sands.append(None)
            continue
        measured, speed_m_s = measured_speed(curve.club, shares, measured_air)
        ratios += list(speed_m_s / grass_speed(measured, curve.share, curve.speed_m_s))
        sands.append(_sand_curve(curve, measured, speed_m_s, shares, handicap, measured_air))
    if not ratios:
        return curves
    ratio = float(np.mean(ratios)) / SAND_KEEPS
    return tuple(
        replace(curve, splash=sand, splash_speed=ratio) for curve, sand in zip(curves, sands, strict=True)
    )


def _sand_curve(
    curve: SwingCurve,
    measured: Floats,
    speed_m_s: Floats,
    shares: Mapping[str, float],
    handicap: float,
    measured_air: Air,
) -> SwingCurve:
    """The club's curve out of sand: its measured splashes, and its other swings after them.

    Between two measured splashes, and from rest to the first, the splash's speed follows the same swing's
    from grass, and the spread follows the carry; beyond the last they grow in proportion.
    """
    knots = distinct(np.concatenate([curve.share, measured]))
    at = np.searchsorted(knots, measured)
    known, grass = (grass_speed(share, curve.share, curve.speed_m_s) for share in (measured, knots))
    speed = followed(grass, known, speed_m_s, 0.0)

    carry = splash_carry_m(curve.club.loft_deg, speed, measured_air)
    ordered = sorted(curve.club.splash, key=lambda cell: shares[cell.swing])
    carry[at] = [cell.carry_m for cell in ordered]

    length_sd, side_sd = cell_spread(ordered, carry[at], handicap, wider=SAND_SPREAD)
    still_length, still_side = SAND_SPREAD * curve.length_sd_m[0], SAND_SPREAD * curve.side_sd_m[0]

    course = np.interp(knots, curve.share, curve.course)
    course[at] = course_share(np.array([float(cell.course_shots or 0) for cell in ordered]))
    run_bias = np.interp(knots, curve.share, curve.run_bias_m)
    run_bias[at] = [cell.run_bias_m for cell in ordered]
    names = dict(zip(curve.share[1:].tolist(), curve.names, strict=True))
    names |= {shares[cell.swing]: cell.swing for cell in ordered}
    return SwingCurve(
        club=curve.club,
        share=knots,
        speed_m_s=speed,
        carry_m=carry,
        length_sd_m=followed(carry, carry[at], length_sd, still_length),
        side_sd_m=followed(carry, carry[at], side_sd, still_side),
        run_bias_m=run_bias,
        course=course,
        names=tuple(names[share] for share in knots[1:].tolist()),
        marks=curve.marks,
        lie=Lie.BUNKER,
        # Its speeds are those from sand already: what any lie takes is given back before it is taken.
        splash_speed=1.0 / SAND_KEEPS,
    )
