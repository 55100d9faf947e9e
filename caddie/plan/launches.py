"""The launches on offer: every club and flight the lie allows, tabulated through today's air."""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from caddie.arrays import Floats, Ints, distinct
from caddie.bag import Bag, ClubKind, Handed
from caddie.ball.air import Air
from caddie.ball.flight import trace
from caddie.ball.launch import Flight, Launch, face_sensitivity, launch_for, same_swing_speed, splash_for
from caddie.ball.lie import CONTACT, Contact, in_sand, modified, on_slope
from caddie.ball.sphere import RADIUS_M
from caddie.ball.table import FlightTable, tabulate
from caddie.errors import CaddieError
from caddie.plan.grass import LOFTED_DEG, holds_firmly, shuts_a_face
from caddie.plan.hampered import is_tall, square_only, strike_lie
from caddie.plan.lip import before_a_lip, face_of, is_high_face
from caddie.plan.scene import Scene
from caddie.plan.swings import SwingCurve
from caddie.plan.wind_error import WindError, wind_error
from caddie.situation import IN_SAND, BallSide, Lie, Sand, Sitting, Situation, Stance, Steepness

SPEED_STEPS = 28
"""Speeds a launch is tabulated at."""
OPEN_LEAN_RAD = float(np.radians(-10.0))
"""A face laid wide open: the club arrives with ten degrees more than its loft (common practice)."""
OPEN_LOFT_DEG = 54.0
"""Least loft that is played with a wide-open face."""
LOW_LOFT_DEG = 57.0
"""Most loft that is played low unasked: who wants it low takes a straighter club (common practice, no source)."""
SPLASH_LOFT_DEG = 40.0
"""Least loft that is splashed from sand: long bunker shots are splashed with a nine-iron or a pitching wedge
(common practice)."""
GREENSIDE_SPLASH_DEG = 50.0
"""Least loft that is splashed to a flag near by, where the bag has that much (common practice)."""
WIDE_SPLASH_SPEED = 0.9
"""A splash with the face laid wide open, to lift the ball over a high face, goes so much slower for the same swing
(common practice, no source)."""
LONG_SPLASH_M = 23.0
"""A flag farther off makes a long bunker shot."""
LONGEST_SPLASH_M = 34.0
"""A flag farther off is no splash: the ball is picked clean, unless a face must be cleared first (common practice)."""
THIN_ANGLE_SHARE = 0.24
"""A thin strike leaves with this share of the loft as its angle (common practice)."""
THIN_SPEED = 0.8
"""Speed of a thin strike: none is lost to loft (common practice)."""
THIN_SPIN = 0.15
"""Spin of a thin strike, rim speed over ball speed."""
TREE_POINTS = 32
"""Points of a flight between which its height over trees is read: 3 cm at most."""
WAYS_BEYOND_M = 1.0
"""Ground that lies farther above or below the landing level is met by the way there, not by the landing alone."""
LANDS_PAST_M = 8.0
"""No shot is meant to land farther past the flag."""
LEAST_ANGLE_RAD = 0.03
"""A ball struck down into a slope skids off at a grazing angle: the ground turns it up (common practice)."""
MUD_TURN_RAD = 0.04
"""Mud on one side of the ball sends it so far to the other: four yards in a hundred (common practice, no source)."""
SLOPE_RAD: dict[Steepness | None, float] = {
    Steepness.SLIGHT: float(np.radians(3.0)),
    None: float(np.radians(6.0)),
    Steepness.SEVERE: float(np.radians(12.0)),
}
"""A sloping lie that is spoken of as slight, with no word of how much, and as severe (common practice, no source)."""
ACROSS_REACHES = 0.4
"""Share of a slope across the stance that reaches the face: knees bend, the club is held shorter or the hands higher,
so that the sole follows the ground in part (common practice, no source; a pitch from a usual slope is aimed some
four yards in a hundred aside)."""


@dataclass(frozen=True)
class LaunchKind:
    """One way to launch a ball with a club."""

    curve: int
    flight: Flight
    splash: bool = False
    wide_open: bool = False

    def swings(self, curves: tuple[SwingCurve, ...]) -> SwingCurve:
        """The curve that it is swung by: that of the club's own splashes where they were measured."""
        curve = curves[self.curve]
        return (curve.splash or curve) if self.splash else curve


@dataclass(frozen=True)
class Allows:
    """What decides which launches are tried."""

    lie: Lie
    far: bool = True
    """Whether the flag is no near one."""
    low_asked: bool = False
    sand: Sand | None = None
    splashed: bool = True
    """Whether a splash is played at all: not without sand under the ball, nor to a flag far off."""
    square_only: bool = False
    steep: bool = False
    """Whether a face stands before the ball in sand that wants the face laid wide open."""
    least_loft_deg: float = 0.0
    """Straighter clubs are not tried, where the bag has one with so much."""


