"""What a conversation knows: the situation so far, the plan, and what was asked, said and written."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from caddie.bag import Bag
from caddie.bag.models import Handed
from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.notes.models import HoleNote
from caddie.notes.notebook import Notebook
from caddie.plan.candidates import ANY, Only
from caddie.plan.option import Option, Plan
from caddie.reply.cue import Cue
from caddie.situation import Fall, Frozen, Green, Hazard, HazardKind, Lie, Result, Situation
from caddie.talk import lines
from caddie.talk.memo import Memo
from caddie.units import Unit
from caddie.words import Understanding

ASKED_OF_THE_SHOT = "asked"
"""What a turn that asks about the shot in play is called on the wire."""
FACTS_READ_BACK = "known"
"""So is one that asks what is known of it so far."""
_FALLS = ("fall", "fall_slope", "side_fall", "side_slope")


@dataclass(frozen=True)
class Question:
    """A question that waits for its answer."""

    field: str
    """The fact asked for, by its dotted name, or a stop of the walk to the ball."""
    text: str
    repeated: bool = False
    """Said a second time, as it will not be a third."""


@dataclass(frozen=True)
class Day:
    """What holds for the whole conversation, whatever shot is talked about."""

    out: tuple[str, ...] = ()
    """Ids of clubs that the player does not have today."""
    unit: Unit | None = None
    """What the player counts distances in, as last heard; None is the bag's."""
    putt_unit: Unit | None = None
    """What the player counts putts in, as last heard."""
    handed: Handed | None = None
    """Which hand the player says they play with; None is the bag's."""
    told_no_log: bool = False
    """Whether it was said that nothing is kept."""
    course: str | None = None
    """The course being played, as the player calls it."""
    hole: int | None = None
    """The hole being played, as last said."""
    before_round: tuple[HoleNote, ...] = ()
    """Holes noted during a competition round, as their notes were before it."""
    offered: frozenset[str] = frozenset()
    """Words that were offered to be remembered, and are not offered again."""


@dataclass(frozen=True)
class ToldShot:
    """A shot whose result was told: what may be put right of it while the next one is in play."""

    number: int | None
    """The log's number of it; None where nothing is kept."""
    situation: Situation
    result: Result


@dataclass(frozen=True)
class Known:
    """Everything a turn builds on; each turn makes a new one, so undo is a step back."""

    situation: Situation = field(default_factory=Situation)
    of_this_green: frozenset[str] = frozenset()
    """How the green is that was told of this one alone, by the names of its facts: it is no other's."""
    sentence: str = ""
    """What was said of the situation, turn by turn."""
    only: Only = ANY
    """The club the player asked for with the situation."""
    plan: Plan | None = None
    """The plan in play; its chosen shot is the one that will be played."""
    advised: Option | None = None
    """What was advised, which the player may have changed for another shot."""
    cue: Cue | None = None
    other: Option | None = None
    """The shot of the last what-if or alternative, until something else is said."""
    supposed: Situation | None = None
    """The circumstances last asked about, which are no facts until the player takes them for such."""
    verdict: str = ""
    """How that shot compares with the one advised."""
    before: Option | None = None
    """What was advised before the facts last changed."""
    spoken: str = ""
    """The last reply worth repeating."""
    short: str = ""
    """The same in a few words."""
    replied: str = ""
    """The last reply as it was said, and in the lines behind it as it was written."""
    question: Question | None = None
    """Asked in the last turn and not answered yet."""
    asked: tuple[str, ...] = ()
    """Fields already asked about for this shot."""
    swung: bool = False
    """Whether the player was ready in the last turn: what is told next is mostly what became of the shot."""
    perhaps: Understanding | None = None
    """What was told of a stroke that may not have been made, while it is asked about."""
    walk: tuple[str, ...] | None = None
    """Stops of the walk to the ball still to come; None when no stock is being taken."""
    said_of_other: str = ""
    """The last reply that told of the shot compared; while it is the last of all, questions are about that shot."""
    twin_m: float | None = None
    """The distance that sounds like the one understood."""
    shot_logged: int | None = None
    """The log's number of the last shot written in this situation."""
    written: int | None = None
    """The log's number of the last shot written in this talk, of whatever situation."""
    told: tuple[ToldShot, ...] = ()
    """The last shots of this talk whose results were told, the newest first."""
    result: Result | None = None
    """What became of the shot; a shot with a result is over."""
    front_left_m: float | None = None
    """How far short of the green the ball ended, when just that was told."""
    hole_over: bool = False
    """Whether the shot was holed, or it was told in how many strokes: the next one is on another hole."""
    walked: tuple[str, ...] = ()
    """Stops of the walk to the ball that were asked about already."""
    pins_m: tuple[float, ...] = ()
    """Distances to the flag told of this shot, those that were put right since among them."""
    gone: frozenset[HazardKind] = frozenset()
    """Trouble of this shot that was said not to be there."""
    day: Day = field(default_factory=Day)
    memo: Memo = field(default_factory=Memo)
    """What was last said of notes."""

    @property
    def played(self) -> bool:
        """Whether the shot is over."""
        return self.result is not None

    def afresh(self, **updates: Any) -> "Known":
        """Nothing known but the day and these parts."""
        return Known(day=self.day, written=self.written, told=self.told, **updates)

    def on_the_day(self, **updates: Any) -> "Known":
        """A copy with these parts of the day replaced."""
        return replace(self, day=replace(self.day, **updates))

    def changed(self, **updates: Any) -> "Known":
        """A copy with these parts replaced."""
        return replace(self, **updates)


