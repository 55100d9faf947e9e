"""Fits what the course adds, by handicap, to published averages, and prints what was asked beside what was got.

    python tests/shared/fit_amateurs.py            prints the table for the figures in use
    python tests/shared/fit_amateurs.py --write    fits them again first and writes caddie/bag/amateurs.toml

Shots are chosen with the figures in use and then held while these are moved; another run settles both. A weak pull
toward simple starting figures decides where the published averages cannot tell two of them apart.
"""

import argparse
import datetime
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from unittest import mock

import numpy as np
from amateurs import (
    BANDS,
    HANDICAPS,
    Check,
    Shot,
    approach_checks,
    bunker_checks,
    chosen,
    mean,
    played,
    putt_checks,
)
from fair_mix import approaches, greenside_bunkers
from scipy.optimize import least_squares

from caddie.bag.amateurs import FILE, Amateurs, amateurs, read
from caddie.plan import launches, swings

START: dict[str, tuple[float, float]] = {
    "misjudged": (0.020, 0.0040),
    "astray": (0.011, 0.0036),
    "heavy": (0.001, 0.0038),
    "sand_heavy": (0.006, 1.125),
}
"""Tour player, and each stroke above."""
SCALE = np.array([0.01, 0.001, 0.01, 0.001, 0.01, 0.001, 0.003, 0.03])
LEAST = np.array([0.010, 0.0, 0.010, 0.0, 0.0, 0.0, 0.001, 1.0])
MOST = np.array([np.inf, 0.0045, np.inf, np.inf, np.inf, np.inf, np.inf, 1.2])
"""Nobody of handicap 25 misjudges a distance by more than some 17 % (one standard deviation; common practice, no
source): what more they come up short by are poor strikes."""
PULL = 0.3
"""Tolerances that a figure is pulled by when it is one of :data:`SCALE` from its start."""
PUTT_START = (0.035, 0.0005)
PUTT_SCALE = np.array([0.01, 0.0005])
TOUR_PUTTS = {"putt_line_deg": 1.02, "putt_pace": 0.080}
"""Fitted to the makes of 2016-18 (tests/plan/putt/test_skill.py)."""
FITTED_TO = (1,)
"""Seeds of the mixes."""
ROUNDS = 1
"""After a change that moves much, fit again until the figures stay."""
BUNKER_HANDICAPS = (2.0, 26.0)
MORE_BANDS = {"50-75 yd": (5.0, 10.0, 15.0), "75-100 yd": (5.0, 10.0, 15.0)}
UNTRUE = ("putts 3-5 ft: made",)
"""Another service's users make fewer from 3-5 ft than these from 6-9 ft allow with any spread of the line."""
HEADER = """# What amateurs on the course add to a tour player's pattern, by handicap: "tour" is the figure of
# a tour player (handicap -5), "stroke" what each stroke above adds, for sand_heavy by how much it multiplies. What
# each is: caddie/bag/amateurs.py.
# Fitted on {date} by tests/shared/fit_amateurs.py to tests/published/amateur_by_handicap.csv: averages
# that articles print of tracking services' users, read in 2026 (greens hit, distance left, strokes and short
# misses from 50-100 yd, bunkers, putts made, holes per three-putt), over the mix of tests/shared/fair_mix.py.
"""

Cells = dict[tuple[str, float], list[Shot]]


def figures(course: np.ndarray, putts: np.ndarray) -> Amateurs:
    """The figures of two vectors that the fits move."""
    pairs = dict(zip(START, course.reshape(-1, 2), strict=True))
    pairs |= {name: (tour, each) for (name, tour), each in zip(TOUR_PUTTS.items(), putts, strict=True)}
    return Amateurs.model_validate(
        {name: {"tour": tour, "stroke": each} for name, (tour, each) in pairs.items()}
    )


@contextmanager
def using(these: Amateurs) -> Iterator[None]:
    """Plans and plays with these figures."""
    with mock.patch("caddie.bag.amateurs.read", return_value=these):
        yield


