"""A range session as something that is practised ball by ball."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from caddie.bag import Bag
from caddie.practice.range_talk import hear
from caddie.practice.under_way import BallAnswer, Expected
from caddie.range.session import RangeSession
from caddie.range.sessions import keep_range
from caddie.units import from_metres
from caddie.words.listened_for import range_sentences


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

    @property
    def scored(self) -> dict[str, Any]:
        """Nothing is scored."""
        return {}

    def tell(self, text: str) -> BallAnswer:
        """Let the session take what is said of a ball; one that ends it keeps the balls beside the bag."""
        line = hear(self.session, text, _now())
        if self.session.target is None:
            self.session.close(_now())
            self.keep()
            return BallAnswer(self.session.call)
        return BallAnswer(line)

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


def _now() -> datetime:
    return datetime.now().astimezone()