MOST_TOLD = 4
"""Shots of a talk that may still be put right."""


def with_told(known: Known, shot: ToldShot) -> tuple[ToldShot, ...]:
    """The shots told of, with this one in the place of what was told of it before, or first of all."""
    rest = [each for each in known.told if shot.number is None or each.number != shot.number]
    return (shot, *rest)[:MOST_TOLD]


@dataclass(frozen=True)
class Desk:
    """What a conversation works with."""

    bag: Bag
    mode: Mode = Mode.PRACTICE
    seed: int = 1
    log: Log | None = None
    log_problem: str | None = None
    """Why there is no log although one was wanted."""
    cue_weights: Mapping[str, float] = field(default_factory=dict)

    notebook: Notebook | None = None
    """What is remembered; None remembers nothing."""
    every_club: Bag | None = None
    """The bag with the clubs that are not there today, when some are not."""
    opens: Callable[[str], None] | None = None
    """Told the sentence that the reply will begin with, where that is certain before the shot is planned."""

    @property
    def whole_bag(self) -> Bag:
        """The bag with every club the player owns."""
        return self.every_club or self.bag

    def on(self, day: Day) -> "Desk":
        """The desk of the day: the clubs that are there, and the unit the player speaks."""
        bag = whole = self.whole_bag
        player = bag.player
        counted = {
            "distances_in": day.unit or player.distances_in,
            "putts_in": day.putt_unit or player.putts_in,
            "handed": day.handed or player.handed,
        }
        bag = bag.model_copy(update={"player": player.model_copy(update=counted)})
        if day.out:
            clubs = tuple(club for club in bag.clubs if club.id not in day.out)
            bag = bag.model_copy(update={"clubs": clubs})
        return replace(self, bag=bag, every_club=whole)


@dataclass(frozen=True)
class Said:
    """What a turn comes to: the reply, and what is known after it."""

    known: Known
    spoken: str
    written: str | None = None
    """None when it is what is spoken."""
    advice: dict[str, Any] | None = None
    logged: bool = False
    over: bool = False
    mode: Mode | None = None
    """The mode to change to."""
    intent: str | None = None
    """What the turn was, where the words alone did not tell."""
    step: bool = False
    """Whether undo comes back to what was known before."""
    brief: str | None = None
    """The same in fewer words, for when more was asked in one breath; None when it has no shorter form."""
    settles: bool = False
    """Whether it names the shot to play in the place of one that was planned earlier in the same breath."""
    shot: str = ""
    """Of advice the shot alone and where it goes, which is said before how it is played."""
    things: int = 1
    """How many things it answers; more than one may take more words."""


def no_shot(known: Known) -> Said:
    """Nothing to answer from: the open question once more, or the shot is asked for, after one where it lies now."""
    if known.question is not None and known.plan is None:
        return Said(known, known.question.text)
    if known.hole_over:
        return Said(known, lines.HOLE_OVER)
    return Said(known, lines.WHERE_NOW if known.played else lines.NOTHING_KNOWN)


Handler = Callable[[Desk, Known, Understanding], Said]
"""One kind of turn: from the desk, what is known and what was heard to the reply and what is known then."""


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
    things: int = 1
    """How many things said in the turn are answered, for which there are more words than for one."""


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
    if (before.lie, now.lie) == (Lie.PLUGGED, Lie.BUNKER) and "lie" not in corrected:
        # "It's in the bunker" of a ball that was told to be plugged there.
        said["lie"] = Lie.PLUGGED
    if now.pin_m is not None and before.pin_m is not None and now.pin_m != before.pin_m:
        said = {**_lengths_kept(before, now), **said}
    return before.model_copy(update=said)


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
    if now.fall is None and now.side_fall is None:
        # A steepness alone belongs to the fall that is known.
        axis = "across" if now.side_slope is not None or "along" not in falls else "along"
        slope = now.side_slope if now.side_slope is not None else now.fall_slope
        if slope is not None and axis in falls:
            falls[axis] = (falls[axis][0], slope)
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
    old = next((each for each in before if (each.kind, each.side) == (new.kind, new.side)), None)
    return new if old is None else old.model_copy(update=new.model_dump(exclude_none=True))


def _differs(old: Any, new: Any) -> bool:
    """Whether two pieces of trouble are not the same; of tiers a green is told to have one."""
    if old.kind == new.kind and new.kind in _ONE_OF_A_GREEN:
        return False
    if old.kind == new.kind and old.side is None and old.carry_m is None:
        # Told before with no place, now with one.
        return False
    return (old.kind, old.side) != (new.kind, new.side)
