"""How the season in demo_bag was made: an invented player's log, to look at a report before the first own shot.

Rowan Fenwick and the course, Larkrise Common, exist nowhere. The same seed gives the same log. Shots scatter
roughly as the published figures say; the player's habits are made up so that there is something to find:
quits near trouble, is weak from sand, plays too little break, gets better as the season goes, and gains by one
cue.
"""

import math
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np

from caddie.bag.models import Family
from caddie.log.shot import Commitment, Mode, Shot
from caddie.plan.dispersion import SPREAD_BY_LIE
from caddie.plan.putt.skill import PuttingSkill, make_chance
from caddie.situation import (
    Finish,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Result,
    Side,
    Situation,
    Strike,
)
from caddie.units import FOOT_M, YARD_M, spoken_number

PLAYER = "Rowan Fenwick"
FIRST_ROUND = datetime(2026, 4, 4, 8, 30, tzinfo=UTC)
BETTER_EACH_ROUND = 0.006
"""The pattern narrows by this share from one round to the next."""
GREEN_RADIUS_M = 11.0
MORE_RUN_M = 2.0
PUTTING = PuttingSkill(math.radians(1.226 + 14 / 18 * (1.563 - 1.226)), 0.0837 + 14 / 18 * (0.125 - 0.0837))
"""The invented player's own."""
STRAIGHT_M = 1.2
BREAK_LEFT_OUT = 0.4
RIGHT_SHARE = 0.25

_LIES = (Lie.FAIRWAY, Lie.FRINGE, Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH, Lie.BUNKER, Lie.BARE)
_LIE_SHARES = (0.31, 0.16, 0.27, 0.08, 0.14, 0.04)
_PINS = (PinPosition.FRONT, PinPosition.MIDDLE, PinPosition.BACK)
_CUES = {
    Family.CHIP: ("brush_through", "landing_spot", "finish_long"),
    Family.BUMP_AND_RUN: ("brush_through", "landing_spot"),
    Family.PITCH: ("finish_long", "turn_through", "landing_spot"),
    Family.LOB: ("finish_long", "turn_through"),
    Family.SPLASH: ("splash", "splash_speed"),
}
_GOOD_CUE = "finish_long"
_SWINGS = {"60": (19, 46, 59, 70), "56": (24, 65, 80, 92), "52": (28, 71, 89, 103), "PW": (33, 79, 101, 118)}
_SWING_NAMES = ("hip", "chest", "shoulder", "full")
_SWING_SHARES = (0.25, 0.5, 0.75, 1.0)
_RUN_SHARE = {"60": 0.12, "56": 0.2, "52": 0.35, "PW": 0.55}
_LOFT = {"60": 60.0, "56": 56.0, "52": 52.0, "PW": 46.0}


def invented_season(rounds: int = 20, seed: int = 1, player: str = PLAYER, wider: float = 1.0) -> list[Shot]:
    """A season of rounds, a week apart, every fourth a competition; ``wider`` scales the scatter."""
    rng = np.random.default_rng(seed)
    return [
        shot
        for number in range(rounds)
        for shot in _round(
            rng,
            player,
            FIRST_ROUND + timedelta(days=7 * number),
            Mode.COMPETITION if number % 4 == 3 else Mode.PRACTICE,
            wider * (1 - BETTER_EACH_ROUND) ** number,
        )
    ]


def _round(
    rng: np.random.Generator, player: str, start: datetime, mode: Mode, wider: float
) -> Iterator[Shot]:
    for hole in range(18):
        moment = start + timedelta(minutes=13.5 * hole)
        if rng.random() < 0.58:
            approach, putt_m = _approach(rng, player, moment, mode, wider)
            yield from approach
        else:
            putt_m = float(rng.gamma(3.0, 2.6))
        if putt_m:
            yield from _putts(rng, player, moment + timedelta(minutes=4), mode, putt_m)


def _approach(
    rng: np.random.Generator, player: str, moment: datetime, mode: Mode, wider: float
) -> tuple[list[Shot], float]:
    """Shots from off the green until one is on it, and how far from the hole that one lies; 0 when holed."""
    shots: list[Shot] = []
    lie = _LIES[rng.choice(len(_LIES), p=_LIE_SHARES)]
    near = lie is Lie.FRINGE or rng.random() < 0.6
    pin_m = float(rng.gamma(4, 4.0) + 5 if near else rng.uniform(25, 92)) * (0.7 if lie is Lie.FRINGE else 1)
    while True:
        then = moment + timedelta(minutes=len(shots) * 1.5)
        shot, left_m = _shot(rng, player, then, mode, wider, pin_m, lie)
        shots.append(shot)
        finish = shot.result.finish
        if finish in (Finish.GREEN, Finish.HOLED) or len(shots) == 3:
            return shots, left_m
        lie = Lie.BUNKER if finish is Finish.BUNKER else Lie.LIGHT_ROUGH
        pin_m = max(left_m, 4.0) if finish is not Finish.WATER else pin_m


