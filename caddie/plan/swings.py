"""What the player's swings do with the ball today: from measured carries to ball speed, club by club."""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats
from caddie.bag import Bag, Carry, Club, ClubKind, SwingLength
from caddie.bag.curve import expected_spread_m, share_of_speed, speed_fraction, swing_fraction
from caddie.bag.models import STANDARD_SWINGS
from caddie.bag.sand import SPLASH_SPEED
from caddie.ball.air import Air
from caddie.ball.launch import speed_for_carry
from caddie.plan.dispersion import course_share, pooled_spread
from caddie.situation import Lie

IN_BETWEEN = 0.35
"""Extra spread, as a share, of a swing :data:`AWAY` from the nearest measured one: a swing less practised (common
practice, no source). It grows with the distance, so that a swing more that is measured never makes one wider."""
AWAY = 0.125
"""Share of a full swing: half way between two measured swings a quarter apart. The shortest strokes, up to here, are
played by feel where a swing of at most twice as much was measured; where the shortest is a longer one, up to less."""
UNMEASURED = 0.1
"""Extra spread, as a share, of a swing that no ball was measured of (common practice, no source)."""
UNSURE_CARRY = 0.03
"""How far the carry of such a swing may be off, as a share: one standard deviation (common practice, no source)."""
HALF_KNOWN_SHOTS = 3.0
"""Balls that halve both."""
OWNED_WITHIN = 0.012
"""Shares of a full swing nearer than this to a measured one are that swing."""
JUST_WITHIN = 0.06
SAME_MARK = 0.12
"""A standard swing length nearer than this to one of the player's is that one."""
SHORTEST_SHARE = 0.06
AT_REST = 0.7
"""Spread of the shortest strokes as a share of the prior at no carry at all."""


@dataclass(frozen=True, eq=False)
class SwingCurve:
    """One club: ball speed off a clean lie and spread by share of a full swing, measured knots joined.

    Between two measured swings they follow the usual curve of speed and carry by swing, so that a gap where a swing
    was not measured is no shorter a way and no narrower a pattern than one that was.
    """

    club: Club
    share: Floats
    """Knots, ascending, from 0."""
    speed_m_s: Floats
    carry_m: Floats
    length_sd_m: Floats
    side_sd_m: Floats
    run_bias_m: Floats
    """How much farther than modelled the ball runs, as played shots have taught."""
    course: Floats
    """Share of what the course adds by handicap that the player's own shots there have not replaced."""
    names: tuple[str, ...]
    """Swing length at each knot but the first."""
    marks: tuple[SwingLength, ...]
    """Every swing length that the player knows, measured with this club or not, shortest first."""
    lie: Lie = Lie.FAIRWAY
    """Where the spread was measured."""
    splash: "SwingCurve | None" = None
    """The same club out of sand, where its splashes were measured."""
    splash_speed: float = SPLASH_SPEED
    """Ball speed of a splash as a share of this curve's, before the sand takes the share that any lie takes."""

    @property
    def longest(self) -> float:
        """Largest share the player has a carry for."""
        return float(self.share[-1])

    def speed_at(self, share: Floats) -> Floats:
        """Ball speed off a clean lie [m/s] for swing shares (any shape)."""
        return np.interp(speed_fraction(share), self._speed_knots, self.speed_m_s)

    def share_at(self, speed_m_s: Floats) -> Floats:
        """Swing share that gives a ball speed off a clean lie; beyond the longest swing infinity."""
        return share_of_speed(np.interp(speed_m_s, self.speed_m_s, self._speed_knots, right=np.inf))

    def carry_at(self, share: Floats) -> Floats:
        """Measured carry [m] for swing shares."""
        return np.interp(swing_fraction(share), self._carry_knots, self.carry_m)

    def spread_at(self, share: Floats) -> tuple[Floats, Floats]:
        """Spread of carry and direction [m] off a clean lie, wider between two measured swings."""
        away = np.abs(self.share[1:] - np.asarray(share)[..., None]).min(axis=-1)
        felt = AWAY * min(2 * AWAY / float(self.share[1]), 1.0)
        away = np.minimum(away, np.maximum(np.asarray(share) - felt, 0.0))
        wider = 1.0 + IN_BETWEEN * away / AWAY
        carried = swing_fraction(share)
        return (
            np.interp(carried, self._carry_knots, self.length_sd_m) * wider,
            np.interp(carried, self._carry_knots, self.side_sd_m) * wider,
        )

    @cached_property
    def _speed_knots(self) -> Floats:
        return speed_fraction(self.share)

    @cached_property
    def _carry_knots(self) -> Floats:
        return swing_fraction(self.share)

    def course_at(self, share: Floats) -> Floats:
        """Share of what the course adds by handicap, for swing shares."""
        return np.interp(share, self.share, self.course)

    def nearest(self, share: float) -> int:
        """Position among ``names`` of the measured swing nearest to a share."""
        return int(np.argmin(np.abs(self.share[1:] - share)))

    def owned(self, share: Floats) -> NDArray[np.bool_]:
        """Whether each share is a swing the player has measured."""
        gaps = np.abs(self.share[1:] - np.asarray(share)[..., None])
        return np.asarray(gaps.min(axis=-1) <= OWNED_WITHIN)

    def gap(self, share: float) -> float:
        """How far a share is from the measured swing nearest to it."""
        return float(np.abs(self.share[1:] - share).min())

    def name_at(self, share: float) -> str:
        """The swing as said: ``"chest"``, ``"just past chest"``, ``"hip to chest"`` or ``"under hip"``."""
        nearest = min(self.marks, key=lambda mark: abs(mark.share - share))
        gap = share - nearest.share
        if abs(gap) <= OWNED_WITHIN:
            return nearest.name
        if abs(gap) <= JUST_WITHIN:
            return f"just {'past' if gap > 0 else 'short of'} {nearest.name}"
        if share < self.marks[0].share:
            return f"under {self.marks[0].name}"
        above = next(i for i, mark in enumerate(self.marks) if mark.share >= share)
        return f"{self.marks[above - 1].name} to {self.marks[above].name}"


