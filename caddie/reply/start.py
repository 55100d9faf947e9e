"""What a reply begins with: how far it is, as the player told it."""

from caddie.bag import Bag
from caddie.plan.assume import is_only_to_get_out
from caddie.plan.option import Plan
from caddie.reply.phrases import flag_said


def start_said(plan: Plan, bag: Bag, *, curt: bool) -> str:
    """The distance as told; where none was told and none would change the shot, that the flag does not matter.

    ``curt`` where a drop or the like comes next, and takes the words: the length that was told, alone.
    """
    situation = plan.situation
    assert situation.pin_m is not None
    if "pin_m" not in plan.assumed:
        return flag_said(situation.pin_m, bag)
    if is_only_to_get_out(situation):
        return "forget the flag"
    return _parts_told(plan, bag, curt=curt) or flag_said(situation.pin_m, bag)


def _parts_told(plan: Plan, bag: Bag, *, curt: bool) -> str:
    """How far the green is, and the flag on it, where no more was told than that: no sum that nobody said."""
    situation = plan.situation
    front_m = None if "front_m" in plan.assumed else situation.front_m
    room_m = None if "room_m" in plan.assumed else situation.room_m
    if curt and (front_m or room_m):
        return flag_said(front_m or room_m or 0.0, bag)
    on = f", {flag_said(room_m, bag)} on" if room_m else ""
    if front_m:
        return f"{flag_said(front_m, bag)} to the green{on}"
    return f"{flag_said(room_m, bag)} of green" if room_m else ""