def _shot(
    rng: np.random.Generator, player: str, moment: datetime, mode: Mode, wider: float, pin_m: float, lie: Lie
) -> tuple[Shot, float]:
    pin_m = round(min(pin_m, 95.0) / YARD_M) * YARD_M
    hazards = _hazards(rng, pin_m) if lie is not Lie.FRINGE else ()
    pin = _PINS[rng.integers(3)]
    family = _family(rng, lie, pin_m, bool(hazards))
    advice = _advice(family, pin_m, lie, wider)
    cue = str(rng.choice(_CUES[family]))
    trouble = any(hazard.kind in (HazardKind.BUNKER, HazardKind.WATER) for hazard in hazards)
    quits = rng.random() < (0.2 if trouble else 0.03) * (0.4 if cue == _GOOD_CUE else 1.0)
    mishit = rng.random() < min(0.085 * SPREAD_BY_LIE[lie] ** 1.3 * (0.4 if cue == _GOOD_CUE else 1.0), 0.4)
    strike = Strike.CLEAN
    spread_m = wider * (1.2 + 0.125 * pin_m) * SPREAD_BY_LIE[lie] ** 0.5
    along_m = float(rng.standard_t(5)) * spread_m * 0.77 - (0.35 * spread_m if lie is Lie.BUNKER else 0.0)
    across_m = float(rng.standard_t(5)) * spread_m * 0.77 / 1.5 + RIGHT_SHARE * spread_m
    along_m += MORE_RUN_M if family is Family.PITCH else 0.0
    if quits:
        strike, along_m = Strike.HEAVY, -pin_m * float(rng.uniform(0.2, 0.6))
    elif mishit and rng.random() < 0.6:
        strike, along_m = Strike.HEAVY, -pin_m * float(rng.uniform(0.25, 0.7))
    elif mishit:
        strike, along_m = Strike.THIN, pin_m * float(rng.uniform(0.2, 0.5)) + 4.0
    left_m = float(np.hypot(along_m, across_m))
    finish = _finish(rng, left_m, along_m, pin_m, hazards)
    left_m = 0.0 if finish is Finish.HOLED else _said_left(left_m)
    sides = () if finish is Finish.HOLED else _sides(along_m, across_m)
    lost = finish is Finish.WATER
    shot = Shot(
        time=moment,
        mode=mode,
        player=player,
        sentence=_sentence(pin_m, lie, hazards, pin),
        situation=Situation(pin_m=pin_m, lie=lie, pin_position=pin, hazards=hazards),
        advice=None if mode is Mode.COMPETITION else advice,
        club=advice["club"],
        swing=advice["swing"],
        family=family,
        flight="stock",
        result=Result(
            distance_m=None if lost else left_m,
            side=() if lost else sides,
            strike=strike if strike is not Strike.CLEAN or rng.random() < 0.5 else None,
            finish=finish,
        ),
        commitment=Commitment.QUIT if quits else (Commitment.COMMITTED if rng.random() < 0.3 else None),
        cue=None if mode is Mode.COMPETITION else cue,
    )
    return shot, left_m


def _putts(
    rng: np.random.Generator, player: str, moment: datetime, mode: Mode, putt_m: float
) -> Iterator[Shot]:
    skill = PUTTING
    for number in range(4):
        aim_left_m = float(rng.normal(0, 0.03 * putt_m)) if putt_m > STRAIGHT_M else 0.0
        along_m = float(rng.normal(0.25, 0.1 * putt_m + 0.12))
        right_m = BREAK_LEFT_OUT * aim_left_m + float(rng.normal(0, 0.02 * putt_m + 0.05))
        left_m = float(np.hypot(along_m, right_m))
        holed = number == 3 or rng.random() < float(make_chance(np.array(putt_m), skill))
        yield Shot(
            time=moment + timedelta(seconds=45 * number),
            mode=mode,
            player=player,
            sentence=f"{spoken_number(max(round(putt_m / FOOT_M), 1))} foot putt",
            situation=Situation(pin_m=max(round(putt_m, 2), 0.2), lie=Lie.GREEN),
            advice=None
            if mode is Mode.COMPETITION
            else {"family": "putt", "aim_left_m": round(aim_left_m, 3)},
            club="putter",
            family=Family.PUTT,
            result=Result(
                distance_m=None if holed else _said_left(left_m),
                side=() if holed else _sides(along_m, right_m),
                finish=Finish.HOLED if holed else Finish.GREEN,
            ),
        )
        if holed:
            return
        putt_m = max(left_m, 0.25)


