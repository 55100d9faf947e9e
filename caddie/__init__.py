"""A caddie for golf's short game: from what the player sees to a shot they can commit to.

``understand`` reads a sentence, ``advise`` plans a :class:`Situation` for a :class:`Bag`, ``answer`` does both
and puts the plan into words. Lengths are in metres, chances and shares from 0 to 1, and the unit stands in the
name (``carry_m``). What cannot be done is told by :class:`CaddieError`, in one line.

>>> from caddie import advise, load_bag, understand
>>> facts = understand("seventy yards, fairway, flag in the middle").situation
>>> round(facts.pin_m, 1), facts.lie.value
(64.0, 'fairway')
>>> shot = advise(facts, load_bag()).chosen
>>> shot.club, shot.swing
('52', 'just short of chest')
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from caddie.bag import Bag, load_bag
    from caddie.errors import CaddieError
    from caddie.plan.candidates import Only
    from caddie.plan.choose import advise
    from caddie.plan.option import Plan
    from caddie.situation import Situation
    from caddie.talk.answer import answer
    from caddie.words import understand

__all__ = [
    "Bag",
    "CaddieError",
    "Only",
    "Plan",
    "Situation",
    "advise",
    "answer",
    "load_bag",
    "understand",
]
__version__ = "0.1.0"

# Imported when first used, so that the command line starts at once.
_ROOMS = {
    "Bag": "caddie.bag",
    "CaddieError": "caddie.errors",
    "Only": "caddie.plan.candidates",
    "Plan": "caddie.plan.option",
    "Situation": "caddie.situation",
    "advise": "caddie.plan.choose",
    "answer": "caddie.talk.answer",
    "load_bag": "caddie.bag",
    "understand": "caddie.words",
}


def __getattr__(name: str) -> Any:
    if name not in _ROOMS:
        raise AttributeError(f"module 'caddie' has no attribute {name!r}")
    return getattr(import_module(_ROOMS[name]), name)


def __dir__() -> list[str]:
    return sorted([*globals(), *__all__])