@dataclass(frozen=True)
class Rows:
    """All launches: row ``i`` is ``kinds[i]`` struck cleanly; behind those each club has one struck thin."""

    curves: tuple[SwingCurve, ...]
    kinds: tuple[LaunchKind, ...]
    geometry: Floats
    """Ball speed as a share of the same swing's off a clean lie with the stock flight, shape ``(m,)``."""
    face_error: Floats
    """What an error of the face adds to the spread of the carry, as a share of it a radian, shape ``(m,)``."""
    thin_ratio: Floats
    """Ball speed of a thin strike as a share of the clean one, shape ``(m,)``."""
    thin_row: Ints
    """Row of the thin strike of each clean one, shape ``(m,)``."""
    launch: Launch
    """Shape ``(m + clubs, k)``."""
    table: FlightTable
    speed_m_s: Floats
    """Ball speeds of the clean strikes, shape ``(m, k)``."""
    carry_m: Floats
    """Carry at each of them, non-decreasing, shape ``(m, k)``."""
    wind: WindError
    """What they carry without the wind, and how far its error takes them."""
    barrier_height_m: Floats | None
    """Height of each launch where trees or a lip stand, the shape of ``launch``."""

    def __len__(self) -> int:
        return len(self.kinds)

    def curve_of(self, row: int) -> SwingCurve:
        """The club's curve behind a clean row."""
        return self.kinds[row].swings(self.curves)

    def run_bias_m(self, row: Ints, speed_m_s: Floats) -> Floats | None:
        """How much farther than modelled balls run, by row and ball speed (one shape); None when none does."""
        splashes = [curve.splash for curve in self.curves if curve.splash]
        if not any(curve.run_bias_m.any() for curve in (*self.curves, *splashes)):
            return None
        bias = np.zeros(speed_m_s.shape)
        for each in distinct(row[row < len(self)]):
            curve, mine = self.curve_of(int(each)), row == each
            bias[mine] = np.interp(speed_m_s[mine] / self.geometry[each], curve.speed_m_s, curve.run_bias_m)
        return bias

    def launch_of(self, row: int, speed_m_s: float) -> Launch:
        """The single launch of a row at a ball speed, interpolated between the tabulated ones."""
        speeds = self.launch.speed_m_s[row]
        return Launch(
            **{
                name: np.array([np.interp(speed_m_s, speeds, value[row])])
                for name, value in vars(self.launch).items()
            }
        )


def launch_kinds(curves: tuple[SwingCurve, ...], allows: Allows) -> tuple[LaunchKind, ...]:
    """Every club with the flights that this lie allows it."""
    lie = allows.lie
    kinds: list[LaunchKind] = []
    least_deg = min((curve.club.loft_deg for curve in curves), default=0.0)
    most_deg = max((curve.club.loft_deg for curve in curves), default=0.0)
    splash_deg = SPLASH_LOFT_DEG if allows.far else max(SPLASH_LOFT_DEG, min(GREENSIDE_SPLASH_DEG, most_deg))
    for index, curve in enumerate(curves):
        club = curve.club
        if club.loft_deg < min(allows.least_loft_deg, most_deg):
            continue
        wedge = club.kind is ClubKind.WEDGE
        splash = club.loft_deg >= splash_deg
        if lie is Lie.PLUGGED:
            # A square face digs the ball out; an open one bounces into it (common practice).
            kinds += [LaunchKind(index, Flight.LOW, splash=True)] if wedge else []
        elif lie is Lie.BUNKER:
            # An open face shows packed sand its bounce; a square one goes in (common practice).
            hard = allows.sand in (Sand.FIRM, Sand.THIN)
            face = Flight.LOW if hard else Flight.STOCK
            kinds += [LaunchKind(index, face, splash=True)] if splash and allows.splashed else []
            if allows.steep and splash and allows.splashed and club.loft_deg >= OPEN_LOFT_DEG:
                # Laid wide open its sole skips off packed sand: no more than open, however high the face.
                kinds.append(LaunchKind(index, Flight.STOCK if hard else Flight.HIGH, splash=True))
            # Off hard sand the hands lead as off a bare lie.
            kinds += [LaunchKind(index, Flight.LOW)] if hard and club.loft_deg <= LOW_LOFT_DEG else []
            # A lob wedge bounces off ground like that where a straighter face clips the ball.
            if not hard or club.loft_deg <= LOW_LOFT_DEG or least_deg > LOW_LOFT_DEG:
                kinds.append(LaunchKind(index, Flight.STOCK))
        else:
            # Grass that stands above the ball lets no low shot through.
            if lie is not Lie.HEAVY_ROUGH and (allows.low_asked or club.loft_deg <= LOW_LOFT_DEG):
                kinds.append(LaunchKind(index, Flight.LOW))
            kinds.append(LaunchKind(index, Flight.STOCK))
            opened = wedge and club.loft_deg >= OPEN_LOFT_DEG and not allows.square_only
            if opened and lie not in (Lie.BARE, Lie.DIVOT):
                kinds += [LaunchKind(index, Flight.HIGH), LaunchKind(index, Flight.HIGH, wide_open=True)]
    return tuple(kinds)


