"""What is practised, ball by ball: a rehearsal, a game or a drill.

Each takes what the player says of a ball, typed, spoken or tapped; terminal and page call the same balls.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, Protocol

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.games import note_game
from caddie.log.shot import Commitment
from caddie.log.store import Log
from caddie.practice.drills import PuttingDrill, after, ends, layout, sentences_of
from caddie.practice.games import Game, outcome, play
from caddie.practice.rehearse import Rehearsal, answered, summary
from caddie.practice.told import told_sentences
from caddie.situation import Situation
from caddie.words import Expecting, Reply, understand

ENDS_IT = '; "stop" ends it.'
SAY_RESULT = f'Say where it ended, such as "six feet short", "thin, over the back" or "in"{ENDS_IT}'


class Expected(NamedTuple):
    """What may be said of a ball, for ears to listen for."""

    about: str
    sentences: Sequence[str]
    nothing_else: bool = False
    """With so few answers other talk is easily heard as several of them: only one of them, word for word, counts."""


class BallAnswer(NamedTuple):
    """What is answered to a word about a ball."""

    line: str
    taken: bool = True
    """Whether a ball was told of; else the line says what to tell."""
    ended: bool = False
    """Whether the player wants no more balls."""


SAID_OF_ADVICE = ("spoken", "written")
ENDED = BallAnswer("", taken=False, ended=True)
Advise = Callable[[Situation], dict[str, Any]]
"""The shot to play, as it is kept in the log, with what is said of it as ``spoken``."""


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

    @property
    def scored(self) -> dict[str, Any]:
        """The ``points`` so far, where there are any."""

    def tell(self, text: str) -> BallAnswer:
        """Take what is said of a ball.

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
    advise: Advise | None = None
    """Where the shot to play is said, too."""

    @property
    def expected(self) -> Expected:
        """Where a ball ended, in the ways it is said."""
        return Expected("practice", told_sentences())

    @property
    def prompt(self) -> str:
        """The situation as read out."""
        if self.over:
            return ""
        advice = self._advice()
        return f"{self.now.prompt} {advice['spoken']}" if advice else self.now.prompt

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

    @property
    def scored(self) -> dict[str, Any]:
        """Nothing is scored."""
        return {}

    def tell(self, text: str) -> BallAnswer:
        """Read what became of the ball and keep it."""
        told = _read(text, Expecting.LEFT, self.now.bag)
        if told.result is None:
            return _nothing_in(told)
        commitment = Commitment(told.commitment) if told.commitment else None
        advice = self._advice()
        kept = advice and {name: value for name, value in advice.items() if name not in SAID_OF_ADVICE}
        after_it, line = answered(self.now, told.result, commitment, kept)
        if self.log is not None:
            self.log.add(after_it.shots()[-1])
        self.now = after_it
        return BallAnswer(line)

    def stop(self) -> str:
        """End it; what was played is kept already."""
        self.now = self.now.model_copy(update={"drills": self.now.drills[: self.played]})
        return ""

    def _advice(self) -> dict[str, Any] | None:
        return self.advise(self.now.drill.situation) if self.advise else None


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

    @property
    def scored(self) -> dict[str, Any]:
        """Points so far, by player."""
        return {"points": self.now.points}

    def tell(self, text: str) -> BallAnswer:
        """Read where the ball ended, or the strokes it took, and keep it."""
        counts = self.now.rules.counts_strokes
        told = _read(text, Expecting.STROKES if counts else Expecting.LEFT, self.now.bag)
        if told.result is None and (not counts or told.command is not None):
            return _nothing_in(told)
        try:
            if told.result is not None and not counts:
                after_it, line = play(self.now, result=told.result)
            else:
                after_it, line = play(self.now, strokes=told.strokes)
        except CaddieError as error:
            return BallAnswer(str(error).capitalize(), taken=False)
        if self.log is not None:
            self.log.add(after_it.shots()[-1])
            if after_it.over:
                note_game(self.log, after_it.rule, after_it.points, outcome(after_it))
        self.now = after_it
        return BallAnswer(line)

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

    @property
    def scored(self) -> dict[str, Any]:
        """The score so far."""
        return {"points": self.now.points}

    def tell(self, text: str) -> BallAnswer:
        """Read how the putt went; the score of a whole drill is kept."""
        following = after(self.now, text, self.bag)
        if following is None:
            say = layout(self.name).say
            asked = BallAnswer(f"{say[0].upper()}{say[1:]}{ENDS_IT}", taken=False)
            return ENDED if ends(self.now, text) else asked
        if following.over and self.log is not None:
            player = self.bag.player
            note_game(
                self.log, self.name, {player.name: following.points}, following.summary(player.handicap)
            )
        self.now, self.played = following, self.played + 1
        return BallAnswer(following.counted)

    def stop(self) -> str:
        """Break it off."""
        self.stopped = True
        return ""


def _read(text: str, expecting: Expecting, bag: Bag) -> Reply:
    player = bag.player
    return understand(text, expecting=expecting, unit=player.distances_in, pace_m=player.pace_m)


def _nothing_in(told: Reply) -> BallAnswer:
    """What is answered to a word that tells of no ball."""
    return ENDED if told.command is not None else BallAnswer(SAY_RESULT, taken=False)
