"""One stretch of rolling balls on a plane, in exact closed form.

On a plane a rolling ball loses a along its way and is pulled downhill with g' = (5/7) g sin(slope). With phi
the angle between its way and the fall line, dv/dt = g' cos phi - a and v dphi/dt = -g' sin phi, so that
v = C tan(phi/2)^(a/g') / sin phi (the hodograph under friction and a steady pull; standard mechanics).
With e = g'/a, c = cos^2(phi0/2), s = sin^2(phi0/2) and q falling from 1 to 0 that gives (own derivation)

    v = v0 q^(1-e) (c + s q^(2e)),    tan(phi/2) = q^e tan(phi0/2),    dq/dt = -q a / v,
    X = v0^2 / 2 [c^2 (1 - q^(2-2e)) / (a - g') - s^2 (1 - q^(2+2e)) / (a + g')]    down the fall line,
    Y = v0^2 sin phi0 [c (1 - q^(2-e)) / (2a - g') + s (1 - q^(2+e)) / (2a + g')]    across it,

    t = v0 / a [c (1 - q^(1-e)) / (1 - e) + s (1 - q^(1+e)) / (1 + e)],

and the ball rests at q = 0 unless e >= 1, when the slope is steeper than it can hold. A level green is e = 0.
Run backward in time the ball gains a along its way: the same forms with -a for a and -e for e, and q growing
from 1. How far a ball is on its way is told by ``lost`` = |ln q|, for which d/d(lost) of the place is v v / a.
"""

from dataclasses import dataclass

import numpy as np

from caddie.arrays import Bools, Floats, Ints

_LEVEL = 1e-9
_APART = 1e-9
_ROUNDS = 3
_HALVINGS = 40
_NEARLY_ALL = 1.0 - 1e-4
_MOST_LOST = 30.0
_SOLVED_M = 1e-4
_LEVEL_WITH_M = 1e-9
_LEAST_SLOWING = 0.02
_MOST_GAINED = 3.5
"""A ball that the slope or, backward, the turf drives on gains up to e^3.5 times its speed on one stretch."""
_STRAIGHT_DOWN = 0.999


@dataclass(frozen=True)
class Spot:
    """Where balls (n,) have got to: how far they have gone, and their velocity there."""

    moved_x: Floats
    moved_y: Floats
    vx: Floats
    vy: Floats

    def speed(self) -> Floats:
        """Speed of each ball [m/s]."""
        return np.maximum(np.hypot(self.vx, self.vy), 1e-12)

    def past(self, to_x: Floats, to_y: Floats) -> Floats:
        """How far along its direction each ball is past a point that was so far (x, y) away."""
        return np.asarray(((self.moved_x - to_x) * self.vx + (self.moved_y - to_y) * self.vy) / self.speed())

    def left_of(self, to_x: Floats, to_y: Floats) -> Floats:
        """How far to the left of a point that was so far (x, y) away each ball passes, as it now runs."""
        return np.asarray(((self.moved_y - to_y) * self.vx - (self.moved_x - to_x) * self.vy) / self.speed())


