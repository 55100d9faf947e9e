"""What is practised in the page, ball by ball: a rehearsal, a game, a drill or a range session.

Each takes what the player says of a ball in the words of the commands; a tap says such words.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple, Protocol

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.games import note_game
from caddie.log.shot import Commitment
from caddie.log.store import Log
from caddie.practice.drills import PuttingDrill, after, layout, sentences_of
from caddie.practice.games import Game, outcome, play
from caddie.practice.range_talk import hear
from caddie.practice.rehearse import Rehearsal, answered, summary
from caddie.practice.told import told_sentences
from caddie.range.session import RangeSession
from caddie.range.sessions import keep_range
from caddie.units import from_metres
from caddie.words import Expecting, Reply, understand
from caddie.words.listened_for import range_sentences

NOT_TOLD = 'Say where it ended, such as "six feet short", "thin, over the back" or "in".'


class Expected(NamedTuple):
    """What may be said of a ball, for ears to listen for."""

    about: str
    sentences: Sequence[str]
    nothing_else: bool = False
    """With so few answers other talk is easily heard as several of them: only one of them, word for word, counts."""


class Practising(Protocol):
    """One thing that is practised now."""

    @property
    def expected(self) -> Expected:
        """What may be said of a ball."""

    @property
    def kind(self) -> str:
        """Rehearsal, game, drill or range."""

    @property
    def asks(self) -> str:
        """What is told of a ball: left, strokes, carry, or the drill whose answers are meant."""

    @property
    def prompt(self) -> str:
        """The ball to play now."""

    @property
    def over(self) -> bool:
        """Whether no ball is left."""

    @property
    def played(self) -> int:
        """Balls told of."""

    @property
    def balls(self) -> int:
        """Balls in all."""

    @property
    def summary(self) -> str:
        """What it has come to; empty before the first ball."""

    def tell(self, text: str) -> str:
        """Take what is said of a ball; the line that answers it.

        Raises:
            CaddieError: if it cannot be kept; nothing has happened then.
        """

    def stop(self) -> str:
        """End it before its last ball; the line that is said."""


@dataclass
class Rehearsing:
    """A rehearsal under way."""

    now: Rehearsal
    log: Log | None
    kind: str = "rehearsal"
    asks: str = "left"

    @property
    def expected(self) -> Expected:
        """Where a ball ended, in the ways it is said."""
        return Expected("practice", told_sentences())

    @property
    def prompt(self) -> str:
        """The situation as read out."""
        return "" if self.over else self.now.prompt

    @property
    def over(self) -> bool:
        """Whether every ball has been played."""
        return self.now.over

    @property
    def played(self) -> int:
        """Balls told of."""
        return len(self.now.played)

    @property
    def balls(self) -> int:
        """Balls in all."""
        return len(self.now.drills)

    @property
    def summary(self) -> str:
        """How it went so far."""
        return summary(self.now) if self.now.played else ""

    def tell(self, text: str) -> str:
        """Read what became of the ball and keep it."""
        told = _read(text, Expecting.LEFT, self.now.bag)
        if told.result is None:
            return NOT_TOLD
        commitment = Commitment(told.commitment) if told.commitment else None
        after_it, line = answered(self.now, told.result, commitment)
        if self.log is not None:
            self.log.add(after_it.shots()[-1])
        self.now = after_it
        return line

    def stop(self) -> str:
        """End it; what was played is kept already."""
        self.now = self.now.model_copy(update={"drills": self.now.drills[: self.played]})
        return ""


@dataclass
class Playing:
    """A game under way."""

    now: Game
    log: Log | None
    kind: str = "game"
    stopped: bool = False

    @property
    def asks(self) -> str:
        """Strokes where the game counts them."""
        return "strokes" if self.now.rules.counts_strokes else "left"

    @property
    def expected(self) -> Expected:
        """Where a ball ended, in the ways it is said."""
        return Expected("practice", told_sentences())

    @property
    def prompt(self) -> str:
        """Whose turn it is, and from where."""
        return "" if self.over else self.now.prompt

    @property
    def over(self) -> bool:
        """Whether everybody has played every spot, or it was broken off."""
        return self.stopped or self.now.over

    @property
    def played(self) -> int:
        """Turns taken."""
        return len(self.now.turns)

    @property
    def balls(self) -> int:
        """Turns in all."""
        return self.now.rules.spots * len(self.now.players)

    @property
    def summary(self) -> str:
        """How it stands."""
        return outcome(self.now) if self.now.turns else ""

    def tell(self, text: str) -> str:
        """Read where the ball ended, or the strokes it took, and keep it."""
        counts = self.now.rules.counts_strokes
        told = _read(text, Expecting.STROKES if counts else Expecting.LEFT, self.now.bag)
        if not counts and told.result is None:
            return NOT_TOLD
        try:
            if told.result is not None and not counts:
                after_it, line = play(self.now, result=told.result)
            else:
                after_it, line = play(self.now, strokes=told.strokes)
        except CaddieError as error:
            return str(error).capitalize()
        if self.log is not None:
            self.log.add(after_it.shots()[-1])
            if after_it.over:
                note_game(self.log, after_it.rule, after_it.points, outcome(after_it))
        self.now = after_it
        return line

    def stop(self) -> str:
        """Break it off: its shots are kept, its points are not."""
        self.stopped = True
        return ""


@dataclass
class Putting:
    """A putting drill under way."""

    name: str
    now: PuttingDrill
    bag: Bag
    log: Log | None
    kind: str = "drill"
    played: int = 0
    stopped: bool = False

    @property
    def asks(self) -> str:
        """The drill itself: each has answers of its own."""
        return self.name

    @property
    def expected(self) -> Expected:
        """The few answers of the drill."""
        return Expected(f"practice {self.name}", sentences_of(self.name), nothing_else=True)

    @property
    def prompt(self) -> str:
        """The putt to play."""
        return "" if self.over else self.now.prompt

    @property
    def over(self) -> bool:
        """Whether every putt has been played, or it was broken off."""
        return self.stopped or self.now.over

    @property
    def balls(self) -> int:
        """Putts in all."""
        return layout(self.name).putts

    @property
    def summary(self) -> str:
        """The score."""
        return self.now.summary(self.bag.player.handicap) if self.played else ""

    def tell(self, text: str) -> str:
        """Read how the putt went; the score of a whole drill is kept."""
        following = after(self.now, text, self.bag)
        if following is None:
            say = layout(self.name).say
            return f"{say[0].upper()}{say[1:]}."
        if following.over and self.log is not None:
            player = self.bag.player
            note_game(
                self.log, self.name, {player.name: following.points}, following.summary(player.handicap)
            )
        self.now, self.played = following, self.played + 1
        return following.counted

    def stop(self) -> str:
        """Break it off."""
        self.stopped = True
        return ""


@dataclass
class Measuring:
    """A range session under way; its journal keeps every ball, so that it can be gone on with."""

    session: RangeSession
    bag: Bag
    bag_path: Path
    kind: str = "range"
    asks: str = "carry"
    left: bool = False

    @property
    def expected(self) -> Expected:
        """Carries, sides and mishits."""
        return Expected("practice range", range_sentences())

    @property
    def prompt(self) -> str:
        """The club and swing that are called."""
        return "" if self.over else self.session.call

    @property
    def over(self) -> bool:
        """Whether it has ended, or was left to be gone on with."""
        return self.left or self.session.finished or self.session.target is None

    @property
    def played(self) -> int:
        """Balls that count."""
        return len(self.session.shots)

    @property
    def balls(self) -> int:
        """Balls at hand."""
        return self.session.plan.balls

    @property
    def summary(self) -> str:
        """How many carries are known."""
        told = self.session.summary()
        return f"{told.used} of {told.balls} balls, {told.known} of {len(told.cells)} carries known."

    @property
    def cells(self) -> list[dict[str, Any]]:
        """What is known of each carry so far, in the player's unit."""
        unit = self.session.player.distances_in
        target = self.session.target
        return [
            {
                "name": f"{each.target.club} {each.target.swing}",
                "hit": each.hit,
                "expected": round(from_metres(each.target.expected_m, unit)),
                "mean": None if each.mean_m is None else round(from_metres(each.mean_m, unit)),
                "known": each.known,
                "called": each.target == target,
            }
            for each in self.session.summary().cells
        ]

    def tell(self, text: str) -> str:
        """Let the session take what is said of a ball; one that ends it keeps the balls beside the bag."""
        line = hear(self.session, text, _now())
        if self.session.target is None:
            self.session.close(_now())
            self.keep()
            return self.session.call
        return line

    def stop(self) -> str:
        """Leave it to be gone on with."""
        self.leave()
        return f"{self.summary} It can be gone on with."

    def keep(self) -> None:
        """Keep the balls of a session that is over beside the bag."""
        keep_range(self.session, self.bag_path, self.bag, _now())
        self.leave()

    def leave(self) -> None:
        """Let another program go on with the session."""
        self.left = True
        self.session.leave()


def _read(text: str, expecting: Expecting, bag: Bag) -> Reply:
    player = bag.player
    return understand(text, expecting=expecting, unit=player.distances_in, pace_m=player.pace_m)


def _now() -> datetime:
    return datetime.now().astimezone()
