"""What a conversation keeps of the facts told: to whom each belongs, and what becomes of it when play goes on.

One table, and :func:`carried_on` which uses it. What is told at a step is laid over what it leaves.
"""

from enum import Enum, StrEnum
from typing import Any

from caddie.situation import Green, Hazard, HazardKind, Lie, Side, Situation, Wind


class Of(Enum):
    """To whom a fact belongs."""

    BALL = "ball"
    """Where it lies and how: gone with the next place."""
    HOLE = "hole"
    """The green and what is around it, as seen from the side that the ball is played from."""
    DAY = "day"
    """The air and how the greens are kept."""


class Step(StrEnum):
    """What happened since the facts were told."""

    AGAIN = "again"
    """Told again or put right: the ball has not moved."""
    STILL_SHORT = "still_short"
    """Played, with most of the way still to go: the same line, from nearer."""
    STAYED_IN_SAND = "stayed_in_sand"
    """Played, and in the same bunker still."""
    NEARER = "nearer"
    """Played, and at the green or not known where."""
    OVER = "over"
    """Played past the flag and off the green: the next is played back."""
    PUTT = "putt"
    """Not played: told to be on the green."""
    ANOTHER_SHOT = "another_shot"
    """From farther away than the last: mostly another hole, which plays another way."""
    NEXT_HOLE = "next_hole"


class Fate(Enum):
    """What becomes of a fact."""

    STAYS = "stays"
    GOES = "goes"
    TURNS = "turns"
    """Stays, as seen from the other side."""
    AHEAD = "ahead"
    """Trouble: stays where it is not passed."""
    ON_IT = "on_it"
    """Trouble: the shapes of the green stay."""


_S, _G, _T, _A, _O = Fate.STAYS, Fate.GOES, Fate.TURNS, Fate.AHEAD, Fate.ON_IT
_READ = (_S, _G, _G, _G, _G, _S, _G, _G)
"""How the green falls and the grass lies: of one line on it, so a ball from elsewhere has a read of its own."""
_DAY = (_S, _S, _S, _S, _S, _S, _S, _S)
_BALL = (_S, _G, _G, _G, _G, _G, _G, _G)
_STEPS = (
    Step.AGAIN, Step.STILL_SHORT, Step.STAYED_IN_SAND, Step.NEARER, Step.OVER, Step.PUTT, Step.ANOTHER_SHOT,
    Step.NEXT_HOLE,
)  # fmt: skip
_ROWS: dict[str, tuple[Of, tuple[Fate, ...]]] = {
    # fact: whose it is; again, still short, stayed in sand, nearer, over, putt, another shot, next hole
    "pin_m": (Of.BALL, (_S, _G, _G, _G, _G, _S, _G, _G)),
    "lip_m": (Of.HOLE, (_S, _G, _S, _G, _G, _G, _G, _G)),
    "lip_away_m": (Of.HOLE, (_S, _G, _S, _G, _G, _G, _G, _G)),
    "deep_bunker": (Of.HOLE, (_S, _G, _S, _G, _G, _G, _G, _G)),
    "sand": (Of.HOLE, (_S, _G, _S, _G, _G, _G, _G, _G)),
    "room_m": (Of.HOLE, (_S, _S, _S, _G, _G, _G, _G, _G)),
    "behind_m": (Of.HOLE, (_S, _S, _S, _G, _G, _G, _G, _G)),
    "pin_position": (Of.HOLE, (_S, _S, _S, _G, _T, _S, _G, _G)),
    "hazards": (Of.HOLE, (_S, _A, _S, _G, _T, _O, _G, _G)),
    "open_sides": (Of.HOLE, (_S, _S, _S, _G, _G, _G, _G, _G)),
    "green.depth": (Of.HOLE, (_S, _S, _S, _S, _G, _G, _G, _G)),
    "green.width": (Of.HOLE, (_S, _S, _S, _S, _S, _S, _G, _G)),
    "green.fall": (Of.HOLE, _READ),
    "green.fall_slope": (Of.HOLE, _READ),
    "green.side_fall": (Of.HOLE, _READ),
    "green.side_slope": (Of.HOLE, _READ),
    "green.grain": (Of.HOLE, _READ),
    "green.double_break": (Of.HOLE, _READ),
    "green.break_part": (Of.HOLE, _READ),
    "green.borrow": (Of.HOLE, _READ),
    "green.stimp_ft": (Of.DAY, _DAY),
    "green.firmness": (Of.DAY, _DAY),
    "wind.from_": (Of.DAY, (_S, _S, _S, _S, _T, _G, _G, _G)),
    "wind.speed_m_s": (Of.DAY, (_S, _S, _S, _S, _S, _G, _S, _S)),
    "wind.known_by": (Of.DAY, (_S, _S, _S, _S, _S, _G, _S, _S)),
}
"""Facts that outlast the ball's place at some step; every other is the ball's, and goes with it."""

