"""A range session: it calls each ball, takes down what became of it and loses nothing.

:class:`RangeSession` knows no keyboard and no microphone: it hands out the next call, takes what was said,
already read, and answers with one line. Its whole state is in its journal.
"""

from datetime import datetime
from pathlib import Path
from typing import Any

from caddie.bag.models import Player
from caddie.errors import CaddieError
from caddie.range.bucket import RangePlan, Standing, Target, next_target, standings
from caddie.range.journal import (
    NO_EVENT,
    DamagedJournalError,
    Journal,
    journals,
    read_events,
    set_aside,
)
from caddie.range.shots import FARTHEST_CARRY_M, RangeBall, Session
from caddie.range.told import BallTold, Command
from caddie.situation import Frozen
from caddie.units import from_metres

STOPPING_RULE = (
    "A cell is done when at least five clean balls put half the 95 % interval of its mean "
    "within 2 yards or 3 % of the carry, whichever is more."
)
NOT_UNDERSTOOD = (
    "Say the carry, as in 'sixty-three' or 'sixty-three, left'; or 'thin', 'scratch that', 'pause', 'finish'."
)
_SEEN = 3
_FAR_OFF, _FAR_SHARE = 5.0, 0.35
_NEAR = 3.0


class Summary(Frozen):
    """A session told in numbers."""

    balls: int
    used: int
    mishits: int
    known: int
    cells: tuple[Standing, ...]
    finished: bool


