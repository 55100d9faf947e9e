"""The flight against scipy's integrator of the same force law, and the table against flying every ball.

The times are compared at the same accuracy: scipy's tolerance is the loosest of a ladder whose largest landing
error, against its own tightest run, is no larger than ours. The force law of the times is `smits_smith`, a
formula that costs scipy little; the landings are compared for the wind-tunnel table too.
"""

from dataclasses import replace
from itertools import product

import beside  # noqa: F401  finds the reference flight
import numpy as np
from reference_flight import reference_landing
from rows import Part, Row, Size, busy_ms, shown, values_row
from test_flight import launch

from caddie.ball.air import Air, air
from caddie.ball.flight import fly
from caddie.ball.launch import Launch, launch_for
from caddie.ball.table import tabulate
from caddie.units import YARD_M

FORMULA, TABLE = "smits_smith", "bearman_harvey"
TIGHT = 1e-9
LADDER = (1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 1e-5, 1e-6, 1e-7)
APART = {
    TABLE: "flight against scipy, wind-tunnel table: largest landing difference",
    FORMULA: "flight against scipy, formula: largest landing difference",
}
ONE = "scipy at the same accuracy, times as long: one ball"
MANY = "scipy at the same accuracy, times as long: many balls at once"
TABLE_APART = "tabulated against flown landings: largest difference"
TABLE_RATIO = "flying every ball, times as long as the table"
BALLS = 20_000


def launches(size: Size) -> list[tuple[Air, list[Launch]]]:
    """A grid of chips to lobs and full wedges, in calm air and in two winds, drawn and straight."""
    winds = ((0.0, 0.0), (-6.0, 3.0), (8.0, -5.0))[: size.take(3, 2)]
    degrees, rpm = (
        ((20.0, 35.0, 50.0), (1500.0, 5000.0, 9500.0)) if not size.quick else ((30.0,), (2000.0, 8000.0))
    )
    grid = list(product((8.0, 16.0, 24.0, 32.0), degrees, rpm))
    return [
        (
            air(22.0, altitude_m=200.0, wind_along_m_s=along, wind_across_m_s=across),
            [
                launch(speed, np.radians(angle), spin * np.pi / 30, azimuth=0.05, axis=0.1 * (number % 2))
                for number, (speed, angle, spin) in enumerate(grid)
            ],
        )
        for along, across in winds
    ]


def together(balls: list[Launch]) -> Launch:
    return Launch(
        *(np.array([getattr(ball, name) for ball in balls]) for name in Launch.__dataclass_fields__)
    )


def scipy_landings(here: Air, balls: list[Launch], model: str, tolerance: float) -> np.ndarray:
    """Landings (n, 2)."""
    return np.array([reference_landing(ball, here, model, tolerance)[:2] for ball in balls])


def our_landings(here: Air, balls: list[Launch], model: str) -> np.ndarray:
    end = fly(together(balls), here, aero=model)
    return np.stack([end.x_m, end.y_m], axis=1)


def distances(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """Distances (n,) between landings [m]."""
    return np.hypot(*(one - other).T)


def measure(size: Size) -> list[Row]:
    cases = launches(size)
    count = sum(len(balls) for _, balls in cases)
    rows, exact = [], {}
    for model, name in APART.items():
        exact[model] = [
            scipy_landings(here, balls, model, TIGHT if model == FORMULA else 1e-7) for here, balls in cases
        ]
        apart = np.concatenate(
            [
                distances(our_landings(here, balls, model), landed) / YARD_M
                for (here, balls), landed in zip(cases, exact[model], strict=True)
            ]
        )
        middle = f"median {shown(float(np.median(apart)))}"
        rows.append(Row(name, float(apart.max()), "yd", count, "flights", middle))
    ours = max(
        distances(our_landings(here, balls, FORMULA), landed).max()
        for (here, balls), landed in zip(cases, exact[FORMULA], strict=True)
    )
    tolerance = next(
        each
        for each in (*LADDER, TIGHT)
        if max(
            distances(scipy_landings(here, balls, FORMULA, each), landed).max()
            for (here, balls), landed in zip(cases, exact[FORMULA], strict=True)
        )
        <= max(ours, 1e-9)
    )
    alone, at_once = [], []
    for here, balls in cases:
        many = together(balls * 20)
        fly(many, here, aero=FORMULA)
        theirs = busy_ms(
            lambda here=here, balls=balls: scipy_landings(here, balls, FORMULA, tolerance)
        ) / len(balls)
        singly = busy_ms(lambda here=here, balls=balls: [fly(ball, here, aero=FORMULA) for ball in balls])
        batch = busy_ms(lambda here=here, many=many: fly(many, here, aero=FORMULA))
        alone.append(theirs / (singly / len(balls)))
        at_once.append(theirs / (batch / many.speed_m_s.size))
    spread = f"; scipy's tolerance {tolerance:g}, our error {1000 * ours:.2g} mm"
    for name, ratios in ((ONE, alone), (MANY, at_once)):
        row = values_row(name, ratios, "times", "winds")
        rows.append(replace(row, spread=row.spread + spread))
    return rows + table_rows(size)


def table_rows(size: Size) -> list[Row]:
    lofts = np.radians([46.0, 52.0, 56.0, 60.0])
    speeds = 20.0 * np.linspace(0.75, 1.25, 20)
    rng = np.random.default_rng(5)
    apart, ratio = [], []
    for along, across in product((-8.0, 0.0, 8.0)[: size.take(3, 2)], (0.0, 6.0)):
        here = air(wind_along_m_s=along, wind_across_m_s=across)
        table = tabulate(launch_for(lofts[:, None], speeds), here)
        row, played = rng.integers(0, 4, BALLS), 20.0 * rng.uniform(0.76, 1.24, BALLS)
        azimuth = rng.normal(0.0, 0.06, BALLS)
        balls = replace(launch_for(lofts[row], played), azimuth_rad=azimuth)
        found, direct = table.land(row, played, azimuth), fly(balls, here)
        apart.append(float(np.hypot(found.x_m - direct.x_m, found.y_m - direct.y_m).max()))
        flown = busy_ms(lambda here=here, balls=balls: fly(balls, here))
        look = [busy_ms(lambda t=table, r=row, p=played, a=azimuth: t.land(r, p, a)) for _ in range(5)]
        ratio.append(flown / float(np.median(look)))
    return [
        Row(TABLE_APART, max(apart) / YARD_M, "yd", BALLS * len(apart), "balls"),
        values_row(TABLE_RATIO, ratio, "times", "winds"),
    ]


PART = Part((*APART.values(), ONE, MANY, TABLE_APART, TABLE_RATIO), measure)
