"""What was understood as facts that can be tapped: each with what it may be instead.

A value on the wire is what the player reads: lengths in the player's unit (feet on the green and for heights),
wind in the player's unit, words as :mod:`caddie.situation` spells them. Trouble is one fact for each piece,
``trouble.0`` and on, and ``trouble`` for one more.
"""

from collections.abc import Sequence
from enum import StrEnum
from typing import Any, NamedTuple

from pydantic import ValidationError

from caddie.bag import Player
from caddie.bag.file import explain
from caddie.errors import CaddieError
from caddie.plan.called import HAZARD_SAID, name_of
from caddie.reply.phrases import side_said
from caddie.reply.situation import LIE_SAID
from caddie.situation import (
    BorrowUnit,
    Fall,
    Firmness,
    Frozen,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Sitting,
    Situation,
    Stance,
    WindFrom,
)
from caddie.units import (
    Unit,
    from_metres,
    from_metres_per_second,
    in_inches,
    to_metres,
    to_metres_per_second,
)

FALL_SAID = {
    Fall.TOWARD: "falls toward you",
    Fall.AWAY: "falls away",
    Fall.LEFT_TO_RIGHT: "falls left to right",
    Fall.RIGHT_TO_LEFT: "falls right to left",
}
_MOST_TROUBLE = 8
_PUTTED_FROM = (Lie.GREEN, Lie.FRINGE)


class FactChoice(Frozen):
    """One thing a fact may be."""

    value: str
    shown: str


class ShownFact(Frozen):
    """One fact, known or open."""

    name: str
    label: str
    shown: str | None
    """None when it was not said."""
    value: float | str | None = None
    choices: tuple[FactChoice, ...] = ()
    """What it may be; empty for a number."""
    unit: str = ""
    step: float = 1.0
    removable: bool = True


class _Length(NamedTuple):
    label: str
    unit: Unit | None
    """None is the player's own."""
    shown: str


_LENGTHS = {
    "pin_m": _Length("Flag", None, "flag {}"),
    "front_m": _Length("Front edge", None, "front {}"),
    "room_m": _Length("Room", None, "room {}"),
    "behind_m": _Length("Green behind it", None, "{} of green behind"),
    "elevation_m": _Length("Height of the green", Unit.FEET, "green {} above"),
}
_CHOICES: dict[str, tuple[str, type[StrEnum], str]] = {
    "lie": ("Lie", Lie, "{}"),
    "sitting": ("Ball sits", Sitting, "sitting {}"),
    "stance": ("Stance", Stance, "{}"),
    "pin_position": ("Flag cut", PinPosition, "flag {}"),
    "green.firmness": ("Green", Firmness, "green {}"),
    "green.fall": ("Green falls", Fall, "green {}"),
    "wind.from": ("Wind from", WindFrom, "wind from {}"),
}
_SAID: dict[str, dict[Any, str]] = {"lie": dict(LIE_SAID), "green.fall": dict(FALL_SAID)}
_ORDER = (
    "pin_m", "lie", "sitting", "trouble", "pin_position", "front_m", "room_m", "behind_m", "stance", "green.fall",
    "green.borrow", "green.firmness", "green.stimp_ft", "wind.from", "wind.speed_m_s", "elevation_m",
)  # fmt: skip


def facts_of(situation: Situation, player: Player) -> list[ShownFact]:
    """Every fact, said or open, in the order in which a caddie repeats them."""
    found: list[ShownFact] = []
    for name in _ORDER:
        if name == "trouble":
            found += _trouble(situation.hazards)
        elif name == "green.borrow":
            found += [_borrow(situation, player)] if situation.lie in _PUTTED_FROM else []
        elif name in _CHOICES:
            found.append(_choice(name, situation))
        else:
            found.append(_number(name, situation, player))
    return found


def with_fact(situation: Situation, name: str, value: float | str | None, player: Player) -> Situation:
    """The situation with one fact changed, or taken out by None.

    Raises:
        CaddieError: for an unknown fact, or a value that it cannot have.
    """
    content = situation.model_dump(mode="json")
    if name == "trouble" or name.startswith("trouble."):
        content["hazards"] = _hazards(content["hazards"], name, value)
    elif name not in _ORDER:
        raise CaddieError(f"there is no fact called {name[:40]}")
    else:
        number = _in_si(name, value, situation, player)
        part, _, inside = name.rpartition(".")
        place = content[part] if part else content
        place[inside] = [] if name == "stance" and value is None else [value] if name == "stance" else number
        if name == "pin_m":
            # They were told or derived with the old distance.
            content |= {"front_m": None, "room_m": None}
        if name == "green.fall" and value is None:
            place |= {"fall_slope": None, "side_fall": None, "side_slope": None, "borrow": None}
        if name == "green.borrow" and value is not None:
            inches = isinstance(value, int | float) and player.putt_unit is Unit.METRES
            amount = round(in_inches(to_metres(float(value), Unit.CENTIMETRES)), 2) if inches else value
            place[inside] = {"amount": amount, "unit": BorrowUnit.INCHES}
    try:
        return Situation.model_validate(content)
    except ValidationError as error:
        raise CaddieError(f"that cannot be: {explain(error)}") from None


def shown(before: Situation, after: Situation, name: str, player: Player) -> str:
    """What a tap changed, as the conversation shows it."""
    said_before = {fact.name: fact.shown for fact in facts_of(before, player)}
    said_after = {fact.name: fact.shown for fact in facts_of(after, player)}
    # A new piece of trouble is named by its number, which the tap could not know.
    for each in (name, *said_after):
        told = said_after.get(each)
        if told and told != said_before.get(each):
            return told
    gone = said_before.get(name)
    return f"not {gone}" if gone else "as it was"


