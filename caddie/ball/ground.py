"""The ground in front of the ball: strips along the line, patches laid over them, green speed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike

from caddie.arrays import Floats, Ints
from caddie.errors import CaddieError

STIMP_RANGE_FT = (3.0, 16.0)
STEEPEST_SLOPE = 0.6
HARDEST = 2.0
"""Firmness of a plate; 1 is firm turf."""


class Surface(IntEnum):
    """What the ball lands on and rolls over."""

    GREEN = 0
    FRINGE = 1
    FAIRWAY = 2
    LIGHT_ROUGH = 3
    HEAVY_ROUGH = 4
    SAND = 5
    WATER = 6
    OUT_OF_BOUNDS = 7
    TREES = 8
    BARE = 9
    PINE_STRAW = 10


@dataclass(frozen=True)
class Strip:
    """One stretch of ground across the line, from ``start_m`` to the next strip's start.

    ``slope`` is rise over run along x, ``cross_slope`` rise per metre toward the player's left, ``funnel``
    rise per metre away from the line on both sides; ``firmness`` runs from 0 (soft) over 1 (firm) to 2
    (a plate: frozen). Beyond ``left_m`` and ``right_m`` from the line lies ``beside``.
    """

    start_m: float
    surface: Surface
    slope: float = 0.0
    cross_slope: float = 0.0
    firmness: float = 0.5
    left_m: float = np.inf
    right_m: float = np.inf
    beside: Surface = Surface.LIGHT_ROUGH
    funnel: float = 0.0


@dataclass(frozen=True)
class Patch:
    """A rectangle of another surface laid over the strips: a bunker beside the green, a pond."""

    x0_m: float
    x1_m: float
    y0_m: float
    y1_m: float
    surface: Surface
    called: str | None = None
    """What it is called in a picture where its surface is not enough."""

    def __post_init__(self) -> None:
        if not (self.x0_m < self.x1_m and self.y0_m < self.y1_m):
            raise CaddieError("ground: a patch needs x0_m < x1_m and y0_m < y1_m: swap its limits")


def _checked(name: str, values: ArrayLike, count: int, low: float, high: float, hint: str) -> Floats:
    array = np.broadcast_to(np.asarray(values, dtype=float), (count,)).copy()
    if not np.all((array >= low) & (array <= high)):
        raise CaddieError(f"ground: {name} must be {low:g} to {high:g} ({hint}), got {array.tolist()}")
    return array


@dataclass(frozen=True, eq=False)
class Ground:
    """Strips along the line of play, each (k,), with patches over them.

    ``start_m`` ascends; the first strip also extends backward and the last one forward without end.
    The ground passes through the ball: ``height_m(0, 0) == 0``. Along the line the height is continuous;
    away from the line each strip leans by its own ``cross_slope`` and ``funnel``.

    Raises:
        CaddieError: unordered strips, a slope beyond 60 %, green speed outside 3 to 16 ft, firmness
            outside 0 to 1, a negative width.
    """

    start_m: Floats
    surface: Ints
    slope: Floats
    cross_slope: Floats
    firmness: Floats
    left_m: Floats
    right_m: Floats
    beside: Ints
    patches: tuple[Patch, ...] = ()
    stimp_ft: float = 9.5
    funnel: Floats = field(default_factory=lambda: np.zeros(1))
    blades: float = 1.0
    """What the way it grows makes of the resistance of mown grass off the green."""
    base_m: Floats = field(init=False, repr=False)
    """Height of the line at each strip's start, (k,)."""
    offset_m: Floats = field(init=False, repr=False)
    """Height at x = 0 of each strip's line carried on, (k,)."""
    begin_m: Floats = field(init=False, repr=False)
    """Where each strip begins, -inf for the first, (k,)."""
    end_m: Floats = field(init=False, repr=False)
    """Where each strip ends, inf for the last, (k,)."""
    unit: Floats = field(init=False, repr=False)
    """Unit normals (3, k), funnels left out."""
    funnels: bool = field(init=False, repr=False)
    bounded: bool = field(init=False, repr=False)
    """Whether any strip has a side limit."""

    def __post_init__(self) -> None:
        start = np.atleast_1d(np.asarray(self.start_m, dtype=float))
        count = start.size
        if count == 0 or not np.all(np.isfinite(start)) or np.any(np.diff(start) <= 0):
            raise CaddieError(
                f"ground: start_m must be finite and ascend, got {start.tolist()}: order the strips"
            )
        steep = STEEPEST_SLOPE
        hint = "rise over run, 60 % at most"
        values: dict[str, object] = {
            "start_m": start,
            "slope": _checked("slope", self.slope, count, -steep, steep, hint),
            "cross_slope": _checked("cross_slope", self.cross_slope, count, -steep, steep, hint),
            "funnel": _checked("funnel", self.funnel, count, -steep, steep, hint),
            "firmness": _checked("firmness", self.firmness, count, 0.0, HARDEST, "0 soft, 1 firm, 2 a plate"),
            "left_m": _checked("left_m", self.left_m, count, 0.0, np.inf, "half width"),
            "right_m": _checked("right_m", self.right_m, count, 0.0, np.inf, "half width"),
            "stimp_ft": float(
                _checked("stimp_ft", [self.stimp_ft], 1, *STIMP_RANGE_FT, "green speed in feet")[0]
            ),
            "patches": tuple(self.patches),
        }
        for name in ("surface", "beside"):
            kinds = np.broadcast_to(np.asarray(getattr(self, name), dtype=np.int64), (count,)).copy()
            if not np.all((kinds >= 0) & (kinds < len(Surface))):
                raise CaddieError(f"ground: {name} {kinds.tolist()} holds an unknown surface: use Surface")
            values[name] = kinds
        slope, cross = np.asarray(values["slope"]), np.asarray(values["cross_slope"])
        values["unit"] = np.array([-slope, -cross, np.ones(count)]) / np.sqrt(1.0 + slope**2 + cross**2)
        base = np.concatenate([[0.0], np.cumsum(slope[:-1] * np.diff(start))])
        at = max(int(np.searchsorted(start, 0.0, side="right")) - 1, 0)
        base = base - (base[at] + slope[at] * (0.0 - start[at]))
        values["base_m"], values["offset_m"] = base, base - slope * start
        values["begin_m"] = np.concatenate([[-np.inf], start[1:]])
        values["end_m"] = np.concatenate([start[1:], [np.inf]])
        values["funnels"] = bool(np.any(np.asarray(values["funnel"])))
        values["bounded"] = bool(
            np.any(np.isfinite(np.asarray(values["left_m"])) | np.isfinite(np.asarray(values["right_m"])))
        )
        for name, value in values.items():
            object.__setattr__(self, name, value)

    @staticmethod
    def of_strips(
        strips: Iterable[Strip], patches: Sequence[Patch] = (), stimp_ft: float = 9.5, blades: float = 1.0
    ) -> "Ground":
        """The ground of ``strips`` in ascending order."""
        rows = list(strips)
        if not rows:
            raise CaddieError("ground: no strips given: name at least one")
        return Ground(
            start_m=np.array([row.start_m for row in rows], dtype=float),
            surface=np.array([row.surface for row in rows], dtype=np.int64),
            slope=np.array([row.slope for row in rows], dtype=float),
            cross_slope=np.array([row.cross_slope for row in rows], dtype=float),
            firmness=np.array([row.firmness for row in rows], dtype=float),
            left_m=np.array([row.left_m for row in rows], dtype=float),
            right_m=np.array([row.right_m for row in rows], dtype=float),
            beside=np.array([row.beside for row in rows], dtype=np.int64),
            patches=tuple(patches),
            stimp_ft=stimp_ft,
            blades=blades,
            funnel=np.array([row.funnel for row in rows], dtype=float),
        )

    def strip_at(self, x_m: ArrayLike) -> Ints:
        """Index of the strip under each ``x_m``."""
        x = np.asarray(x_m, dtype=float)
        if self.start_m.size > 16:
            found = np.searchsorted(self.start_m, x, side="right") - 1
            return np.maximum(found, 0).astype(np.int64)
        found = np.zeros(x.shape, dtype=np.int8)
        for start in self.start_m[1:]:
            found += x >= start
        return found.astype(np.int64)

    def height_m(self, x_m: ArrayLike, y_m: ArrayLike) -> Floats:
        """Height of the ground in m at each point."""
        x, y = np.asarray(x_m, dtype=float), np.asarray(y_m, dtype=float)
        strip = self.strip_at(x)
        height = self.offset_m[strip] + self.slope[strip] * x + self.cross_slope[strip] * y
        return np.asarray(height + self.funnel[strip] * np.abs(y) if self.funnels else height)

    def normal_on(self, strip: Ints, y_m: Floats) -> tuple[Floats, Floats, Floats]:
        """Unit normal (x, y, z), each (n,), on a known ``strip``."""
        if not self.funnels:
            return self.unit[0].take(strip), self.unit[1].take(strip), self.unit[2].take(strip)
        along, across = self.slope[strip], self.cross_slope[strip] + self.funnel[strip] * np.sign(y_m)
        up = 1.0 / np.sqrt(1.0 + along * along + across * across)
        return -along * up, -across * up, up

    def top_m(self, y_m: Floats) -> Floats:
        """Height in m of the highest strip border at each ``y_m``."""
        if self.start_m.size == 1:
            return np.full(y_m.shape, -np.inf)
        lean = float(np.max(np.abs(self.cross_slope)) + np.max(np.abs(self.funnel)))
        return np.asarray(np.max(self.base_m[1:]) + lean * np.abs(y_m))

    def slope_at(self, x_m: ArrayLike, y_m: ArrayLike = 0.0) -> tuple[Floats, Floats]:
        """Slope (along, across) at each point: rise per metre toward +x and toward +y."""
        strip = self.strip_at(x_m)
        return self.slope[strip], self.cross_slope[strip] + self.funnel[strip] * np.sign(y_m)

    def surface_at(self, x_m: ArrayLike, y_m: ArrayLike) -> Ints:
        """The :class:`Surface` as an integer at each point; the last patch that covers it wins."""
        x, y = np.broadcast_arrays(np.asarray(x_m, dtype=float), np.asarray(y_m, dtype=float))
        return self.surface_on(self.strip_at(x), x, y)

    def surface_on(self, strip: Ints, x: Floats, y: Floats) -> Ints:
        """As :meth:`surface_at` for points whose ``strip`` is known already."""
        found = self.surface[strip]
        if self.bounded:
            beside = (y > self.left_m[strip]) | (y < -self.right_m[strip])
            found = np.where(beside, self.beside[strip], found)
        for patch in self.patches:
            inside = (x >= patch.x0_m) & (x <= patch.x1_m) & (y >= patch.y0_m) & (y <= patch.y1_m)
            found = np.where(inside, int(patch.surface), found)
        return np.asarray(found)


def flat(
    surface: Surface = Surface.GREEN, stimp_ft: float = 9.5, firmness: float = 0.5, slope: float = 0.0
) -> Ground:
    """One surface without end, level unless ``slope`` is given."""
    return Ground.of_strips([Strip(0.0, surface, slope=slope, firmness=firmness)], stimp_ft=stimp_ft)