def tabulate_launches(
    scene: Scene, curves: tuple[SwingCurve, ...], bag: Bag, low_asked: bool = False
) -> Rows:
    """Tabulate the flights of every club and flight that this lie allows, in today's air.

    Kept for the next call with the same curves, lie, air, height and trees.

    Raises:
        CaddieError: when no club can play from this lie.
    """
    return _tabulated(
        curves,
        Allows(
            lie=strike_lie(scene.situation),
            far=scene.pin_m > LONG_SPLASH_M,
            low_asked=low_asked,
            sand=scene.situation.sand or (Sand.FIRM if is_firm(scene.situation) else None),
            splashed=_splashed(scene),
            square_only=square_only(scene.situation) or shuts_a_face(scene.situation),
            steep=before_a_lip(scene.situation) and is_high_face(scene.situation),
            least_loft_deg=LOFTED_DEG if holds_firmly(scene.situation) else 0.0,
        ),
        contact_of(scene.situation, bag.player.handed),
        scene.air,
        scene.landing_height_m,
        scene.barrier.x_m if scene.barrier else None,
        bool(scene.barrier and scene.barrier.clear_m),
        _relief_m(scene) > WAYS_BEYOND_M or before_a_lip(scene.situation),
    )


def _splashed(scene: Scene) -> bool:
    """Whether there is sand to splash, and a flag near enough or a face before the ball that asks for it."""
    if scene.situation.sand is Sand.THIN:
        return False
    high = scene.situation.lie is Lie.BUNKER and is_high_face(scene.situation)
    return scene.pin_m <= LONGEST_SPLASH_M or (high and before_a_lip(scene.situation))


def _relief_m(scene: Scene) -> float:
    """How far the ground lies above or below the landing level."""
    level_m, ahead = scene.landing_height_m, scene.ground.start_m <= scene.pin_m + LANDS_PAST_M
    if scene.situation.lie in IN_SAND and not before_a_lip(scene.situation):
        # The usual face, of which nobody spoke, is no wall: the green beyond it is what counts.
        level_m += face_of(scene.situation)[0]
    return float(np.max(np.abs(scene.ground.base_m[ahead] - level_m)))


@lru_cache(maxsize=8)
def _tabulated(
    curves: tuple[SwingCurve, ...],
    allows: Allows,
    contact: Contact,
    today: Air,
    landing_height_m: float,
    barrier_x_m: float | None,
    under: bool,
    ways: bool,
) -> Rows:
    kinds = launch_kinds(curves, allows)
    if not kinds:
        raise CaddieError("no club in the bag plays from there: add a wedge with its carries")
    curve = np.array([kind.curve for kind in kinds])
    loft = np.array([np.radians(curves[kind.curve].club.loft_deg) for kind in kinds])
    same_swing = np.array([_same_swing(loft[i], kind, curves) for i, kind in enumerate(kinds)])
    face_error = np.array([_face_error(loft[i], kind) for i, kind in enumerate(kinds)])
    stock_top = np.array([kind.swings(curves).speed_m_s[-1] for kind in kinds])
    # Squeezed toward slow speeds, where a chip's carry changes fastest.
    share = np.linspace(0.15, 1.12, SPEED_STEPS) ** 2
    clean_speed = (stock_top * same_swing)[:, None] * share
    clean = [_clean(kind, loft[i], clean_speed[i], contact) for i, kind in enumerate(kinds)]
    speed = np.stack([launch.speed_m_s for launch in clean])
    # A low shot leaves faster by its face, not by its swing: struck thin it is no faster than the stock one.
    by_face = np.maximum(same_swing, 1.0)
    thin_ratio = THIN_SPEED / np.cos(np.minimum(loft + 0.087, 1.2)) / by_face
    struck, thin_row = np.unique(curve, return_inverse=True)
    fastest = speed[:, -1] * thin_ratio
    thin = [_thin(loft[i], fastest[curve == curve[i]].max() * share) for i in _first(curve, struck)]
    launch = _stacked([*clean, *thin])
    table = tabulate(launch, today, landing_height_m, ways=ways, floats=False)
    row = np.repeat(np.arange(len(kinds)), SPEED_STEPS)
    carry = table.land(row, speed.ravel(), np.zeros(speed.size)).x_m.reshape(speed.shape)
    carry = np.maximum.accumulate(carry, axis=1)
    return Rows(
        curves=curves,
        kinds=kinds,
        geometry=same_swing * contact.speed_share,
        face_error=face_error,
        thin_ratio=thin_ratio,
        thin_row=thin_row + len(kinds),
        launch=launch,
        table=table,
        speed_m_s=speed,
        carry_m=carry,
        wind=wind_error(_stacked(clean), today, landing_height_m, carry),
        barrier_height_m=None if barrier_x_m is None else _height_over(barrier_x_m, launch, today, under),
    )


