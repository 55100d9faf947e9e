"""The log as the page shows it: the last shots, one taken out, and what they teach the bag."""

from typing import Any

from caddie.bag.file import Seen, load_bag, save_bag
from caddie.errors import CaddieError
from caddie.log.lessons import note_lesson, taught
from caddie.log.line import ended_said, played_said
from caddie.log.store import Entry, Log
from caddie.log.table import Table, read_table
from caddie.log.teach import Lesson, teach
from caddie.page.bag_place import BagPlace
from caddie.units import Unit

SHOTS_SHOWN = 60
KEEPS_NO_LOG = "this page keeps no log"
NO_BAG = "you have no bag of your own to teach: tap Bag and drop a table of your shots there"


class ShotsView:
    """The player's log; used from the thread that opened it."""

    def __init__(self, log: Log | None, problem: str | None, place: BagPlace) -> None:
        """``problem`` is why there is no log although one was wanted."""
        self._log, self._problem, self._place = log, problem, place

    def state(self, player: str, unit: Unit) -> dict[str, Any]:
        """The newest shots first, and how many there are."""
        if self._log is None:
            return {"note": self._problem or KEEPS_NO_LOG, "count": 0, "shots": []}
        entries = self._log.entries(last=SHOTS_SHOWN)
        left_out = len(self._log.left_out)
        note = f"{left_out} shots cannot be read: the log is mended on the machine" if left_out else ""
        return {
            "note": note,
            "count": self._log.count(),
            "shots": [_row(entry, unit) for entry in reversed(entries)],
        }

    def remove(self, number: int) -> None:
        """Take a shot out.

        Raises:
            CaddieError: if it is not there, or the log cannot be written.
        """
        if not self._open().remove(number):
            raise CaddieError(f"there is no shot {number}")

    def lesson(self) -> dict[str, Any]:
        """What the shots since the last lesson would teach the bag; nothing is written."""
        path = self._place.path
        if path is None:
            return {"note": NO_BAG, "shots": 0, "changes": [], "digest": None}
        seen = Seen.of(path)
        lesson, table = self._lesson()
        return {
            "note": "" if lesson.changes else "No new shots that teach anything.",
            "shots": len(table),
            "changes": [change.sentence for change in lesson.changes],
            "digest": seen.digest,
        }

    def teach(self, digest: str | None, shots: int) -> None:
        """Teach the bag what :meth:`lesson` showed.

        Raises:
            CaddieError: if bag or shots are no longer those that were shown; nothing is written then.
        """
        path = self._place.path
        if path is None:
            raise CaddieError(NO_BAG)
        seen = Seen(path, digest)
        seen.refuse_changed()
        lesson, table = self._lesson()
        if len(table) != shots:
            raise CaddieError("the shots have changed meanwhile: look at the lesson again")
        if not lesson.changes:
            raise CaddieError("there is nothing to teach")
        note_lesson(self._open(), load_bag(path), int(table.id.max()), lesson.changes)
        save_bag(lesson.bag, path, seen)

    def _lesson(self) -> tuple[Lesson, Table]:
        log, owned = self._open(), load_bag(self._place.path)
        known = taught(log, owned)
        table = read_table(log, owned.player.name, after_id=known.up_to)
        return teach(owned, table, known.changes), table

    def _open(self) -> Log:
        if self._log is None:
            raise CaddieError(self._problem or KEEPS_NO_LOG)
        return self._log


def _row(entry: Entry, unit: Unit) -> dict[str, Any]:
    """A shot in the words of the list."""
    shot = entry.shot
    return {
        "id": entry.id,
        "when": shot.time.astimezone().strftime("%d %b %Y, %H:%M"),
        "mode": shot.mode.value,
        "player": shot.player,
        "sentence": shot.sentence,
        "played": played_said(shot),
        "ended": ended_said(shot, unit),
    }