_BEFORE_THE_BALL = (HazardKind.TREES, HazardKind.ROUGH)
"""Trouble that is mostly told because the ball lay behind it, and is passed by then."""
GREENS_OWN = (HazardKind.RIDGE, HazardKind.TIER, HazardKind.SWALE, HazardKind.UPSLOPE)
_AROUND_THE_GREEN = (HazardKind.BUNKER, HazardKind.WATER, HazardKind.OUT_OF_BOUNDS)
AT_THE_GREEN = (Lie.FRINGE, Lie.BUNKER, Lie.PLUGGED)
STILL_TO_GO = 0.5
"""A ball with at least this share of the way left has the trouble of that way before it."""
SAME_TOLD = 0.005
"""Share by which a length told again may differ: it was counted in another unit."""
_TURNED = {
    "front": "back", "back": "front", "left": "right", "right": "left", "ahead": "behind", "behind": "ahead",
    "short": "long",
}  # fmt: skip


def owner(fact: str) -> Of:
    """Whose a fact is, by its dotted name."""
    return _ROWS[fact][0] if fact in _ROWS else Of.BALL


def fate(fact: str, step: Step) -> Fate:
    """What becomes of a fact at a step."""
    fates = _ROWS[fact][1] if fact in _ROWS else _BALL
    return fates[_STEPS.index(step)]


def carried_on(before: Situation, step: Step, now: Situation | None = None) -> Situation:
    """What still holds of the facts told before, with ``now`` told of the ball's next place.

    >>> from caddie.situation import WindFrom
    >>> told = Situation(pin_m=40.0, lie=Lie.FAIRWAY, wind=Wind(from_=WindFrom.BEHIND, speed_m_s=4.0))
    >>> carried_on(told, Step.OVER).wind.from_.value, carried_on(told, Step.OVER).lie
    ('ahead', None)
    """
    now = now or Situation()
    parts: dict[str, Any] = {"green": {}, "wind": {}}
    for fact in facts_of(before):
        part, _, name = fact.rpartition(".")
        value = getattr(getattr(before, part), name) if part else getattr(before, name)
        kept = _kept(value, fate(fact, step), before, now)
        if part:
            parts[part][name] = kept
        else:
            parts[name] = kept
    room_m = _room_m(before) if fate("room_m", step) is Fate.STAYS else None
    return Situation(
        **{name: value for name, value in parts.items() if name not in ("green", "wind", "room_m")},
        room_m=room_m,
        green=Green(**parts["green"]),
        wind=Wind(**parts["wind"]),
    )


def facts_of(situation: Situation) -> tuple[str, ...]:
    """The dotted names of the facts that were told."""
    empty = Situation()
    told = []
    for name in type(situation).model_fields:
        value = getattr(situation, name)
        if name in ("green", "wind"):
            told += [
                f"{name}.{each}" for each in type(value).model_fields if getattr(value, each) is not None
            ]
        elif value != getattr(empty, name):
            told.append(name)
    return tuple(told)