def _first(values: Ints, wanted: Ints) -> list[int]:
    return [int(np.flatnonzero(values == value)[0]) for value in wanted]


def _same_swing(loft_rad: float, kind: LaunchKind, curves: tuple[SwingCurve, ...]) -> float:
    if kind.splash:
        opened = WIDE_SPLASH_SPEED if kind.flight is Flight.HIGH else 1.0
        return opened * kind.swings(curves).splash_speed
    return float(same_swing_speed(loft_rad, kind.flight, OPEN_LEAN_RAD if kind.wide_open else None))


def _face_error(loft_rad: float, kind: LaunchKind) -> float:
    """Carry goes with the square of the speed; a splash has its own measured or expected spread."""
    if kind.splash:
        return 0.0
    return 2.0 * float(face_sensitivity(loft_rad, kind.flight, OPEN_LEAN_RAD if kind.wide_open else None))


def _clean(kind: LaunchKind, loft_rad: float, clean_speed_m_s: Floats, contact: Contact) -> Launch:
    if kind.splash:
        launch = splash_for(loft_rad, clean_speed_m_s, kind.flight, contact)
    else:
        lean = OPEN_LEAN_RAD if kind.wide_open else None
        launch = launch_for(loft_rad, clean_speed_m_s, kind.flight, contact, lean)
    return replace(launch, angle_rad=np.maximum(launch.angle_rad, LEAST_ANGLE_RAD))


def _thin(loft_rad: float, speed_m_s: Floats) -> Launch:
    zero = np.zeros_like(speed_m_s)
    return Launch(
        speed_m_s=speed_m_s,
        angle_rad=zero + THIN_ANGLE_SHARE * loft_rad,
        azimuth_rad=zero,
        spin_rad_s=THIN_SPIN * speed_m_s / RADIUS_M,
        axis_rad=zero,
    )


def _stacked(launches: list[Launch]) -> Launch:
    return Launch(
        **{name: np.stack([getattr(each, name) for each in launches]) for name in vars(launches[0])}
    )


def _height_over(x_m: float, launch: Launch, today: Air, under: bool) -> Floats:
    """Height of every launch at a distance along the line; zero when it comes down before it.

    ``under`` branches it is the greatest up to there.
    """
    _, x, _, z = trace(launch, today, points=TREE_POINTS)
    beyond = None if under else 0.0
    if under:
        z = np.maximum.accumulate(z, axis=0)
    heights = np.zeros(launch.speed_m_s.shape)
    for index in np.ndindex(heights.shape):
        heights[index] = np.interp(x_m, x[(slice(None), *index)], z[(slice(None), *index)], right=beyond)
    return heights


def is_firm(situation: Situation) -> bool:
    """Whether the sand is packed, as wet sand is too."""
    return situation.sand in (Sand.FIRM, Sand.THIN) or (bool(situation.wet) and situation.sand is None)


def contact_of(situation: Situation, handed: Handed) -> Contact:
    """Friction, speed and slope of the strike from lie, sitting, wet grass, dirty grooves and stance."""
    lie = situation.lie or Lie.FAIRWAY
    contact = CONTACT[lie.value]
    if lie in IN_SAND:
        contact = in_sand(contact, is_firm(situation), situation.sand is Sand.SOFT)
    contact = modified(
        contact,
        wet=bool(situation.wet) and lie not in IN_SAND,
        dirty_grooves=bool(situation.dirty_grooves),
        sitting_up=situation.sitting is Sitting.UP,
        sitting_down=situation.sitting is Sitting.DOWN,
        flyer=bool(situation.flyer),
        tall=is_tall(situation),
    )
    if situation.mud_side is not None:
        away = 1.0 if situation.mud_side is BallSide.RIGHT else -1.0
        contact = replace(contact, azimuth_change_rad=away * MUD_TURN_RAD)
    stances = set(situation.stance)
    uphill = (Stance.UPHILL in stances) - (Stance.DOWNHILL in stances)
    above = (Stance.BALL_ABOVE in stances) - (Stance.BALL_BELOW in stances)
    if uphill or above:
        slope = SLOPE_RAD[situation.steepness]
        across = ACROSS_REACHES * above * slope
        contact = on_slope(contact, uphill * slope, across, handed is Handed.RIGHT)
    return contact
