"""Which shots to try: every club and flight, carried to landing points the player can reach."""

from collections.abc import Iterable
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from caddie.arrays import Floats, Ints, distinct
from caddie.bag import Bag, Club, ClubKind, Family
from caddie.bag.curve import skill_factor
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.dispersion import SPREAD_BY_LIE, bitten, lie_spread, muddied, on_course
from caddie.plan.finish import Candidates
from caddie.plan.hampered import longest_share
from caddie.plan.launches import Rows
from caddie.plan.lay_up import struck_for
from caddie.plan.option import Option
from caddie.plan.scene import CROWN_M, Scene, trouble_ahead_m
from caddie.plan.shapes import height_m, top_m
from caddie.plan.strikes import most_mishit, strike_rates
from caddie.plan.swings import OWNED_WITHIN, SHORTEST_SHARE
from caddie.plan.wind_error import unsteady
from caddie.situation import IN_SAND, Frozen, HazardKind, Lie, Side

CHIP_CARRY_M = 16.0
"""A stroke that carries no farther is a chip (common practice, no source)."""
FACE_SD_RAD = float(np.radians(1.5))
"""Spread of the loft delivered with a face laid open, at handicap 14 (common practice, no source)."""
FACE_HANDICAP = 14.0
SPREAD_POWER = 0.75
"""How the spread shrinks when a face laid open or the grass makes the same swing carry less."""
RUNNING_LOFT_DEG = 50.0
"""A low shot with no more loft than this is a chip, or from farther away a bump-and-run."""
IRON_LOFT_DEG = 43.0
IRON_SHARE = 0.6
"""So is a shot with no more loft than this that is carried no farther than this share of the way."""
CHIP_FLAG_M = 25.0
RUNNING_SHARE = 0.75
"""A shot that is carried farther than this share of the way is no running shot, however low it flies."""
RUNNING_CARRY_M = 35.0
"""Nor is one that flies farther (common practice, no source)."""
PAST_FLAG_FROM_SAND_M = 3.0
"""Out of sand no shot is meant to land farther past the flag than this, where one lands sooner (common practice, no
source)."""
PAST_FLAG_M = 8.0
"""Nor from elsewhere farther than this, however often a mishit makes up for it (common practice, no source)."""
PAST_A_TREE = 0.05
"""A tree is passed by so much more than half its width, as a share of its distance: about a spread (common practice,
no source)."""
LAID_UP_SHARE = 0.2
"""Landing points begin at this share of the way to water that may be laid up before: less gains no ground (common
practice, no source)."""
LEAST_STEP_M = 0.4
NEAREST_M = 1.5
"""Shortest carry that is tried: a ball that hardly leaves the ground is a putt (common practice, no source)."""
MOSTLY_RUN_M = 3.0
"""A shot asked to run lands no farther than this onto the green."""


class Face(StrEnum):
    """How the clubface is set to the target."""

    SQUARE = "square"
    OPEN = "open"


class Only(Frozen):
    """What the player asks about: nothing set allows every shot."""

    club: str | None = None
    swing: str | None = None
    longest: str | None = None
    """The longest swing it may take: a "smooth" one stops short of full."""
    family: Family | None = None
    flight: Flight | None = None
    face: Face | None = None
    without: tuple[str, ...] = ()
    """Ids of clubs that the player will not hit."""

    def allows_club(self, club: Club, bag: Bag) -> bool:
        """Whether this club is the one asked about.

        Raises:
            CaddieError: when the bag has no club of that name.
        """
        if self.club is None:
            return club.id not in self.without
        wanted = bag.club_called(self.club)
        if wanted is None:
            owned = ", ".join(each.id for each in bag.clubs)
            raise CaddieError(f"there is no {self.club} in the bag: it has {owned}")
        return wanted.id == club.id

    def allows_putting(self, bag: Bag) -> bool:
        """Whether the putter from off the green is among the shots asked about."""
        if self.swing or self.longest or self.flight or self.face or self.family not in (None, Family.PUTT):
            return False
        if any(club.id in self.without for club in bag.clubs if club.kind is ClubKind.PUTTER):
            return False
        wanted = bag.club_called(self.club) if self.club else None
        return self.club is None or (wanted is not None and wanted.kind is ClubKind.PUTTER)

    def is_putting(self, bag: Bag) -> bool:
        """Whether only the putter was asked about."""
        wanted = bag.club_called(self.club) if self.club else None
        return self.family is Family.PUTT or (wanted is not None and wanted.kind is ClubKind.PUTTER)


ANY = Only()


