"""Everything behind the page on one thread: bag, log, talk and practice, one request after the other.

The log belongs to the thread that opened it, and two tabs at once must not both answer: so there is one.
"""

import asyncio
import contextlib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.notes.notebook import Notebook
from caddie.page.at_hand import at_hand
from caddie.page.bag_place import BagPlace
from caddie.page.bag_view import BagView
from caddie.page.notes_view import NotesView
from caddie.page.papers import CardPaper
from caddie.page.practice_view import PracticeView
from caddie.page.shots_view import ShotsView
from caddie.page.talk_view import TalkView
from caddie.talk.conversation import Conversation
from caddie.units import Unit

T = TypeVar("T")

WARM_UP = "seventy yards, fairway, bunker short"


@dataclass(frozen=True)
class Wanted:
    """What the command line asks for."""

    bag: Path | None = None
    """None is the player's own, or else the demo bag."""
    log: Path | None = None
    no_log: bool = False
    competition: bool = False
    seed: int = 1


class Views:
    """What the requests work with; made and used on the service's thread alone."""

    def __init__(self, wanted: Wanted) -> None:
        """Open bag and log.

        Raises:
            CaddieError: if the bag cannot be read; a log that cannot is told of, and the page goes on.
        """
        place = BagPlace(wanted.bag)
        self.seed = wanted.seed
        self.bag = BagView(place)
        owned = self.bag.bag()
        self.log: Log | None = None
        problem: str | None = None
        if not wanted.no_log:
            try:
                self.log = Log(wanted.log)
            except CaddieError as error:
                problem = at_hand(str(error))
        mode = Mode.COMPETITION if wanted.competition else Mode.PRACTICE
        notebook, forgetful = (None, None) if wanted.no_log else _notebook(owned)
        self.notes = NotesView(notebook, forgetful)
        talk = Conversation(
            owned, mode=mode, seed=wanted.seed, log=self.log, log_problem=problem, notebook=notebook
        )
        self.talk = TalkView(talk, self.bag.whose)
        self.shots = ShotsView(self.log, problem, place)
        self.practice = PracticeView(self.log, place)
        self.card = CardPaper()
        with contextlib.suppress(CaddieError):
            self.card.card(owned, competition=False)

    @property
    def competition(self) -> bool:
        """Whether nothing may be advised now."""
        return self.talk.mode is Mode.COMPETITION

    def bag_changed(self) -> None:
        """Go on talking with the bag as it was just written."""
        self.talk.plays_with(self.bag.bag())

    def close(self) -> None:
        """Let go of the log, and of a range session."""
        self.practice.close()
        if self.log is not None:
            self.log.close()


class Service:
    """The thread, and the way to it."""

    def __init__(self, wanted: Wanted) -> None:
        """Nothing is opened yet."""
        self._wanted = wanted
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="caddie")
        self._views: Views | None = None

    def open(self) -> None:
        """Open bag and log, and wait for it.

        Raises:
            CaddieError: as :class:`Views`.
        """
        self._views = self._thread.submit(Views, self._wanted).result()

    def warm_up(self) -> None:
        """Read the grammar and plan a shot behind the scenes, so that the first answer is as quick as others."""
        self._thread.submit(_warm_up, self._opened())

    async def do(self, act: Callable[[Views], T]) -> T:
        """Run on the service's thread; a client that goes away does not stop what it began.

        Raises:
            CaddieError: what ``act`` raises.
        """
        views = self._opened()
        return await asyncio.shield(asyncio.wrap_future(self._thread.submit(act, views)))

    def now(self, act: Callable[[Views], T]) -> T:
        """The same from another thread than the server's, which waits.

        Raises:
            CaddieError: what ``act`` raises.
        """
        return self._thread.submit(act, self._opened()).result()

    def close(self) -> None:
        """Finish what was begun, then let go of everything."""
        if self._views is not None:
            self._thread.submit(self._views.close).result()
        self._thread.shutdown()

    def _opened(self) -> Views:
        assert self._views is not None, "opened before the first request"
        return self._views


def _notebook(bag: Bag) -> tuple[Notebook | None, str | None]:
    """What is remembered, or the reason why nothing is: the talk goes on without it."""
    unit = bag.player.distances_in
    try:
        return Notebook(unit if unit is Unit.METRES else Unit.YARDS), None
    except CaddieError as error:
        return None, at_hand(str(error))


def _warm_up(views: Views) -> None:
    aside = Conversation(views.talk.bag, seed=views.seed)
    aside.turn(WARM_UP)