def cells(situations: int, seed: int) -> Cells:
    """Shots chosen with the figures in use, by kind of situation and handicap."""
    wanted = {**MORE_BANDS, "100 yd": HANDICAPS}
    found = {
        (band, handicap): [chosen(each, handicap) for each in approaches(*BANDS[band], situations, seed)]
        for band, handicaps in wanted.items()
        for handicap in handicaps
    }
    for handicap in BUNKER_HANDICAPS:
        found["bunker", handicap] = [chosen(each, handicap) for each in greenside_bunkers(situations, seed)]
    return found


def checks_of(shots: Cells) -> list[Check]:
    """Everything published of these shots beside what they come to with the figures in use."""
    found: list[Check] = []
    for (kind, handicap), some in shots.items():
        got = mean([played(shot) for shot in some])
        found += bunker_checks(handicap, got) if kind == "bunker" else approach_checks(kind, handicap, got)
    return found


def fitted_putts() -> np.ndarray:
    """What each stroke adds to the line [deg] and the pace of putts."""

    def off(moved: np.ndarray) -> np.ndarray:
        with using(figures(course_of(amateurs()), moved * PUTT_SCALE)):
            checks = [check for handicap in HANDICAPS for check in putt_checks(handicap)]
        return np.array(
            [check.off for check in checks if check.what not in UNTRUE and not _better_than_tour(check)]
        )

    return least_squares(off, np.array(PUTT_START) / PUTT_SCALE, diff_step=0.02).x * PUTT_SCALE


def _better_than_tour(check: Check) -> bool:
    """Scratch players are said to three-putt less often than the tour: no stroke may take from a spread."""
    return check.what.startswith("three-putts") and check.handicap == 0


def course_of(these: Amateurs) -> np.ndarray:
    """The figures of :data:`START` as a vector."""
    return np.array([(getattr(these, name).tour, getattr(these, name).stroke) for name in START]).ravel()


def fitted_course(situations: int, putts: np.ndarray) -> np.ndarray:
    """The figures of :data:`START`, fitted."""
    start = np.array(list(START.values())).ravel()
    course = np.clip(course_of(amateurs()), LEAST, MOST)
    for _ in range(ROUNDS):
        with using(figures(course, putts)):
            mixes = [cells(situations, seed) for seed in FITTED_TO]
        shots = {kind: [shot for mix in mixes for shot in mix[kind]] for kind in mixes[0]}

        def off(moved: np.ndarray, shots: Cells = shots) -> np.ndarray:
            with using(figures(moved * SCALE, putts)):
                told = [check.off for check in checks_of(shots)]
            return np.concatenate([told, PULL * (moved - start / SCALE)])

        course = (
            least_squares(
                off, course / SCALE, diff_step=0.08, bounds=(LEAST / SCALE, MOST / SCALE), max_nfev=3
            ).x
            * SCALE
        )
    return np.asarray(course)


def written(these: Amateurs) -> str:
    """The file of these figures."""
    tables = [f"[{name}]\ntour = {line.tour:.4g}\nstroke = {line.stroke:.3g}\n" for name, line in these]
    return HEADER.format(date=datetime.date.today().isoformat()) + "\n" + "\n".join(tables)


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--write", action="store_true", help="fit again and write the figures")
    parser.add_argument(
        "--situations", type=int, default=25, help="situations of each kind: fewer leave out the rarer lies"
    )
    parser.add_argument("--seed", type=int, default=3, help="of the mix that the table is made of")
    said = parser.parse_args()
    # A fit asks for the same flights again and again.
    launches._tabulated = lru_cache(maxsize=2000)(launches._tabulated.__wrapped__)
    swings._curves = lru_cache(maxsize=100)(swings._curves.__wrapped__)
    if said.write:
        putts = fitted_putts()
        FILE.write_text(written(figures(fitted_course(said.situations, putts), putts)), encoding="utf-8")
        read.cache_clear()
    checks = checks_of(cells(said.situations, said.seed))
    checks += [check for handicap in HANDICAPS for check in putt_checks(handicap)]
    for check in sorted(checks, key=lambda check: check.what):
        print(check.line())
    print(f"{sum(abs(check.off) > 1 for check in checks)} of {len(checks)} beyond their tolerance")


if __name__ == "__main__":
    main()
