"""What was written down of the last shot is put right, and the next one with it: "you wrote four feet, I said six"."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import log

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
from caddie.words import Intent, Understanding, understand
from caddie.words.echoes import Figure
from caddie.words.log_corrections import LogCorrection, log_correction
from caddie.words.other_times import told_of_now

_SIDE = {"left": Side.LEFT, "right": Side.RIGHT, "short": Side.SHORT, "past": Side.LONG, "long": Side.LONG}
_ACROSS, _ALONG = (Side.LEFT, Side.RIGHT), (Side.SHORT, Side.LONG)
_AS_SAID = 0.55
"""A length that was rounded for the ear is still the one that was written."""
_HAND_CM = 10.0
"""Lengths by a putt are guessed to so many centimetres (common practice, no source)."""
SAME_LEFT_M = 0.05


@dataclass(frozen=True)
class _Put:
    """The result as it is put right, and whether what was denied is what was written."""

    result: Result
    denied: bool


def written_wrong(desk: Desk, known: Known, text: str) -> tuple[Said, str] | None:
    """The last shot told of put right, with the rest of the turn; None where nothing written is said to be wrong."""
    if not known.told:
        return None
    player = desk.bag.player
    of_now = told_of_now(text, partial(understand, unit=player.distances_in, pace_m=player.pace_m))
    found = log_correction(of_now)
    if found is None or (found.apologises and not known.played):
        return None
    shot, put = _of_which(known, found, player)
    if put is None:
        return None
    of_this = known.played or _is_nearer(put.result, shot.result, known.situation)
    last_said_again = found.says_again and known.played and shot is known.told[0]
    if not (
        put.denied or found.asks_to or (found.may_ask_to and of_this) or last_said_again or found.apologises
    ):
        return None
    heard = Understanding(heard=found.said, intent=Intent.RESULT, result=put.result)
    putting = shot.situation.lie is Lie.GREEN
    said = acknowledgement(put.result, None, heard, player, putting=putting)
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


def _of_which(known: Known, found: LogCorrection, player: Player) -> tuple[ToldShot, _Put | None]:
    """The last shot of which what is denied was written, or else the last of all, with its result put right."""
    each = [(shot, _put_right(shot.result, found, player)) for shot in known.told]
    return next(((shot, put) for shot, put in each if put is not None and put.denied), each[0])


def _with_it(known: Known, shot: ToldShot, result: Result) -> Known:
    kept = tuple(replace(each, result=result) if each is shot else each for each in known.told)
    is_last = known.played and shot is known.told[0]
    return known.changed(told=kept, result=result if is_last else known.result)


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
    sides = list(dict.fromkeys(_SIDE[each] for each in found.was if isinstance(each, str)))
    not_sides = [_SIDE[each] for each in found.was_not if isinstance(each, str)]
    unit = _unit_of([*found.was, *found.was_not], player)
    lengths_m = {_metres(each, unit, player) for each in found.was if isinstance(each, Figure)}
    not_lengths = [each for each in found.was_not if isinstance(each, Figure)]
    if len(lengths_m) > 1 or unit is None:
        return None
    kept = [
        side
        for side in result.side
        if side not in not_sides and not any(_on_one_axis(side, each) for each in sides)
    ]
    now = result.model_copy(update={"side": (*kept, *sides)}) if sides else result
    for length_m in lengths_m:
        now = now.model_copy(update={"distance_m": length_m})
    denied = any(side in result.side for side in not_sides) or any(
        _was_written(each, result, unit, player) for each in not_lengths
    )
    return _Put(now, denied)


def _on_one_axis(one: Side, other: Side) -> bool:
    return any(one in axis and other in axis for axis in (_ACROSS, _ALONG))


def _metres(figure: Figure, unit: Unit | None, player: Player) -> float:
    counted = Unit(figure.unit) if figure.unit is not None else unit or player.putt_unit
    return to_metres(figure.value, counted, player.pace_m)


def _was_written(denied: Figure, result: Result, unit: Unit, player: Player) -> bool:
    if result.distance_m is None:
        return False
    counted = Unit(denied.unit) if denied.unit is not None else unit
    rounded = _AS_SAID * (_HAND_CM if counted is Unit.CENTIMETRES else 1.0)
    return abs(from_metres(result.distance_m, counted, player.pace_m) - denied.value) < rounded


def _is_nearer(told: Result, written: Result, there: Situation) -> bool:
    """Whether a length is more like what was written of the last shot than how far the one in play is."""
    if None in (told.distance_m, written.distance_m, there.pin_m):
        return False
    assert told.distance_m is not None and written.distance_m is not None and there.pin_m is not None
    if told.distance_m <= 0.0 or written.distance_m <= 0.0 or there.pin_m <= 0.0:
        return False
    return abs(log(told.distance_m / written.distance_m)) <= abs(log(told.distance_m / there.pin_m))


def _unit_of(told: Sequence[str | Figure], player: Player) -> Unit | None:
    """What a length with no unit is counted in: as the others are, or else putts; None where one is no length."""
    named = [each.unit for each in told if isinstance(each, Figure) and each.unit is not None]
    if not set(named) <= {unit.value for unit in Unit}:
        return None
    return Unit(named[0]) if named else player.putt_unit
