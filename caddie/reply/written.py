"""The written reply: the shot, the numbers behind it, the reasons, the alternatives and what was assumed."""

from collections.abc import Mapping, Sequence

from caddie.bag import Bag, Family
from caddie.plan.called import name_of
from caddie.plan.lip import before_a_lip, face_of
from caddie.plan.option import Option, Plan
from caddie.plan.reasons import strokes_apart
from caddie.plan.unplayable import is_awash
from caddie.reply.aim import aim_said
from caddie.reply.cue import Cue
from caddie.reply.phrases import STOPS_M, club_written, flight_said, small, swing_said
from caddie.reply.putt import putt_lines
from caddie.reply.rolled import rolled_said
from caddie.situation import HazardKind, Lie, Side
from caddie.units import (
    FOOT_M,
    Unit,
    from_metres,
    in_feet,
    in_inches,
    length_text,
    speed_text,
)

_LIES = {
    Lie.FIRST_CUT: "in the first cut",
    Lie.LIGHT_ROUGH: "in light rough",
    Lie.HEAVY_ROUGH: "in heavy rough",
    Lie.BARE: "on a bare lie",
    Lie.DIVOT: "in a divot",
    Lie.BUNKER: "in a bunker",
    Lie.PLUGGED: "plugged in a bunker",
}
_FIELDS = {
    "pin_m": "flag",
    "front_m": "green from",
    "room_m": "room",
    "lie": "lie",
    "pin_position": "flag cut",
    "green.stimp_ft": "green speed",
    "green.firmness": "green",
    "green.fall_slope": "fall",
    "green.side_slope": "side fall",
    "wind": "wind",
    "wind.speed_m_s": "wind speed",
    "wind.known_by": "wind speed",
    "elevation_m": "height difference",
    "lip_m": "lip high",
    "trouble_side": "trouble on one side",
}
LEAVES = 0.25
"""Less than this share of what is left is no way on."""
SHOWN = 4
"""Alternatives listed."""


def write(plan: Plan, bag: Bag, cue: Cue, left_over: Sequence[str] = ()) -> str:
    """The full reply as plain lines of text, with what was said and not followed last."""
    lines = _shot_lines(plan, bag) if plan.chosen.pace_m is None else putt_lines(plan, bag)
    if plan.assumed:
        lines.append(f"Taken: {assumed_line(plan, bag)}")
    lines.append(f"Cue:   {cue.say}")
    if left_over:
        lines.append(f"Not followed: {', '.join(left_over)}")
    return "\n".join(lines)


def _shot_lines(plan: Plan, bag: Bag) -> list[str]:
    option = plan.chosen
    return [
        _heading(plan, bag),
        f"Shot:  {shot_line(option, bag)}",
        f"Ball:  {_ball_line(option, bag)}",
        f"Odds:  on the green {_chance(option.on_green)}, in trouble {option.in_trouble:.0%}, half within "
        f"{_left(option.leave_m, bag)}; {option.strokes:.1f} strokes to hole out",
        *(f"Why:   {reason}" for reason in plan.reasons),
        *_others(plan, bag),
    ]


def _left(length_m: float, bag: Bag) -> str:
    """What is left to the hole: "7 ft", or "2.1 m" to who counts in metres."""
    if bag.player.putt_unit is Unit.METRES:
        return f"{max(length_m, FOOT_M):.1f} m"
    return f"{max(in_feet(length_m), 1):.0f} ft"


def _chance(share: float) -> str:
    """A chance of which nothing is certain."""
    return "over 99%" if share > 0.99 else f"{share:.0%}"


def shot_line(option: Option, bag: Bag) -> str:
    """Club, swing, flight and kind of shot on one line."""
    family = option.family.value.replace("_and_", "-and-")
    parts = [club_written(option, bag), swing_said(option), flight_said(option)]
    return f"{', '.join(part for part in parts if part)} ({family})"


def assumed_line(plan: Plan, bag: Bag) -> str:
    """What was not said and what was taken for it."""
    named = {**_FIELDS, **_of_what_stands(plan)}
    return ", ".join(
        f"{_field(name, named)} {_value(name, value, bag)}" for name, value in plan.assumed.items()
    )


def _of_what_stands(plan: Plan) -> dict[str, str]:
    """The place and the height of what stands in the way, by the name it was given."""
    ahead = (each for each in plan.situation.hazards if each.side in (Side.SHORT, None))
    name = next((name_of(each) for each in ahead if each.kind is HazardKind.TREES), "")
    return {"tree_m": name, "tree_height_m": f"{name} high"}