class RangeSession:
    """One session, new or taken up again."""

    def __init__(self, plan: RangePlan, player: Player, journal: Journal, date: str) -> None:
        self.plan = plan
        self.player = player
        self.date = date
        self.paused = False
        self.finished = False
        self._journal = journal
        self._shots: list[RangeBall] = []
        self._numbers: list[int] = []
        """The number in the journal of each ball that counts."""
        self._taken = 0
        self._doubted: float | None = None

    def __enter__(self) -> "RangeSession":
        return self

    def __exit__(self, *_: object) -> None:
        self.leave()

    def leave(self) -> None:
        """Let another program go on with the session."""
        self._journal.close()

    @property
    def shots(self) -> tuple[RangeBall, ...]:
        """The balls that count."""
        return tuple(self._shots)

    @property
    def target(self) -> Target | None:
        """What the next ball is for; None when the session is over."""
        return None if self.finished else next_target(self.plan, self._shots)

    @property
    def call(self) -> str:
        """The next call, to be shown or said."""
        target = self.target
        if target is None:
            return self._ending()
        swing = f"{target.swing}, from the sand" if self.plan.sand else target.swing
        return f"{target.club}, {swing}. Ball {len(self._shots) + 1} of {self.plan.balls}."

    def take(self, told: BallTold | Command | None, said: str, now: datetime) -> str:
        """Take what was said, once it is read; the answer is one line, empty when the next call says it all.

        Parameters:
            told: a ball, a word to the session, or None for what was not understood.
            said: as it was said, for the journal.
            now: the time.

        Raises:
            CaddieError: if the journal cannot be written.
        """
        if self.paused and told is not Command.FINISH:
            self.paused = False
            self._write(now, event="resume")
            if not isinstance(told, BallTold):
                return "Going on."
        if isinstance(told, BallTold):
            return self._take(told, said, now)
        match told:
            case Command.SCRATCH:
                return self._scratch(now)
            case Command.PAUSE:
                return self._pause(now)
            case Command.FINISH:
                return self._finish(now)
            case Command.GO_ON | Command.REPEAT:
                return ""
            case _:
                return NOT_UNDERSTOOD

    def session(self) -> Session:
        """The balls as a session for the bag."""
        return Session(shots=self.shots, conditions=self.plan.conditions, date=self.date)

    def summary(self) -> Summary:
        """What the session has come to."""
        cells = standings(self.plan, self._shots)
        return Summary(
            balls=self.plan.balls,
            used=len(self._shots),
            mishits=len(self._shots) - sum(cell.clean for cell in cells),
            known=sum(cell.known for cell in cells),
            cells=cells,
            finished=self.finished or self.target is None,
        )

    def close(self, now: datetime) -> None:
        """Leave the journal: with its end if the session is over, else to be taken up later."""
        if not self.finished and self.target is None:
            self._finish(now)

    def note_kept(self, now: datetime) -> None:
        """Write down that the balls are kept for the bag, so that nobody does it again."""
        self._write(now, event="kept")

    def replay(self, event: dict[str, Any]) -> None:
        """Take one event of the journal back in.

        Raises:
            ValueError: if it takes out a ball other than the last.
        """
        match event["event"]:
            case "shot":
                self._add(RangeBall.model_validate(event["shot"]))
            case "scratch":
                # Journals were once without the numbers.
                if self._numbers and event.get("ball", self._numbers[-1]) == self._numbers[-1]:
                    self._drop()
                elif "ball" in event:
                    raise ValueError("takes out a ball other than the last")
            case "pause":
                self.paused = True
            case "resume":
                self.paused = False
            case "finish":
                self.finished = True

    def _take(self, heard: BallTold, text: str, now: datetime) -> str:
        target = self.target
        if target is None:
            return self._ending()
        if doubt := self._doubt(heard, target):
            return doubt
        shot = RangeBall(
            club=target.club,
            swing=target.swing,
            carry_m=heard.carry_m,
            side_m=heard.side_m,
            strike=heard.strike,
            sand=self.plan.sand,
            note=heard.side.value if heard.side and heard.side_m is None else "",
        )
        # Written first: what is acknowledged is on the disk.
        self._write(
            now,
            event="shot",
            ball=self._taken + 1,
            shot=shot.model_dump(mode="json", exclude_none=True),
            said=text,
        )
        before = {(each.target.club, each.target.swing): each.known for each in self._standings()}
        self._add(shot)
        self._doubted = None
        now_known = next(
            each
            for each in self._standings()
            if (each.target.club, each.target.swing) == (target.club, target.swing)
        )
        told = self._told(heard)
        if now_known.known and not before[target.club, target.swing] and now_known.mean_m is not None:
            told += f" {target.club} {target.swing} is known: {self._count(now_known.mean_m)}."
        return told

    def _told(self, heard: BallTold) -> str:
        parts = []
        if heard.carry_m is not None:
            parts.append(self._count(heard.carry_m))
        if heard.strike is not None:
            parts.append(heard.strike.value)
        if heard.side is not None:
            parts.append(
                heard.side.value
                if heard.side_m is None
                else f"{self._count(abs(heard.side_m))} {heard.side.value}"
            )
        return ", ".join(parts) + "."

    def _doubt(self, heard: BallTold, target: Target) -> str:
        """A question when the number is far from all that was seen and sounds like one that is near."""
        if heard.carry_m is None or heard.number is None:
            return ""
        if not 0 < heard.carry_m <= FARTHEST_CARRY_M:
            return f"{heard.number:g} cannot be a carry; say it again."
        cell = next(each for each in self._standings() if each.target == target)
        near = cell.mean_m if cell.mean_m is not None and cell.clean >= _SEEN else target.expected_m
        sd = target.expected_sd_m
        if (
            abs(heard.carry_m - near) <= max(_FAR_OFF * sd, _FAR_SHARE * near)
            or heard.number == self._doubted
            or heard.strike
        ):
            return ""
        other = heard.sounds_like
        other_m = heard.carry_m / heard.number * other if other else None
        self._doubted = heard.number
        if other is not None and other_m is not None and abs(other_m - near) <= _NEAR * sd:
            return f"{heard.number:g} or {other}? Say it again."
        if heard.carry_m > near:
            return f"{heard.number:g} is far off {self._count(near)}. Say it again to keep it."
        return ""

    def _scratch(self, now: datetime) -> str:
        if not self._shots:
            return "Nothing to scratch."
        last = self._shots[-1]
        self._write(now, event="scratch", ball=self._numbers[-1])
        self._drop()
        what = "the mishit" if last.carry_m is None else self._count(last.carry_m)
        return f"Scratched: {last.club} {last.swing}, {what}."

    def _pause(self, now: datetime) -> str:
        self._write(now, event="pause")
        self.paused = True
        return "Paused, all balls are kept. Say 'go on' when you are ready."

    def _finish(self, now: datetime) -> str:
        self._write(now, event="finish")
        self.finished = True
        return self._ending()

    def _ending(self) -> str:
        summary = self.summary()
        left = self.plan.balls - summary.used
        spare = f", {left} balls to spare" if left and summary.known == len(summary.cells) else ""
        return f"Done: {summary.used} balls, {summary.known} of {len(summary.cells)} carries known{spare}."

    def _add(self, shot: RangeBall) -> None:
        self._taken += 1
        self._shots.append(shot)
        self._numbers.append(self._taken)

    def _drop(self) -> None:
        self._shots.pop()
        self._numbers.pop()

    def _standings(self) -> tuple[Standing, ...]:
        return standings(self.plan, self._shots)

    def _count(self, length_m: float) -> str:
        return f"{from_metres(length_m, self.player.distances_in):.0f}"

    def _write(self, now: datetime, **event: Any) -> None:
        self._journal.write({"at": now.isoformat(timespec="seconds"), **event})