def allowed(shots: Candidates, scene: Scene, rows: Rows, bag: Bag, only: Only) -> Candidates:
    """The candidates that fit what was asked about.

    Raises:
        CaddieError: when none does.
    """
    keep = np.ones(len(shots.row), dtype=bool)
    sent_back = _lands_before_top(scene, shots.carry_m)
    if not sent_back.all():
        keep &= ~sent_back
    if only.flight is not None:
        keep &= np.array([rows.kinds[row].flight is only.flight for row in shots.row], dtype=bool)
    if only.face is not None:
        keep &= np.isin(shots.row, list(_rows_with(only.face, rows)))
    if only.swing is not None and only.face is None and only.flight is None:
        # "A full sixty" is one with the face as the club sits; out of sand it is laid open all the same.
        plain = keep & ~np.isin(shots.row, _opened_on_grass(rows))
        keep = plain if plain.any() else keep
    if only.swing is not None:
        keep &= np.abs(shots.share - _share(only.swing, bag)) <= OWNED_WITHIN
    if only.longest is not None:
        keep &= shots.share <= _share(only.longest, bag) + OWNED_WITHIN
    if only.family is not None:
        keep &= np.array(
            [
                _fits(only.family, scene, rows, int(row), carry_m)
                for row, carry_m in zip(shots.row, shots.carry_m, strict=True)
            ],
            dtype=bool,
        )
    ahead_m = trouble_ahead_m(scene)
    if ahead_m is not None and only == ANY:
        gains = keep & (shots.carry_m >= LAID_UP_SHARE * ahead_m)
        keep = gains if gains.any() else keep
    in_sand = scene.situation.lie in IN_SAND
    near = keep & (shots.carry_m <= scene.pin_m + (PAST_FLAG_FROM_SAND_M if in_sand else PAST_FLAG_M))
    if near.any():
        keep = near
    if not keep.any():
        raise CaddieError("that shot cannot be played from here: ask about another club or swing")
    return shots.take(np.flatnonzero(keep))


def _rows_with(face: Face, rows: Rows) -> set[int]:
    """The launches with the face so set."""
    opened = {
        row
        for row, kind in enumerate(rows.kinds)
        if kind.flight is (Flight.STOCK if kind.splash else Flight.HIGH)
    }
    return set(range(len(rows))) - opened if face is Face.SQUARE else opened


def _opened_on_grass(rows: Rows) -> list[int]:
    return [row for row, kind in enumerate(rows.kinds) if kind.flight is Flight.HIGH and not kind.splash]


def _share(name: str, bag: Bag) -> float:
    swing = bag.swing_called(name)
    if swing is None:
        raise CaddieError(f"the bag has no swing called {name}")
    return swing.share


def _lands_before_top(scene: Scene, carry_m: Floats) -> NDArray[np.bool_]:
    """Whether shots are meant to land on a false front or short of it, from where the green sends them back."""
    there = np.zeros(len(carry_m), dtype=bool)
    for hazard in scene.situation.hazards:
        if hazard.kind is HazardKind.FALSE_FRONT:
            # Its top stands above the level that a carry is told for: a ball meets it so much sooner.
            there |= carry_m < top_m(hazard, scene.situation) + height_m(hazard)
    return there


def same_swing(scene: Scene, rows: Rows, bag: Bag, option: Option) -> Candidates | None:
    """The option's club, flight, swing and aim in another scene; None when the lie forbids it."""
    same = [
        i
        for i in range(len(rows))
        if rows.curve_of(i).club.id == option.club
        and (rows.kinds[i].flight, rows.kinds[i].wide_open) == (option.flight, option.wide_open)
    ]
    if not same:
        return None
    carry = np.array([_carry_of(rows, i, np.array([option.share]))[0] for i in same])
    aim = np.full(len(same), option.aim_left_m)
    return build(scene, rows, bag, np.array(same, dtype=np.int64), np.maximum(carry, NEAREST_M), aim)


def _fits(family: Family, scene: Scene, rows: Rows, row: int, carry_m: float) -> bool:
    """Whether a candidate is a shot of this kind."""
    if family is Family.BUMP_AND_RUN and rows.curve_of(row).club.loft_deg > _running_loft_deg(rows):
        return False
    if family in (Family.CHIP, Family.BUMP_AND_RUN):
        low = rows.kinds[row].flight is Flight.LOW or rows.curve_of(row).club.loft_deg <= IRON_LOFT_DEG
        return low and carry_m <= scene.front_m + MOSTLY_RUN_M
    return family_of(scene, rows, row, carry_m) is family


def _running_loft_deg(rows: Rows) -> float:
    """Most loft that a bump-and-run is asked of: a running club's, or the least in the bag."""
    return max(RUNNING_LOFT_DEG, min(curve.club.loft_deg for curve in rows.curves))