def _room_m(before: Situation) -> float | None:
    """The green before the flag, told or by both its ends."""
    if before.room_m is not None or before.pin_m is None or before.front_m is None:
        return before.room_m
    room_m = before.pin_m - before.front_m
    return room_m if room_m > 0 else None


def _kept(value: Any, fate: Fate, before: Situation, now: Situation) -> Any:
    match fate:
        case Fate.STAYS:
            return value
        case Fate.TURNS:
            return _turned(value)
        case Fate.AHEAD:
            return _not_passed(value, before, now)
        case Fate.ON_IT:
            return tuple(hazard for hazard in value if hazard.kind in GREENS_OWN)
        case Fate.GOES:
            return () if isinstance(value, tuple) else None


def _turned(value: Any) -> Any:
    """Seen from beyond the flag: a wind behind is ahead, a bunker passed lies behind the flag, the left is right."""
    if isinstance(value, tuple):
        around = (h for h in value if h.kind in _AROUND_THE_GREEN and h.side not in (None, Side.LONG))
        return tuple(Hazard(kind=h.kind, side=Side(_TURNED[h.side.value]), called=h.called) for h in around)
    words = [_TURNED.get(word, word) for word in value.value.split("_")]
    return type(value)("_".join(words))


def _not_passed(hazards: tuple[Hazard, ...], before: Situation, now: Situation) -> tuple[Hazard, ...]:
    """Trouble that the ball has before it still, with what is left to carry it."""
    if now.lie in AT_THE_GREEN or now.pin_m is None or before.pin_m is None:
        return ()
    gone_m = before.pin_m - now.pin_m
    far = now.pin_m >= STILL_TO_GO * before.pin_m
    ahead = []
    for hazard in hazards:
        left_m = None if hazard.carry_m is None else hazard.carry_m - gone_m
        if (
            hazard.kind in _BEFORE_THE_BALL
            or (left_m is None and not far)
            or (left_m is not None and left_m <= 0)
        ):
            continue
        ahead.append(hazard.model_copy(update={"carry_m": left_m}))
    return tuple(ahead)


def has_news(told: Situation, before: Situation) -> bool:
    """Whether facts are told that were not known, whatever length stands with them."""
    return facts_of(news_of(told.model_copy(update={"pin_m": None}), before)) != ()


def news_of(now: Situation, before: Situation) -> Situation:
    """What is told without the facts that are known already.

    >>> told = Situation(pin_m=40.0, lie=Lie.FAIRWAY)
    >>> news_of(Situation(pin_m=40.0, front_m=30.0), told) == Situation(front_m=30.0)
    True
    """
    update: dict[str, Any] = {}
    for name in type(now).model_fields:
        value, known = getattr(now, name), getattr(before, name)
        if name in ("green", "wind"):
            again = [
                each for each in type(value).model_fields if getattr(value, each) == getattr(known, each)
            ]
            update[name] = value.model_copy(update=dict.fromkeys(again))
        elif name == "hazards":
            update[name] = tuple(
                hazard for hazard in value if not any(_is_the_same(hazard, k) for k in known)
            )
        elif value == known or (isinstance(value, float) and is_same_length(value, known)):
            update[name] = () if isinstance(value, tuple) else None
    return now.model_copy(update=update)


def is_same_length(told_m: float, known_m: float | None) -> bool:
    """Whether a length is one that is known, perhaps counted in another unit."""
    return known_m is not None and abs(told_m - known_m) <= SAME_TOLD * abs(known_m)


def _is_the_same(told: Hazard, known: Hazard) -> bool:
    """Whether trouble told adds nothing to what is known of it."""
    return told.kind is known.kind and all(
        getattr(told, name) in (None, getattr(known, name)) for name in type(told).model_fields
    )