@dataclass(frozen=True)
class Way:
    """Balls (n,) on their planes: start, speed, axes down and across the fall line, terms of X and Y."""

    x: Floats
    y: Floats
    speed: Floats
    down_x: Floats
    down_y: Floats
    resist: Floats
    """a of the formulas above."""
    steep: Floats
    """e = g' / a of the formulas above."""
    sense: float
    """1, or -1 for balls that are followed backward in time and gain speed from the turf."""
    cosine: Floats
    sine: Floats
    """Of phi0, positive when the ball runs to the left of the fall line."""
    terms: tuple[Floats, Floats, Floats, Floats]
    """The lengths that multiply 1 - q^(2-2e), 1 - q^(2+2e), 1 - q^(2-e) and 1 - q^(2+e)."""

    def take(self, at: Ints) -> "Way":
        """The balls at these indices."""
        first, second, third, fourth = self.terms
        return Way(
            self.x.take(at),
            self.y.take(at),
            self.speed.take(at),
            self.down_x.take(at),
            self.down_y.take(at),
            self.resist.take(at),
            self.steep.take(at),
            self.sense,
            self.cosine.take(at),
            self.sine.take(at),
            (first.take(at), second.take(at), third.take(at), fourth.take(at)),
        )

    def rest(self) -> tuple[Floats, Floats]:
        """How far (x, y) each ball goes until it rests, where its plane holds it."""
        first, second, third, fourth = self.terms
        return self._turned(first - second, third + fourth)

    def moved(self, lost: Floats) -> tuple[Floats, Floats]:
        """How far (x, y) each ball has gone after ``lost``."""
        return self._turned(*self._gone(*self._powers(lost)))

    def velocity(self, lost: Floats) -> tuple[Floats, Floats]:
        """Velocity (x, y) after ``lost``."""
        return self._turned(*self._moving(*self._powers(lost)))

    def spot(self, lost: Floats) -> Spot:
        """Way gone and velocity after ``lost``."""
        powers = self._powers(lost)
        return Spot(*self._turned(*self._gone(*powers)), *self._turned(*self._moving(*powers)))

    def time_s(self, lost: Floats) -> Floats:
        """Time taken until ``lost``."""
        turned, squared = self._powers(lost)
        scale = np.sqrt(squared)
        loss, pull = self.sense * self.resist, self.steep * self.resist
        straight = (1.0 + self.cosine) * (1.0 - scale) / _apart(loss, pull)
        turning = (1.0 - self.cosine) * (1.0 - scale * turned * turned) / _apart(loss, -pull)
        return np.asarray(0.5 * self.speed * (straight + turning))

    def almost_rest(self, left: float) -> Floats:
        """``lost`` of a ball that has this share of its speed left on a straight roll.

        Infinite where it cannot rest.
        """
        slows = self.sense - self.steep
        return np.where(slows > 0.0, -np.log(left) / np.maximum(slows, _LEAST_SLOWING), np.inf)

    def share_of(self, lost: Floats, share: float) -> Floats:
        """``lost`` when a share of the speed is lost that is lost after ``lost``; of ``lost`` where none is."""
        slows = np.maximum(self.sense - self.steep, _LEAST_SLOWING)
        speed = -np.log1p(share * np.expm1(-lost * slows)) / slows
        return np.where(self.steep < self.sense, speed, lost * share**3)

    def stretch(self) -> Floats:
        """``lost`` on one stretch where a ball cannot rest: a way that bends little enough for its chord.

        It turns by a factor e toward the fall line, and straight down that it gains a good deal of speed, as
        it does backward in time.
        """
        bends = 1.0 / np.maximum(self.steep, 1e-9)
        if self.sense < 0.0:
            return np.asarray(np.minimum(bends, _MOST_GAINED))
        straight = _MOST_GAINED / np.maximum(self.steep - 1.0, 1e-3)
        return np.where(self.cosine > _STRAIGHT_DOWN, np.maximum(bends, straight), bends)

    def _powers(self, lost: Floats) -> tuple[Floats, Floats]:
        """q^e, and q^(2-2e)."""
        return np.exp(-lost * self.steep), np.exp(-2.0 * lost * (self.sense - self.steep))

    def turns(self, down: Floats, across: Floats) -> Floats:
        """``lost`` at which the velocity along an axis turns round; not finite when it never does.

        ``down`` and ``across`` are that axis's parts of the fall line's direction and of the one left of it.
        """
        aside = np.where(self.sine >= 0, across, -across)
        half = np.abs(down) / np.maximum(np.hypot(down, across) - aside * np.sign(down), 1e-300)
        start = np.abs(self.sine) / np.maximum(1.0 + self.cosine, 1e-18)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            return np.asarray(-np.log(half / start) / self.steep)

    def reach(self, axis_x: Floats, axis_y: Floats, distance: Floats) -> tuple[Floats, Floats, Floats]:
        """``lost`` at which each ball is so far along an axis, and how far (x, y) it has then gone.

        The line must be one that it does reach. Newton's method from the straight roll; what is then not
        solved is halved down.
        """
        down = axis_x * self.down_x + axis_y * self.down_y
        across = axis_y * self.down_x - axis_x * self.down_y
        straight = distance / np.maximum(self.cosine * down + self.sine * across, 1e-3)
        lost = np.minimum(self._straight(straight), _MOST_LOST)
        for _ in range(_ROUNDS):
            lost = np.minimum(self._nearer(lost, down, across, distance), _MOST_LOST)
        x, y = self.moved(lost)
        off = np.flatnonzero(np.abs(distance - axis_x * x - axis_y * y) > _SOLVED_M)
        if off.size:
            part = self.take(off)
            lost[off] = part._patiently(lost[off], down[off], across[off], distance[off])
            x[off], y[off] = part.moved(lost[off])
        return lost, x, y

    def level_with(self, to_x: Floats, to_y: Floats, last: Floats) -> Floats:
        """``lost`` at which each ball is level with a point so far (x, y) from its start: square to its way.

        It must approach the point at first and be past it after ``last``. Newton's method, kept in bounds.
        """
        down, across = to_x * self.down_x + to_y * self.down_y, to_y * self.down_x - to_x * self.down_y
        low, high = np.zeros_like(last), last
        lost = np.minimum(self._straight(self.cosine * down + self.sine * across), last)
        found, left = lost.copy(), np.arange(last.size)
        part = self
        for _ in range(_HALVINGS):
            past, rate = part._past(lost, down, across)
            found[left] = lost
            off = np.flatnonzero(np.abs(past) > _LEVEL_WITH_M)
            if not off.size:
                break
            low, high = np.where(past < 0.0, lost, low), np.where(past < 0.0, high, lost)
            step = lost - past / np.where(rate > 0.0, rate, np.inf)
            lost = np.where((step > low) & (step < high) & (rate > 0.0), step, 0.5 * (low + high))
            if off.size < left.size:
                part, left = part.take(off), left[off]
                lost, low, high, down, across = lost[off], low[off], high[off], down[off], across[off]
        return found

    def _past(self, lost: Floats, to_down: Floats, to_across: Floats) -> tuple[Floats, Floats]:
        """How far along its direction each ball is past a point, and d/d(lost) of that.

        d/d(lost) of the velocity is -v + e |v| down the fall line, backward with +v.
        """
        powers = self._powers(lost)
        down, across = self._gone(*powers)
        moving_down, moving_across = self._moving(*powers)
        speed = np.maximum(np.hypot(moving_down, moving_across), 1e-15)
        left_down, left_across = down - to_down, across - to_across
        past = (left_down * moving_down + left_across * moving_across) / speed
        bend = self.steep * (left_down - past * moving_down / speed)
        return past, speed * speed / self.resist + bend

    def _straight(self, distance: Floats) -> Floats:
        """``lost`` after so much way if the ball ran straight on."""
        loss = self.resist * (self.sense - self.steep * self.cosine)
        squared = self.speed * self.speed
        share = np.minimum(2.0 * loss * distance / squared, _NEARLY_ALL)
        share = np.where(np.abs(share) < 1e-9, 1e-9, share)
        return np.asarray(-np.log1p(-share) / share * self.resist * distance / squared)

    def _nearer(self, lost: Floats, along_down: Floats, along_across: Floats, distance: Floats) -> Floats:
        """One step of Newton's method; d/d(lost) of the way along an axis is v_axis v / a."""
        turned, squared = self._powers(lost)
        down, across = self._gone(turned, squared)
        twice = turned * turned
        fast, slow = 1.0 + self.cosine, (1.0 - self.cosine) * twice
        velocity = 0.5 * along_down * (fast - slow) + along_across * self.sine * turned
        rate = velocity * (fast + slow) * (0.5 * self.speed * self.speed) * squared / self.resist
        step = (distance - along_down * down - along_across * across) / np.maximum(rate, 1e-9)
        return np.asarray(np.maximum(lost + step, 0.25 * lost))

    def _patiently(self, lost: Floats, along_down: Floats, along_across: Floats, distance: Floats) -> Floats:
        """More steps; where they do not settle, the way is halved until the line is found."""
        # Where turf and slope nearly balance, the speed hardly changes and the way is long.
        most = _MOST_LOST / np.clip(np.abs(self.sense - self.steep), 1e-3, 1.0)
        for _ in range(2 * _ROUNDS):
            lost = np.minimum(self._nearer(lost, along_down, along_across, distance), most)
        down, across = self._gone(*self._powers(lost))
        solved = np.abs(distance - along_down * down - along_across * across) <= _SOLVED_M
        if solved.all():
            return lost
        low, high = np.zeros_like(lost), most
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            down, across = self._gone(*self._powers(middle))
            before = along_down * down + along_across * across < distance
            low, high = np.where(before, middle, low), np.where(before, high, middle)
        return np.where(solved, lost, high)

    def _gone(self, turned: Floats, squared: Floats) -> tuple[Floats, Floats]:
        """How far down the fall line and across it."""
        first, second, third, fourth = self.terms
        twice, aside = turned * turned, squared * turned
        down = first * (1.0 - squared) - second * (1.0 - squared * twice * twice)
        return down, third * (1.0 - aside) + fourth * (1.0 - aside * twice)

    def _moving(self, turned: Floats, squared: Floats) -> tuple[Floats, Floats]:
        """Velocity down the fall line and across it."""
        scale = self.speed * np.sqrt(squared)
        down = 0.5 * scale * (1.0 + self.cosine - (1.0 - self.cosine) * turned * turned)
        return down, scale * self.sine * turned

    def _turned(self, down: Floats, across: Floats) -> tuple[Floats, Floats]:
        return (
            down * self.down_x - across * self.down_y,
            down * self.down_y + across * self.down_x,
        )