def coarse(
    scene: Scene, rows: Rows, bag: Bag, only: Only = ANY, tried: Iterable[int] | None = None
) -> Candidates:
    """Landing points spread from well short of the green to past the flag, and every measured swing.

    A swing that was asked for is tried however far it goes; of the rows all, or those to be ``tried``.

    Each is aimed so that it comes down on the line to the flag.
    """
    row, carry = [], []
    ahead_m = trouble_ahead_m(scene)
    for i in range(len(rows)) if tried is None else tried:
        longest = longest_carry(scene, rows, i)
        shortest = _carry_of(rows, i, np.array([SHORTEST_SHARE]))[0]
        near = max(shortest, min(0.25 * scene.pin_m, scene.front_m - 6.0))
        if np.isfinite(longest_share(scene.situation)):
            near = max(shortest, min(near, 0.5 * longest))
        if ahead_m is not None:
            near = max(shortest, min(near, LAID_UP_SHARE * ahead_m))
        far = min(longest, scene.pin_m + 6.0)
        points = list(np.linspace(near, far, 14)) if far > near else []
        curve = rows.curve_of(int(i))
        measured = _carry_of(rows, i, curve.share[1:])
        points += [c for c in measured if 0.5 * near < c < min(scene.pin_m + 10.0, longest + LEAST_STEP_M)]
        if only.swing is not None:
            asked = float(_carry_of(rows, i, np.array([_share(only.swing, bag)]))[0])
            points += [asked] if asked <= longest + LEAST_STEP_M else []
        row += [i] * len(points)
        carry += points
    rows_tried, carries = np.array(row, dtype=np.int64), np.array(carry, dtype=np.float64)
    aim = against_drift(scene, rows, rows_tried, carries)
    past_m = _aim_past(scene)
    if past_m is not None:
        rows_tried, carries = np.tile(rows_tried, 2), np.tile(carries, 2)
        aim = np.concatenate([aim, aim + past_m])
    return build(scene, rows, bag, rows_tried, carries, aim)


def _aim_past(scene: Scene) -> float | None:
    """How far left of the flag [m] a ball is sent that passes a tree where there is a way round it."""
    barrier = scene.barrier
    if barrier is None or barrier.round is None:
        return None
    aside_m = (CROWN_M + PAST_A_TREE * barrier.x_m) * scene.pin_m / barrier.x_m
    return aside_m if barrier.round is Side.LEFT else -aside_m


def against_drift(scene: Scene, rows: Rows, row: Ints, carry_m: Floats) -> Floats:
    """How far left of the flag to aim so that a ball comes down on the line in this wind, from this lie.

    The search then moves the aim by what the ball goes on sideways after landing. That is metres in a strong
    crosswind: backspin stops a pitch along the line it started on, and hardly takes from its speed downwind.
    """
    speed = np.array([np.interp(carry_m[i], rows.carry_m[r], rows.speed_m_s[r]) for i, r in enumerate(row)])
    landing = rows.table.land(row, speed)
    return np.asarray(-scene.pin_m * landing.y_m / np.maximum(landing.x_m, 1.0))


def fine(scene: Scene, rows: Rows, bag: Bag, best: Candidates, size: float = 1.0) -> Candidates:
    """Around the best ones: landing points nearer and farther, aims more to the left and to the right.

    The outermost lie ``size`` times the spread away.
    """
    steps = size * np.array([-1.0, -0.5, 0.0, 0.5, 1.0])
    shape = (len(best.row), len(steps), len(steps))
    longest = np.array([longest_carry(scene, rows, int(i)) for i in best.row])
    spread = np.maximum(best.length_sd_m, 2 * LEAST_STEP_M)
    carry = np.clip(best.carry_m[:, None] + spread[:, None] * steps, NEAREST_M, longest[:, None])
    # A swing already at its longest is kept as it is, or rounding would turn it into another.
    carry[:, steps == 0.0] = best.carry_m[:, None]
    aim = best.aim_left_m[:, None] + best.side_sd_m[:, None] * steps
    return build(
        scene,
        rows,
        bag,
        np.repeat(best.row, len(steps) ** 2),
        np.broadcast_to(carry[:, :, None], shape).ravel(),
        np.broadcast_to(aim[:, None, :], shape).ravel(),
    )


