"""One stretch of rolling balls on a plane, in exact closed form.

On a plane a rolling ball loses a along its way and is pulled downhill with g' = (5/7) g sin(slope). With phi
the angle between its way and the fall line, dv/dt = g' cos phi - a and v dphi/dt = -g' sin phi, so that
v = C tan(phi/2)^(a/g') / sin phi (the hodograph under friction and a steady pull; standard mechanics).
With e = g'/a, c = cos^2(phi0/2), s = sin^2(phi0/2) and q falling from 1 to 0 that gives (own derivation)

    v = v0 q^(1-e) (c + s q^(2e)),    tan(phi/2) = q^e tan(phi0/2),    dq/dt = -q a / v,
    X = v0^2 / 2 [c^2 (1 - q^(2-2e)) / (a - g') - s^2 (1 - q^(2+2e)) / (a + g')]    down the fall line,
    Y = v0^2 sin phi0 [c (1 - q^(2-e)) / (2a - g') + s (1 - q^(2+e)) / (2a + g')]    across it,

and the ball rests at q = 0 unless e >= 1, when the slope is steeper than it can hold. A level green is e = 0.
Run backward in time the ball gains a along its way: the same forms with -a for a, and q growing from 1.
How far a ball is on its way is told by ``lost`` = -ln q.
"""

from dataclasses import dataclass

import numpy as np

from caddie.ball.sphere import BoolArray, FloatArray, IntArray

_LEVEL = 1e-9
_APART = 1e-9
_ROUNDS = 3
_HALVINGS = 40
_NEARLY_ALL = 1.0 - 1e-4
_MOST_LOST = 30.0
_SOLVED_M = 1e-4