def start_range(plan: RangePlan, player: Player, path: Path, now: datetime) -> RangeSession:
    """A new session with its journal at ``path``.

    Raises:
        CaddieError: if there is one already or the folder cannot be written.
    """
    if path.exists():
        raise CaddieError(f"{path}: a session is there already; resume it or wait a minute")
    journal = Journal(path)
    session = RangeSession(plan, player, journal, now.date().isoformat())
    journal.write(
        {
            "at": now.isoformat(timespec="seconds"),
            "event": "start",
            "plan": plan.model_dump(mode="json", exclude_none=True),
            "player": player.model_dump(mode="json"),
        }
    )
    return session


def begin_range(plan: RangePlan, player: Player, now: datetime) -> tuple[RangeSession, tuple[str, ...]]:
    """A new session with its journal where all are, and what was told of damaged ones set aside for it.

    Raises:
        CaddieError: if the folder cannot be written.
    """
    told = tuple(
        f"{damaged}: is damaged; set aside as {set_aside(damaged).name}." for damaged in damaged_journals()
    )
    return start_range(plan, player, journals() / f"{now:%Y-%m-%dT%H-%M-%S-%f}.jsonl", now), told


def resume_range(path: Path) -> RangeSession:
    """The session of a journal, as it stood after its last whole line.

    Raises:
        DamagedJournalError: if the file is no journal, with the line.
        CaddieError: if another program is going on with the session.
    """
    journal = Journal(path)
    try:
        return _replayed(journal)
    except BaseException:
        journal.close()
        raise


def damaged_journals() -> list[Path]:
    """The journals that cannot be read to their end, apart from those that a session is going on in."""
    found: list[Path] = []
    for path in sorted(journals().glob("*.jsonl")):
        try:
            if next(read_events(path), None) is not None:
                resume_range(path).leave()
        except DamagedJournalError:
            found.append(path)
        except CaddieError:
            continue
    return found


def _replayed(journal: Journal) -> RangeSession:
    events = list(read_events(journal.path))
    if not events or events[0]["event"] != "start":
        raise DamagedJournalError(journal.path, 1, "a session's journal begins with its plan")
    line = 1
    try:
        plan = RangePlan.model_validate(events[0]["plan"])
        player = Player.model_validate(events[0]["player"])
        session = RangeSession(plan, player, journal, str(events[0].get("at", ""))[:10])
        for event in events[1:]:
            line += 1
            session.replay(event)
    except (ValueError, KeyError):
        raise DamagedJournalError(journal.path, line, NO_EVENT) from None
    return session
