"""What a conversation knows: the situation so far, the plan, and what was asked, said and written."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from caddie.bag import Bag
from caddie.bag.models import Handed
from caddie.log.shot import Mode, Shot
from caddie.log.store import Log
from caddie.notes.models import HoleNote
from caddie.notes.notebook import Notebook
from caddie.plan.candidates import ANY, Only
from caddie.plan.option import Option, Plan
from caddie.reply.cue import Cue
from caddie.situation import Frozen, HazardKind, Result, Situation
from caddie.talk import lines
from caddie.talk.memo import Memo
from caddie.units import Unit
from caddie.words import Understanding

ASKED_OF_THE_SHOT = "asked"
"""What a turn that asks about the shot in play is called on the wire."""
FACTS_READ_BACK = "known"
"""So is one that asks what is known of it so far."""


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
    several: bool = False
    """Whether several balls are hit from one place, as on a practice green."""
    chips: bool = False
    """Whether chips and pitches are practised there, and no putts."""


@dataclass(frozen=True)
class ToldShot:
    """A shot whose result was told: what may be put right of it while the next one is in play."""

    number: int | None
    """The log's number of it; None where nothing is kept."""
    situation: Situation
    result: Result


@dataclass(frozen=True)
class LastAnswer:
    """A turn with its answer as worked out, and as given: for the next one to be held against."""

    heard: str
    spoken: str
    given: str
    step: bool = False
    """Whether it changed what is known, so that undo comes back before it."""


@dataclass(frozen=True)
class TakenOut:
    """What was taken back last, as it stood, so that it can be put back."""

    known: "Known"
    left: Situation
    """What was known of the shot once it was taken back."""
    shots: tuple[Shot, ...]
    """Those that were taken out of the log, in the order they were played."""
    named: str


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
    answered: LastAnswer | None = None
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
    left: tuple[Situation, ...] = ()
    """Where the shots of this talk before the one talked about were played from, the newest first."""
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
    taken_out: TakenOut | None = None
    """What was taken back last in this talk."""

    @property
    def played(self) -> bool:
        """Whether the shot is over."""
        return self.result is not None

    @property
    def places(self) -> tuple[Situation, ...]:
        """Those of `left`, behind that of the shot talked about."""
        here = (self.situation,) if self.played or self.plan is not None else ()
        return (*here, *(each for each in self.left if each not in here))[:MOST_PLACES]

    def afresh(self, **updates: Any) -> "Known":
        """Nothing known but the day, what was played in this talk, and these parts."""
        begun = Known(
            day=self.day, written=self.written, told=self.told, left=self.places, taken_out=self.taken_out
        )
        return replace(begun, **updates)

    def on_the_day(self, **updates: Any) -> "Known":
        """A copy with these parts of the day replaced."""
        return replace(self, day=replace(self.day, **updates))

    def changed(self, **updates: Any) -> "Known":
        """A copy with these parts replaced."""
        return replace(self, **updates)


MOST_PLACES, MOST_TOLD = 6, 4
"""Places of a talk that may be told of as the same, and shots that may still be put right."""


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
    over = lines.HOLE_OVER if known.hole_over else lines.WHERE_NOW
    return Said(known, over if known.hole_over or known.played else lines.NOTHING_KNOWN)


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