@dataclass(frozen=True)
class Way:
    """Balls (n,) on their planes: start, speed, axes down and across the fall line, terms of X and Y."""

    x: FloatArray
    y: FloatArray
    speed: FloatArray
    down_x: FloatArray
    down_y: FloatArray
    resist: FloatArray
    """a of the formulas above, negative for balls that are followed backward."""
    steep: FloatArray
    """e = g' / a of the formulas above."""
    cosine: FloatArray
    sine: FloatArray
    """Of phi0, positive when the ball runs to the left of the fall line."""
    terms: tuple[FloatArray, FloatArray, FloatArray, FloatArray]
    """The lengths that multiply 1 - q^(2-2e), 1 - q^(2+2e), 1 - q^(2-e) and 1 - q^(2+e)."""

    def take(self, at: IntArray) -> "Way":
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
            self.cosine.take(at),
            self.sine.take(at),
            (first.take(at), second.take(at), third.take(at), fourth.take(at)),
        )

    def rest(self) -> tuple[FloatArray, FloatArray]:
        """How far (x, y) each ball goes until it rests, where its plane holds it."""
        first, second, third, fourth = self.terms
        return self._turned(first - second, third + fourth)

    def moved(self, lost: FloatArray) -> tuple[FloatArray, FloatArray]:
        """How far (x, y) each ball has gone after ``lost``."""
        return self._turned(*self._gone(*self._powers(lost)))

    def velocity(self, lost: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Velocity (x, y) after ``lost``."""
        turned, squared = self._powers(lost)
        scale = self.speed * np.sqrt(squared)
        down = 0.5 * scale * (1.0 + self.cosine - (1.0 - self.cosine) * turned * turned)
        return self._turned(down, scale * self.sine * turned)

    def _powers(self, lost: FloatArray) -> tuple[FloatArray, FloatArray]:
        """q^e, and q^(2-2e)."""
        return np.exp(-lost * self.steep), np.exp(-2.0 * lost * (1.0 - self.steep))

    def turns(self, down: FloatArray, across: FloatArray) -> FloatArray:
        """``lost`` at which the velocity along an axis turns round; not finite when it never does.

        ``down`` and ``across`` are that axis's parts of the fall line's direction and of the one left of it.
        """
        aside = np.where(self.sine >= 0, across, -across)
        half = np.abs(down) / np.maximum(np.hypot(down, across) - aside * np.sign(down), 1e-300)
        start = np.abs(self.sine) / np.maximum(1.0 + self.cosine, 1e-18)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            return np.asarray(-np.log(half / start) / self.steep)

    def reach(
        self, axis_x: FloatArray, axis_y: FloatArray, distance: FloatArray
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """``lost`` at which each ball is so far along an axis, and how far (x, y) it has then gone.

        The line must be one that it does reach. Newton's method from the straight roll; what is then not
        solved is halved down.
        """
        down = axis_x * self.down_x + axis_y * self.down_y
        across = axis_y * self.down_x - axis_x * self.down_y
        loss = self.resist * (1.0 - self.steep * self.cosine)
        straight = distance / np.maximum(self.cosine * down + self.sine * across, 1e-3)
        squared = self.speed * self.speed
        share = np.minimum(2.0 * loss * straight / squared, _NEARLY_ALL)
        share = np.where(np.abs(share) < 1e-9, 1e-9, share)
        guess = -np.log1p(-share) / share * self.resist * straight / squared
        lost = np.minimum(guess, _MOST_LOST)
        for _ in range(_ROUNDS):
            lost = self._nearer(lost, down, across, distance)
        x, y = self.moved(lost)
        off = np.flatnonzero(np.abs(distance - axis_x * x - axis_y * y) > _SOLVED_M)
        if off.size:
            part = self.take(off)
            lost[off] = part._patiently(lost[off], down[off], across[off], distance[off])
            x[off], y[off] = part.moved(lost[off])
        return lost, x, y

    def _nearer(
        self, lost: FloatArray, along_down: FloatArray, along_across: FloatArray, distance: FloatArray
    ) -> FloatArray:
        """One step of Newton's method; d/d(lost) of the way along an axis is v_axis v / a."""
        turned, squared = self._powers(lost)
        down, across = self._gone(turned, squared)
        twice = turned * turned
        fast, slow = 1.0 + self.cosine, (1.0 - self.cosine) * twice
        velocity = 0.5 * along_down * (fast - slow) + along_across * self.sine * turned
        rate = velocity * (fast + slow) * (0.5 * self.speed * self.speed) * squared / self.resist
        step = (distance - along_down * down - along_across * across) / np.maximum(rate, 1e-9)
        return np.minimum(np.maximum(lost + step, 0.25 * lost), _MOST_LOST)

    def _patiently(
        self, lost: FloatArray, along_down: FloatArray, along_across: FloatArray, distance: FloatArray
    ) -> FloatArray:
        """More steps; where they do not settle, the way is halved until the line is found."""
        for _ in range(2 * _ROUNDS):
            lost = self._nearer(lost, along_down, along_across, distance)
        down, across = self._gone(*self._powers(lost))
        solved = np.abs(distance - along_down * down - along_across * across) <= _SOLVED_M
        if solved.all():
            return lost
        low, high = np.zeros_like(lost), np.full_like(lost, _MOST_LOST)
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            down, across = self._gone(*self._powers(middle))
            before = along_down * down + along_across * across < distance
            low, high = np.where(before, middle, low), np.where(before, high, middle)
        return np.where(solved, lost, high)

    def _gone(self, turned: FloatArray, squared: FloatArray) -> tuple[FloatArray, FloatArray]:
        """How far down the fall line and across it."""
        first, second, third, fourth = self.terms
        twice, aside = turned * turned, squared * turned
        down = first * (1.0 - squared) - second * (1.0 - squared * twice * twice)
        return down, third * (1.0 - aside) + fourth * (1.0 - aside * twice)

    def _turned(self, down: FloatArray, across: FloatArray) -> tuple[FloatArray, FloatArray]:
        return (
            down * self.down_x - across * self.down_y,
            down * self.down_y + across * self.down_x,
        )


def way_of(
    x: FloatArray,
    y: FloatArray,
    vx: FloatArray,
    vy: FloatArray,
    resist: FloatArray,
    pull_x: FloatArray,
    pull_y: FloatArray,
) -> Way:
    """The stretch of balls at (x, y) with level velocity (vx, vy), all (n,).

    ``resist`` is the loss a along the way [m/s^2], ``(pull_x, pull_y)`` the pull downhill.
    """
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
    terms = (
        0.5 * squared * c * c / _apart(resist, pull),
        0.5 * squared * s * s / _apart(resist, -pull),
        bend * c / _apart(2.0 * resist, pull),
        bend * s / _apart(2.0 * resist, -pull),
    )
    return Way(x, y, speed, down_x, down_y, resist, pull / resist, cosine, sine, terms)


def holds(way: Way) -> BoolArray:
    """Which planes are flat enough for a ball to stop."""
    return np.asarray((way.steep < 1.0) & (way.resist > 0.0))


def _apart(first: FloatArray, second: FloatArray) -> FloatArray:
    """Their difference, kept off zero."""
    apart = first - second
    near = np.abs(apart) < _APART
    return np.where(near, _APART, apart) if near.any() else apart
