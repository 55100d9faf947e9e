"""What was known of a shot, with what is said now laid over it."""

from typing import Any

from caddie.situation import Fall, Frozen, Green, Hazard, HazardKind, Lie, Situation

_FALLS = ("fall", "fall_slope", "side_fall", "side_slope")


def merged(before: Situation, now: Situation, corrected: tuple[str, ...] = ()) -> Situation:
    """What was known with what was just said laid over it.

    A field said now replaces what was known; trouble is added to, unless it is corrected, and a fall to the
    side stands beside one toward or away. Of a new distance to the flag the front edge and the green before the
    flag stay as they were told, where both are within it.
    """
    said: dict[str, Any] = {"green": _greens(before.green, now.green)}
    for name in type(now).model_fields:
        value = getattr(now, name)
        if name == "wind":
            said[name] = before.wind.model_copy(update=_parts_said(value))
        elif name == "hazards" and value and "hazards" not in corrected:
            kept = [old for old in before.hazards if all(_differs(old, new) for new in value)]
            said[name] = (*kept, *(_with_its_figures(new, before.hazards) for new in value))
        elif name != "green" and value not in (None, ()):
            said[name] = value
    if now.lie is not None:
        said.update(lie_guessed=now.lie_guessed)
    if (before.lie, now.lie) == (Lie.PLUGGED, Lie.BUNKER) and "lie" not in corrected:
        # "It's in the bunker" of a ball that was told to be plugged there.
        said["lie"] = Lie.PLUGGED
    if now.pin_m is not None and before.pin_m is not None and now.pin_m != before.pin_m:
        said = {**_lengths_kept(before, now), **said}
    if (sum_m := _front_and_room(now)) is not None and before.pin_m is not None:
        said["pin_m"] = before.pin_m if abs(sum_m - before.pin_m) <= _SAME * before.pin_m else sum_m
    return before.model_copy(update=said)


_SAME = 0.1
"""Share by which a distance to the flag may differ from that over the front and still be the one that was told."""


def _front_and_room(now: Situation) -> float | None:
    """ "Four yards of fringe and then twelve of green": how far the flag is, told in its parts alone [m]."""
    if now.pin_m is not None or now.front_m is None or now.room_m is None:
        return None
    return now.front_m + now.room_m


def _lengths_kept(before: Situation, now: Situation) -> dict[str, Any]:
    """The front edge and the green before the flag, for a new distance to it: what was told of one of them."""
    told = {"front_m": now.front_m, "room_m": now.room_m}
    pin_m = now.pin_m or 0.0
    if told != {"front_m": None, "room_m": None}:
        return told
    if before.front_m is not None and before.front_m < pin_m:
        return {**told, "front_m": before.front_m}
    if before.room_m is not None and before.room_m < pin_m:
        return {**told, "room_m": before.room_m}
    return told


def _greens(before: Green, now: Green) -> Green:
    """The green as known with what was just said of it; each axis keeps its own fall."""
    update = {name: value for name, value in _parts_said(now).items() if name not in _FALLS}
    if now.borrow is None and _reads_anew(before, now):
        update["borrow"] = None
    if now.break_part is None and "across" in _falls(now):
        update.update(break_part=None)
    if now.fall is None and now.side_fall is None and now.fall_slope == 0:
        if now.borrow is not None and now.borrow.aim_m == 0 and "along" in _falls(before):
            # "Straight" is said of the sides: up or down stays.
            fall, slope = _falls(before)["along"]
            kept = {"fall": fall, "fall_slope": slope, "side_fall": None, "side_slope": None}
            return before.model_copy(update=update | kept)
        # "Flat" takes every fall away.
        flat = {"fall": None, "fall_slope": 0.0, "side_fall": None, "side_slope": now.side_slope}
        return before.model_copy(update=update | flat)
    falls = _falls(before) | _falls(now)
    if "across" not in _falls(before) and falls.get("across", (None, 0.0))[1] is None:
        # "Breaks a lot" was told before its side.
        falls["across"] = (falls["across"][0], before.side_slope)
    if now.fall is None and now.side_fall is None:
        # A steepness alone belongs to the fall that is known.
        axis = "across" if now.side_slope is not None or "along" not in falls else "along"
        slope = now.side_slope if now.side_slope is not None else now.fall_slope
        if slope is not None and axis in falls:
            falls[axis] = (falls[axis][0], slope)
        elif now.side_slope:
            update["side_slope"] = now.side_slope
    if falls:
        found = [falls[axis] for axis in ("along", "across") if axis in falls]
        values = [part for fall in [*found, (None, None)][:2] for part in fall]
        update |= dict(zip(_FALLS, values, strict=True))
    return before.model_copy(update=update)


def _reads_anew(before: Green, now: Green) -> bool:
    """Whether a line told before no longer holds: a break after "straight", or how steep it falls to the side."""
    across = _falls(now).get("across")
    straight = before.borrow is not None and before.borrow.aim_m == 0
    return now.side_slope is not None or (across is not None and (straight or across[1] is not None))


def _falls(green: Green) -> dict[str, tuple[Fall | None, float | None]]:
    """Fall and slope by axis, as far as they were said."""
    pairs = ((green.fall, green.fall_slope), (green.side_fall, green.side_slope))
    return {
        "along" if fall in (Fall.TOWARD, Fall.AWAY) else "across": (fall, slope)
        for fall, slope in pairs
        if fall
    }


def _parts_said(part: Frozen) -> dict[str, Any]:
    return {key: value for key in type(part).model_fields if (value := getattr(part, key)) is not None}


_ONE_OF_A_GREEN = (HazardKind.TIER, HazardKind.FALSE_FRONT)


def _with_its_figures(new: Hazard, before: tuple[Hazard, ...]) -> Hazard:
    """Trouble named again, with the figures that were told of it before and are not told anew."""
    same = (each for each in before if each.kind is new.kind and each.side in (new.side, None))
    old = next(same, None)
    return new if old is None else old.model_copy(update=new.model_dump(exclude_none=True))


def _differs(old: Any, new: Any) -> bool:
    """Whether two pieces of trouble are not the same; of tiers a green is told to have one."""
    if old.kind == new.kind and new.kind in _ONE_OF_A_GREEN:
        return False
    if old.kind == new.kind and old.side is None and old.carry_m is None:
        # Told before with no place, now with one.
        return False
    return (old.kind, old.side) != (new.kind, new.side)