def known_swings(swings: tuple[SwingLength, ...]) -> tuple[SwingLength, ...]:
    """The player's swing lengths, shortest first, with the standard ones where theirs leave a wide gap.

    A swing below a full one and no more is nothing that a player can hear and make.
    """
    known = list(swings)
    for mark in STANDARD_SWINGS:
        if all(abs(mark.share - swing.share) > SAME_MARK for swing in swings) and mark.name not in {
            swing.name for swing in swings
        }:
            known.append(mark)
    return tuple(sorted(known, key=lambda swing: swing.share))


def swing_curves(bag: Bag, measured_air: Air) -> tuple[SwingCurve, ...]:
    """The curve of every club with a carry, putter excluded, most lofted first.

    Kept for the next call: the same clubs in the same air give the same curves.
    """
    return _curves(bag.clubs, bag.swings, bag.player.handicap, measured_air)


@lru_cache(maxsize=16)
def _curves(
    owned: tuple[Club, ...], swings: tuple[SwingLength, ...], handicap: float, measured_air: Air
) -> tuple[SwingCurve, ...]:
    shares = {swing.name: swing.share for swing in swings}
    clubs = sorted(
        (club for club in owned if club.carries and club.kind is not ClubKind.PUTTER),
        key=lambda club: -club.loft_deg,
    )
    cells = [
        (club, cell) for club in clubs for cell in sorted(club.carries, key=lambda cell: shares[cell.swing])
    ]
    if not cells:
        return ()
    carry_m = np.array([cell.carry_m for _, cell in cells])
    loft_rad = np.radians([club.loft_deg for club, _ in cells])
    speed_m_s = speed_for_carry(carry_m, loft_rad, measured_air)
    length_sd_m, side_sd_m = cell_spread([cell for _, cell in cells], carry_m, handicap)
    still_length, still_side = expected_spread_m(np.zeros(1), handicap)
    curves = []
    for club in clubs:
        mine = [i for i, (owner, _) in enumerate(cells) if owner is club]
        curves.append(
            SwingCurve(
                club=club,
                share=np.array([0.0, *(shares[cells[i][1].swing] for i in mine)]),
                speed_m_s=np.concatenate([[0.0], speed_m_s[mine]]),
                carry_m=np.concatenate([[0.0], carry_m[mine]]),
                length_sd_m=np.concatenate([AT_REST * still_length, length_sd_m[mine]]),
                side_sd_m=np.concatenate([AT_REST * still_side, side_sd_m[mine]]),
                run_bias_m=np.array([0.0, *(cells[i][1].run_bias_m for i in mine)]),
                course=course_share(np.array([0.0, *(cells[i][1].course_shots or 0 for i in mine)])),
                names=tuple(cells[i][1].swing for i in mine),
                marks=known_swings(swings),
            )
        )
    return tuple(curves)


def cell_spread(
    cells: list[Carry], carry_m: Floats, handicap: float, wider: float = 1.0
) -> tuple[Floats, Floats]:
    """Spread of carry and direction [m] of cells, pooled with the prior made ``wider`` for their lie.

    A cell without a ball is never narrower than one that was measured: its carry too is only an estimate.
    """
    shots = np.array([cell.shots for cell in cells], dtype=np.float64)
    prior_length, prior_side = (wider * prior for prior in expected_spread_m(carry_m, handicap))
    side = np.array([cell.side_sd_m or prior for cell, prior in zip(cells, prior_side, strict=True)])
    length = np.array([cell.sd_m for cell in cells])
    # An estimate holds what the player's other cells say of the spread.
    prior_length = np.where(shots > 0, prior_length, np.maximum(length, prior_length))
    prior_side = np.where(shots > 0, prior_side, np.maximum(side, prior_side))
    unknown = 1.0 / (1.0 + shots / HALF_KNOWN_SHOTS)
    more = 1.0 + UNMEASURED * unknown
    return (
        np.hypot(more * pooled_spread(length, prior_length, shots), UNSURE_CARRY * unknown * carry_m),
        more * pooled_spread(side, prior_side, shots),
    )
