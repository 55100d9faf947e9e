"""The advice as it goes on the wire: the chosen option's fields with its cue, its reply and its reasons."""

from typing import Any

from caddie.bag import Bag
from caddie.plan.option import Option, Plan
from caddie.reply.cue import Cue, cue_for
from caddie.reply.spoken import speak
from caddie.reply.written import write
from caddie.words import Understanding


def advice_of(
    plan: Plan,
    bag: Bag,
    cue: Cue | None = None,
    spoken: str | None = None,
    heard: Understanding | None = None,
) -> dict[str, Any]:
    """The chosen option's fields with its cue, its spoken and written reply and its reasons."""
    cue = cue or cue_for(plan, bag)
    return {
        **option_fields(plan.chosen),
        "cue": cue.say,
        "spoken": spoken or speak(plan, bag, cue, left_out=heard.numbers_left_over if heard else ()),
        "written": write(plan, bag, cue, heard.left_over if heard else ()),
        "reasons": list(plan.reasons),
    }


def option_fields(option: Option) -> dict[str, Any]:
    """An option as it goes on the wire; putts carry a pace instead of carry and run."""
    absent = {"carry_m", "run_m", "land_short_of_pin_m"} if option.pace_m is not None else set()
    putting = {"pace_m", "make", "three_putt", "line"} if option.pace_m is None else set()
    return option.model_dump(mode="json", exclude=absent | putting)
