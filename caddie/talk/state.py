"""What a conversation knows: the situation so far, the plan, and what can be undone."""

from dataclasses import dataclass, field, replace
from typing import Any

from caddie.log.shot import Mode
from caddie.plan.shot import Plan
from caddie.situation import Frozen, Situation


@dataclass(frozen=True)
class Known:
    """Everything a turn builds on; each turn makes a new one, so undo is a step back."""

    situation: Situation = field(default_factory=Situation)
    plan: Plan | None = None
    sentence: str = ""
    """What was said of the situation, turn by turn."""
    spoken: str = ""
    question: str | None = None
    """Asked in the last turn and not answered yet."""
    field_asked: str | None = None
    shot_logged: int | None = None
    """The log's number of the last shot written in this situation."""

    def changed(self, **updates: Any) -> "Known":
        """A copy with these parts replaced."""
        return replace(self, **updates)


class Turn(Frozen):
    """One reply: what is said, what is shown, and what happened."""

    heard: str
    intent: str
    mode: Mode
    spoken: str
    written: str
    question: str | None = None
    advice: dict[str, Any] | None = None
    situation: Situation | None = None
    logged: bool = False
    """True only when the shot is safely on disk."""
    over: bool = False
    """The player ended the conversation."""


def merged(before: Situation, now: Situation, corrected: tuple[str, ...] = ()) -> Situation:
    """What was known with what was just said laid over it.

    A field said now replaces what was known; trouble is added to, unless it is corrected. A new distance
    to the flag drops the distances that were derived with the old one.
    """
    said: dict[str, Any] = {}
    for name in type(now).model_fields:
        value = getattr(now, name)
        if name in ("green", "wind"):
            said[name] = getattr(before, name).model_copy(
                update={
                    key: part for key in type(value).model_fields if (part := getattr(value, key)) is not None
                }
            )
        elif name == "hazards" and value and "hazards" not in corrected:
            kept = [old for old in before.hazards if all(_differs(old, new) for new in value)]
            said[name] = (*kept, *value)
        elif value not in (None, ()):
            said[name] = value
    if now.pin_m is not None and before.pin_m is not None and now.pin_m != before.pin_m:
        said = {"front_m": now.front_m, "room_m": now.room_m, **said}
    return before.model_copy(update=said)


def _differs(old: Any, new: Any) -> bool:
    return (old.kind, old.side) != (new.kind, new.side)