def _hazards(rng: np.random.Generator, pin_m: float) -> tuple[Hazard, ...]:
    if rng.random() > 0.38:
        return ()
    kind = HazardKind.WATER if rng.random() < 0.15 and pin_m > 20 else HazardKind.BUNKER
    side = (Side.SHORT, Side.LONG, Side.LEFT, Side.RIGHT)[rng.choice(4, p=(0.55, 0.15, 0.15, 0.15))]
    carry_m = round(pin_m * float(rng.uniform(0.5, 0.75)), 1) if side is Side.SHORT else None
    return (Hazard(kind=kind, side=side, carry_m=carry_m),)


def _family(rng: np.random.Generator, lie: Lie, pin_m: float, over: bool) -> Family:
    if lie is Lie.BUNKER:
        return Family.SPLASH
    if pin_m < 28:
        if over and rng.random() < 0.5:
            return Family.LOB
        return Family.BUMP_AND_RUN if rng.random() < 0.35 and not over else Family.CHIP
    return Family.PITCH


def _advice(family: Family, pin_m: float, lie: Lie, wider: float) -> dict[str, Any]:
    club = {Family.LOB: "60", Family.SPLASH: "56", Family.PITCH: "56", Family.CHIP: "52"}.get(family, "PW")
    pin_yd = pin_m / YARD_M
    if family is Family.PITCH and pin_yd > 85:
        club = "52"
    run_yd = min(_RUN_SHARE[club] * pin_yd * (2.0 if pin_yd < 30 else 0.4), 0.7 * pin_yd)
    carry_yd = pin_yd - run_yd
    share = float(np.interp(carry_yd, (0, *_SWINGS[club]), (0, *_SWING_SHARES)))
    nearest = int(np.argmin(np.abs(np.array(_SWING_SHARES) - share)))
    leave_m = wider * (1.2 + 0.125 * pin_m) * SPREAD_BY_LIE[lie] ** 0.5
    return {
        "club": club, "loft_deg": _LOFT[club], "swing": _SWING_NAMES[nearest], "share": round(share, 4),
        "family": family.value, "flight": "stock", "carry_m": round(carry_yd * YARD_M, 2),
        "run_m": round(run_yd * YARD_M, 2), "land_short_of_pin_m": round(run_yd * YARD_M, 2),
        "leave_m": round(leave_m, 2), "strokes": round(2.15 + 0.008 * pin_m + 0.12 * SPREAD_BY_LIE[lie], 3),
        "trusted": False,
    }  # fmt: skip


def _finish(
    rng: np.random.Generator, left_m: float, along_m: float, pin_m: float, hazards: tuple[Hazard, ...]
) -> Finish:
    if left_m < 0.28 or rng.random() < 0.012:
        return Finish.HOLED
    for hazard in hazards:
        short = hazard.side is Side.SHORT and along_m < -0.3 * pin_m
        if (short or (hazard.side is Side.LONG and along_m > 0.3 * pin_m)) and rng.random() < 0.6:
            return Finish.WATER if hazard.kind is HazardKind.WATER else Finish.BUNKER
    if left_m < GREEN_RADIUS_M * rng.uniform(0.55, 1.25):
        return Finish.GREEN
    return Finish.FRINGE if rng.random() < 0.35 else Finish.ROUGH


def _sides(along_m: float, across_m: float) -> tuple[Side, ...]:
    sides = []
    if abs(along_m) >= abs(across_m) / 2:
        sides.append(Side.LONG if along_m > 0 else Side.SHORT)
    if abs(across_m) > abs(along_m) / 2:
        sides.append(Side.RIGHT if across_m > 0 else Side.LEFT)
    return tuple(sides)


def _said_left(left_m: float) -> float:
    """A leave as players say it: to the foot near the hole, to the yard farther off."""
    step_m = FOOT_M if left_m < 9 else YARD_M
    return min(max(round(left_m / step_m), 1) * step_m, 100.0)


def _sentence(pin_m: float, lie: Lie, hazards: tuple[Hazard, ...], pin: PinPosition) -> str:
    words = [f"{spoken_number(round(pin_m / YARD_M))} yards", lie.value.replace("_", " ")]
    words += [f"{hazard.kind.value} {hazard.side.value}" for hazard in hazards if hazard.side]
    return ", ".join([*words, f"flag {'in the' if pin is PinPosition.MIDDLE else 'at the'} {pin.value}"])