def _choice(name: str, situation: Situation) -> ShownFact:
    label, kinds, text = _CHOICES[name]
    value: Any = {
        "stance": situation.stance[0] if situation.stance else None,
        "green.firmness": situation.green.firmness,
        "green.fall": situation.green.fall,
        "wind.from": situation.wind.from_,
    }.get(name, getattr(situation, name, None))
    said = _SAID.get(name, {})
    choices = tuple(
        FactChoice(value=kind.value, shown=said.get(kind, kind.value.replace("_", " "))) for kind in kinds
    )
    named = next((choice.shown for choice in choices if choice.value == value), None)
    if name == "stance" and len(situation.stance) > 1:
        named = ", ".join(stance.value.replace("_", " ") for stance in situation.stance)
    return ShownFact(
        name=name, label=label, shown=text.format(named) if named else None, value=value, choices=choices
    )


def _borrow(situation: Situation, player: Player) -> ShownFact:
    """Where the player starts a putt, from the hole's middle to its high side, in inches or centimetres."""
    borrow, metric = situation.green.borrow, player.putt_unit is Unit.METRES
    unit = "centimetres" if metric else "inches"
    each_m = to_metres(1.0, Unit.CENTIMETRES if metric else Unit.INCHES)
    amount = None if borrow is None else round(borrow.aim_m / each_m, 0 if metric else 1)
    told = None if amount is None else f"borrow {amount:g} {unit}" if amount else "straight"
    return ShownFact(name="green.borrow", label="Borrow", shown=told, value=amount, unit=unit)


def _number(name: str, situation: Situation, player: Player) -> ShownFact:
    if name in _LENGTHS:
        label, _, text = _LENGTHS[name]
        unit = _unit(name, situation, player)
        value_m: float | None = getattr(situation, name)
        value = None if value_m is None else round(from_metres(value_m, unit), 1)
        named = None if value is None else f"{value:g} {unit.value}"
        if name == "elevation_m" and value is not None and value < 0:
            named, text = f"{-value:g} {unit.value}", "green {} below"
        shown_as = text.format(named) if named else None
        return ShownFact(
            name=name,
            label=label,
            shown=shown_as,
            value=value,
            unit=unit.value,
            removable=name != "pin_m",
        )
    if name == "green.stimp_ft":
        stimp = situation.green.stimp_ft
        told = None if stimp is None else f"stimp {stimp:g}"
        return ShownFact(name=name, label="Green speed", shown=told, value=stimp, unit="feet", step=0.5)
    speed = situation.wind.speed_m_s
    counted_in = player.wind_unit
    count = None if speed is None else round(from_metres_per_second(speed, counted_in))
    told = None if count is None else f"wind {count} {counted_in.value}" if count else "no wind"
    return ShownFact(name=name, label="Wind speed", shown=told, value=count, unit=counted_in.value)


def _unit(name: str, situation: Situation, player: Player) -> Unit:
    metric = player.distances_in is Unit.METRES
    if name == "elevation_m" or (name == "pin_m" and situation.lie is Lie.GREEN):
        return Unit.METRES if metric else Unit.FEET
    return player.distances_in


def _in_si(name: str, value: float | str | None, situation: Situation, player: Player) -> float | str | None:
    if value is None or name in _CHOICES:
        if value is not None and not isinstance(value, str):
            raise CaddieError(f"{name}: is a word, not a number")
        return value
    if not isinstance(value, int | float) or isinstance(value, bool):
        raise CaddieError(f"{name}: is a number")
    if name in _LENGTHS:
        return to_metres(value, _unit(name, situation, player))
    return to_metres_per_second(value, player.wind_unit) if name == "wind.speed_m_s" else value


def _trouble(hazards: Sequence[Hazard]) -> list[ShownFact]:
    choices = tuple(
        FactChoice(value=f"{kind.value}.{side.value}", shown=f"{HAZARD_SAID[kind]} {side.value}")
        for kind in HazardKind
        for side in Side
    )
    pieces = [
        ShownFact(
            name=f"trouble.{number}",
            label="Trouble",
            shown=f"{name_of(hazard)} {side_said(hazard)}",
            value=f"{hazard.kind.value}.{hazard.side.value if hazard.side else ''}",
            choices=choices,
        )
        for number, hazard in enumerate(hazards)
    ]
    return [*pieces, ShownFact(name="trouble", label="Trouble", shown=None, choices=choices)]


def _hazards(before: list[Any], name: str, value: float | str | None) -> list[Any]:
    _, _, number = name.partition(".")
    pieces = list(before)
    if number and not (number.isdecimal() and int(number) < len(pieces)):
        raise CaddieError("there is no such piece of trouble")
    if value is None:
        return [piece for place, piece in enumerate(pieces) if str(place) != number]
    kind, _, side = str(value).partition(".")
    piece = {"kind": kind, "side": side or None}
    if number:
        kept = pieces[int(number)]
        # A carry goes with the place, which a tap on the kind leaves as it is.
        same_place = kept["side"] == piece["side"]
        pieces[int(number)] = kept | piece if same_place else piece
    elif len(pieces) >= _MOST_TROUBLE:
        raise CaddieError(f"more than {_MOST_TROUBLE} pieces of trouble are not counted")
    else:
        pieces.append(piece)
    return pieces