def _heading(plan: Plan, bag: Bag) -> str:
    situation = plan.situation
    assert situation.pin_m is not None and situation.front_m is not None and situation.lie is not None
    unit = bag.player.distances_in
    pin = length_text(situation.pin_m, unit, bag.player.pace_m)
    front = from_metres(situation.front_m, unit, bag.player.pace_m)
    lies = _LIES.get(situation.lie, _on(situation.lie))
    if is_awash(situation):
        lies = "partly in water"
    return f"Flag {pin}, green from {max(front, 1):.0f}, ball {lies}{_lip(plan, bag)}"


def _lip(plan: Plan, bag: Bag) -> str:
    """The lip that was spoken of, as far as it is taken for, and as high as it was told to be."""
    if not before_a_lip(plan.situation):
        return ""
    height_m, away_m = face_of(plan.situation)
    high = "" if "lip_m" in plan.assumed else f" {_high(height_m, bag)} high"
    if not high and plan.situation.under_lip:
        return ", under the lip"
    unit = bag.player.distances_in
    return f", lip{high} {max(from_metres(away_m, unit, bag.player.pace_m), 1):.0f} ahead"


def _high(height_m: float, bag: Bag) -> str:
    metric = bag.player.distances_in is Unit.METRES
    return f"{height_m:.1f} metres" if metric else length_text(height_m, Unit.FEET)


def _on(lie: Lie) -> str:
    return f"on {lie.value.replace('_', ' ')}"


def _ball_line(option: Option, bag: Bag) -> str:
    unit = bag.player.distances_in
    run = round(from_metres(option.run_m, unit))
    short = round(from_metres(option.land_short_of_pin_m, unit))
    if option.family is Family.PUTT:
        line = aim_said(option, bag)
        return f"{rolled_said(option, bag, 'rolls')}{f'; {small(line)}' if line else ''}"
    if option.turned:
        return f"nudged out, leaves {length_text(option.leave_m, unit)}"
    if option.sideways:
        return f"out sideways to the grass, leaves {length_text(option.leave_m, unit)}"
    if option.lay_up:
        return f"carries {length_text(option.carry_m, unit)}, leaves {length_text(option.leave_m, unit)}"
    where = f"{abs(short)} {'short of' if short > 0 else 'past'} the flag" if short else "at the flag"
    if abs(option.run_m) < STOPS_M:
        run = 0
    after = f"runs {run}" if run > 0 else (f"comes back {-run}" if run else "stops")
    return f"carries {length_text(option.carry_m, unit)}, lands {where}, {after}"


def _others(plan: Plan, bag: Bag) -> list[str]:
    """Other choices, each of another club or another kind of shot, and the safe way where there is one."""
    lines: list[str] = []
    shown = {(plan.chosen.club, plan.chosen.family)}
    safe = next((option for option in plan.options if option.lay_up or option.sideways), None)
    for option in plan.options:
        if option.lay_up or option.sideways:
            continue
        # Beside the way out, a shot that hardly leaves the spot is no other way.
        stays = plan.chosen.sideways and option.carry_m + option.run_m < LEAVES * option.land_short_of_pin_m
        if not stays and (option.club, option.family) not in shown and len(lines) < SHOWN:
            shown.add((option.club, option.family))
            lines.append(f"Also:  {_beside(option, plan, bag)}")
    if safe is not None and not (plan.chosen.lay_up or plan.chosen.sideways):
        way = "Or lay up" if safe.lay_up else "Or sideways"
        lines.append(f"{way}:  {_beside(safe, plan, bag)}")
    return lines


def _beside(option: Option, plan: Plan, bag: Bag) -> str:
    """Another shot, and what it costs beside the one that is advised."""
    costs = strokes_apart(option.strokes - plan.chosen.strokes)
    return f"{shot_line(option, bag)}: {_ball_line(option, bag)}; {costs}"


def _field(name: str, named: Mapping[str, str]) -> str:
    if name.startswith("hazards."):
        return f"{name.split('.')[1].replace('_', ' ')} height"
    return named.get(name, name)


def _value(name: str, value: object, bag: Bag) -> str:
    if name == "elevation_m" and not value:
        return "none"
    if name == "wind.known_by":
        return "as a forecast tells it (more than blows near the ground)"
    if isinstance(value, int | float):
        if name == "tree_m":
            return f"{length_text(value, bag.player.distances_in)} ahead"
        if name in ("lip_m", "tree_height_m"):
            return _high(value, bag)
        if name.startswith("hazards."):
            metric = bag.player.distances_in is Unit.METRES
            return f"{value * 100:.0f} cm" if metric else f"{in_inches(value):.0f} inches"
        if name.endswith("slope"):
            return f"{value:.0%}"
        if name.endswith("stimp_ft"):
            return f"{value:g} ft"
        if name.endswith("speed_m_s"):
            return speed_text(value, bag.player.wind_unit)
        return length_text(value, bag.player.distances_in)
    return str(value).replace("_", " ")