def build(
    scene: Scene, rows: Rows, bag: Bag, row: Ints, carry_m: Floats, aim_left_m: Floats | None = None
) -> Candidates:
    """Complete candidates from launch rows and the carries wanted today."""
    speed = np.empty_like(carry_m)
    share = np.empty_like(carry_m)
    length_sd = np.empty_like(carry_m)
    side_sd = np.empty_like(carry_m)
    heavy = np.empty_like(carry_m)
    thin = np.empty_like(carry_m)
    owned = np.zeros(len(carry_m), dtype=bool)
    for i in distinct(row):
        mine = row == i
        curve = rows.curve_of(int(i))
        speed[mine] = np.interp(carry_m[mine], rows.carry_m[i], rows.speed_m_s[i])
        share[mine] = np.minimum(curve.share_at(speed[mine] / rows.geometry[i]), curve.longest)
        length, side = curve.spread_at(share[mine])
        wider = unsteady(scene.air, share[mine]) * lie_spread(scene.situation) / SPREAD_BY_LIE[curve.lie]
        # The measured spread is that of the measured carry; carried shorter by loft or lie it is less, but not
        # by a wind: that comes on top.
        still = _at(speed[mine], rows, i, rows.wind.still_carry_m)
        shorter = np.clip(still / np.maximum(curve.carry_at(share[mine]), 0.3), 0.02, 1.5)
        scale = shorter**SPREAD_POWER
        owned[mine] = curve.owned(share[mine])
        lie = scene.situation.lie or Lie.FAIRWAY
        swing_speed = speed[mine] / rows.geometry[i]
        handicap = bag.player.handicap
        length = bitten(length * scale * wider, carry_m[mine], swing_speed, lie, handicap)
        face_sd = FACE_SD_RAD * skill_factor(handicap) / skill_factor(FACE_HANDICAP)
        length = np.hypot(length, rows.face_error[i] * face_sd * carry_m[mine])
        course = curve.course_at(share[mine])
        length_sd[mine], side_sd[mine] = on_course(
            length, side * scale * wider, carry_m[mine], scene.pin_m, handicap, course
        )
        length_sd[mine] = np.hypot(length_sd[mine], _at(speed[mine], rows, i, rows.wind.length_sd_m))
        side_sd[mine] = np.hypot(side_sd[mine], _at(speed[mine], rows, i, rows.wind.side_sd_m))
        side_sd[mine] = muddied(side_sd[mine], carry_m[mine], scene.situation)
        loft_deg = curve.club.loft_deg
        families = np.array([family_of(scene, rows, int(i), float(carry)) for carry in carry_m[mine]])
        for family in set(families.tolist()):
            some = np.flatnonzero(mine)[families == family]
            family = Family(family)
            seen = bag.strikes.get(family)
            for situation, there in struck_for(scene, carry_m, some):
                heavy[there], thin[there] = strike_rates(
                    bag.player,
                    situation,
                    family,
                    loft_deg,
                    share[there],
                    seen,
                    curve.carry_at(share[there]),
                    curve.club.bounce_deg,
                )
    gusts, (most_heavy, most_thin) = unsteady(scene.air, share), most_mishit(scene.situation)
    heavy, thin = np.minimum(gusts * heavy, most_heavy), np.minimum(gusts * thin, most_thin)
    aim = np.zeros_like(carry_m) if aim_left_m is None else aim_left_m
    return Candidates(
        row, share, speed, carry_m, aim, length_sd, side_sd, heavy, thin, owned, np.zeros_like(aim)
    )


def _at(speed_m_s: Floats, rows: Rows, row: int, values: Floats) -> Floats:
    """Values tabulated by ball speed, (m, k), read in one row."""
    return np.asarray(np.interp(speed_m_s, rows.speed_m_s[row], values[row]))


def family_of(scene: Scene, rows: Rows, row: int, carry_m: float) -> Family:
    """What the trade calls the shot."""
    kind, loft_deg = rows.kinds[row], rows.curve_of(row).club.loft_deg
    if kind.splash:
        return Family.SPLASH
    if kind.flight is Flight.HIGH:
        return Family.LOB
    low = kind.flight is Flight.LOW
    most_loft_deg, most_share = (RUNNING_LOFT_DEG, RUNNING_SHARE) if low else (IRON_LOFT_DEG, IRON_SHARE)
    # From sand the ball is picked clean, however it rolls afterwards.
    on_grass = scene.situation.lie is not Lie.BUNKER
    runs = carry_m <= min(most_share * scene.pin_m, RUNNING_CARRY_M)
    if on_grass and loft_deg <= most_loft_deg and runs:
        return Family.BUMP_AND_RUN if scene.pin_m > CHIP_FLAG_M else Family.CHIP
    return Family.CHIP if carry_m <= CHIP_CARRY_M else Family.PITCH


def longest_carry(scene: Scene, rows: Rows, row: int) -> float:
    """Carry today [m] of the longest swing that the player has, and has room for, with this row's club and flight."""
    longest = min(rows.curve_of(row).longest, longest_share(scene.situation))
    return float(_carry_of(rows, row, np.array([longest]))[0])


def _carry_of(rows: Rows, row: int, share: Floats) -> Floats:
    """Carry today [m] of swing shares with this row's club and flight."""
    curve = rows.curve_of(row)
    speed = curve.speed_at(share) * rows.geometry[row]
    return np.asarray(np.interp(speed, rows.speed_m_s[row], rows.carry_m[row]))
