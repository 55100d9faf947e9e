"""A rehearsal as the page shows it: the ball to play, and what became of those before."""

from typing import Any

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.shot import Commitment
from caddie.log.store import Log
from caddie.practice.rehearse import Rehearsal, RehearsalOrder, answered, plan_rehearsal, summary
from caddie.words import Expecting, understand

SHOTS_CHOSEN_FROM = 3000
"""Shots of the log that a rehearsal is chosen from."""
MOST_REHEARSED = 99
NOT_TOLD = 'Say where it ended, such as "six feet short", "thin, over the back" or "in".'


class PracticeView:
    """One rehearsal at a time."""

    def __init__(self, log: Log | None) -> None:
        """``log`` gives the situations met, and keeps the balls; None does neither."""
        self._log = log
        self._rehearsal: Rehearsal | None = None
        self._line = ""
        self._done: set[str] = set()

    def start(self, bag: Bag, balls: int, order: str, seed: int) -> dict[str, Any]:
        """Choose the balls.

        Raises:
            CaddieError: for an unknown order or too many balls.
        """
        if order not in list(RehearsalOrder) or not 1 <= balls <= MOST_REHEARSED:
            raise CaddieError(f"choose 1 to {MOST_REHEARSED} balls, {', '.join(RehearsalOrder)}")
        shots = self._log.shots(bag.player.name, last=SHOTS_CHOSEN_FROM) if self._log else []
        self._rehearsal = plan_rehearsal(shots, bag, balls, RehearsalOrder(order), seed=seed)
        self._line = self._rehearsal.note
        return self.state()

    def tell(self, request: str, text: str) -> dict[str, Any]:
        """Read what became of the ball, keep it and go on to the next.

        Raises:
            CaddieError: if no ball is being played, or the log cannot be written.
        """
        if request in self._done:
            return self.state()
        now = self._rehearsal
        if now is None or now.over:
            raise CaddieError("no ball is being played: begin a rehearsal")
        player = now.bag.player
        told = understand(text, expecting=Expecting.LEFT, unit=player.distances_in, pace_m=player.pace_m)
        if told.result is None:
            self._line = NOT_TOLD
            return self.state()
        commitment = Commitment(told.commitment) if told.commitment else None
        after, line = answered(now, told.result, commitment)
        if self._log is not None:
            self._log.add(after.shots()[-1])
        self._rehearsal, self._line = after, line
        self._done.add(request)
        return self.state()

    def stop(self) -> dict[str, Any]:
        """End the rehearsal; what was played is kept."""
        if self._rehearsal is not None:
            played = self._rehearsal.played
            drills = self._rehearsal.drills[: len(played)]
            self._rehearsal = self._rehearsal.model_copy(update={"drills": drills})
            self._line = ""
        return self.state()

    def state(self) -> dict[str, Any]:
        """The ball to play, the last line said, and how it went so far."""
        now = self._rehearsal
        if now is None:
            return {
                "on": False,
                "over": False,
                "prompt": "",
                "line": "",
                "summary": "",
                "played": 0,
                "balls": 0,
            }
        return {
            "on": not now.over,
            "over": now.over,
            "prompt": "" if now.over else now.prompt,
            "line": self._line,
            "summary": summary(now) if now.played else "",
            "played": len(now.played),
            "balls": len(now.drills),
        }