def way_of(
    x: Floats,
    y: Floats,
    vx: Floats,
    vy: Floats,
    resist: Floats,
    pull_x: Floats,
    pull_y: Floats,
    backward: bool = False,
) -> Way:
    """The stretch of balls at (x, y) with level velocity (vx, vy), all (n,).

    ``resist`` is the loss a along the way [m/s^2], ``(pull_x, pull_y)`` the pull downhill. ``backward``
    follows the balls back in time; the velocity is then the one they run backward with.
    """
    sense = -1.0 if backward else 1.0
    pull = np.sqrt(pull_x * pull_x + pull_y * pull_y)
    speed = np.maximum(np.sqrt(vx * vx + vy * vy), 1e-12)
    # On the level the fall line is taken along the way, so that the ball rolls straight.
    level = pull < _LEVEL
    scale = 1.0 / np.where(level, speed, pull)
    down_x, down_y = np.where(level, vx, pull_x) * scale, np.where(level, vy, pull_y) * scale
    pull = np.where(level, 0.0, pull)
    cosine = np.clip((vx * down_x + vy * down_y) / speed, -1.0, 1.0)
    sine = (vy * down_x - vx * down_y) / speed
    c, s = 0.5 * (1.0 + cosine), 0.5 * (1.0 - cosine)
    squared = speed * speed
    bend = squared * sine
    loss = sense * resist
    terms = (
        0.5 * squared * c * c / _apart(loss, pull),
        0.5 * squared * s * s / _apart(loss, -pull),
        bend * c / _apart(2.0 * loss, pull),
        bend * s / _apart(2.0 * loss, -pull),
    )
    return Way(x, y, speed, down_x, down_y, resist, pull / resist, sense, cosine, sine, terms)


def holds(way: Way) -> Bools:
    """Which planes are flat enough for a ball to stop; backward in time none does."""
    return np.asarray(way.steep < 1.0) if way.sense > 0.0 else np.zeros(way.steep.shape, dtype=bool)


def _apart(first: Floats, second: Floats) -> Floats:
    """Their difference, kept off zero."""
    apart = first - second
    near = np.abs(apart) < _APART
    return np.where(near, _APART, apart) if near.any() else apart
