"""What was written down of the last shot is put right, and the next one with it: "you wrote four feet, I said six"."""

from dataclasses import dataclass, replace

from caddie.bag import Player
from caddie.errors import CaddieError
from caddie.reply.spoken import sentences
from caddie.situation import Lie, Result, Side, Situation
from caddie.talk import lines
from caddie.talk.in_order import as_one
from caddie.talk.planning import planned
from caddie.talk.result_said import acknowledgement
from caddie.talk.state import Desk, Known, Said, ToldShot
from caddie.units import Unit, from_metres, to_metres
from caddie.words import Intent, Understanding
from caddie.words.echoes import Figure
from caddie.words.log_corrections import LogCorrection, log_correction

_SIDE = {"left": Side.LEFT, "right": Side.RIGHT, "short": Side.SHORT, "past": Side.LONG, "long": Side.LONG}
_ACROSS, _ALONG = (Side.LEFT, Side.RIGHT), (Side.SHORT, Side.LONG)
_AS_SAID = 0.55
"""A length that was rounded for the ear is still the one that was written."""
SAME_LEFT_M = 0.05


@dataclass(frozen=True)
class _Put:
    """The result as it is put right, and whether what was denied is what was written."""

    result: Result
    denied: bool


def written_wrong(desk: Desk, known: Known, text: str) -> tuple[Said, str] | None:
    """The last shot told of put right, with the rest of the turn; None where nothing written is said to be wrong."""
    found = log_correction(text) if known.told else None
    if found is None:
        return None
    shot = known.told[0]
    put = _put_right(shot.result, found, desk.bag.player)
    if put is None or not (put.denied or found.asks_to or (found.may_ask_to and known.played)):
        return None
    heard = Understanding(heard=text, intent=Intent.RESULT, result=put.result)
    putting = shot.situation.lie is Lie.GREEN
    said = acknowledgement(put.result, None, heard, desk.bag.player, putting=putting)
    if put.result == shot.result:
        return Said(
            known, sentences([lines.AS_TOLD.format(told=said)]), intent=Intent.RESULT.value
        ), found.rest
    if shot.number is not None and desk.log is not None:
        try:
            desk.log.amend(shot.number, put.result, down_in=None)
        except CaddieError as error:
            return Said(known, lines.NOT_LOGGED, written=f"{lines.NOT_LOGGED} ({error})"), found.rest
    after = _with_it(known, shot, put.result)
    spoken = sentences([said, lines.PUT_RIGHT])
    logged = shot.number is not None
    told = Said(after, spoken, logged=logged, brief=sentences([said]), intent=Intent.RESULT.value)
    return as_one([told, *_next_one(desk, after, shot, put.result, text)]), found.rest


def _with_it(known: Known, shot: ToldShot, result: Result) -> Known:
    kept = tuple(replace(each, result=result) if each is shot else each for each in known.told)
    return known.changed(told=kept, result=result if known.played else known.result)


def _next_one(desk: Desk, known: Known, shot: ToldShot, result: Result, text: str) -> list[Said]:
    """The putt that is left, planned anew where its length was that of the shot before."""
    there, was_m, now_m = known.situation, shot.result.distance_m, result.distance_m
    if known.plan is None or known.played or None in (was_m, now_m, there.pin_m) or was_m == now_m:
        return []
    assert was_m is not None and there.pin_m is not None
    if abs(there.pin_m - was_m) > SAME_LEFT_M:
        return []
    heard = Understanding(heard=text, intent=Intent.PUTT, situation=Situation(pin_m=now_m))
    after = known.changed(situation=there.model_copy(update={"pin_m": now_m}), question=None)
    return [planned(desk, after, heard, before=there)]


def _put_right(result: Result, found: LogCorrection, player: Player) -> _Put | None:
    """The result with the sides and the length that it had; None where nothing of a result is named."""
    sides = [_SIDE[each] for each in found.was if isinstance(each, str)]
    not_sides = [_SIDE[each] for each in found.was_not if isinstance(each, str)]
    lengths = [each for each in found.was if isinstance(each, Figure)]
    not_lengths = [each for each in found.was_not if isinstance(each, Figure)]
    unit = _unit_of([*lengths, *not_lengths], player)
    if len(lengths) > 1 or unit is None:
        return None
    kept = [
        side
        for side in result.side
        if side not in not_sides and not any(_on_one_axis(side, each) for each in sides)
    ]
    now = result.model_copy(update={"side": (*kept, *sides)}) if sides else result
    if lengths:
        now = now.model_copy(update={"distance_m": to_metres(lengths[0].value, unit, player.pace_m)})
    denied = any(side in result.side for side in not_sides) or any(
        _was_written(each.value, result, unit, player) for each in not_lengths
    )
    return _Put(now, denied)


def _on_one_axis(one: Side, other: Side) -> bool:
    return any(one in axis and other in axis for axis in (_ACROSS, _ALONG))


def _was_written(value: float, result: Result, unit: Unit, player: Player) -> bool:
    written_m = result.distance_m
    return written_m is not None and abs(from_metres(written_m, unit, player.pace_m) - value) < _AS_SAID


def _unit_of(figures: list[Figure], player: Player) -> Unit | None:
    """The one unit of the lengths named; what the player counts putts in where none is; None of several."""
    named = {each.unit for each in figures if each.unit is not None}
    if len(named) > 1 or not named <= {unit.value for unit in Unit}:
        return None
    return Unit(next(iter(named))) if named else player.putt_unit
