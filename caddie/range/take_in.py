"""What taking in a table of shots writes: rejected rows, the session, and a first bag where there is none.

The rejected rows are written first and the bag last: whatever cuts it off, the same again completes it.
"""

from pathlib import Path
from typing import NamedTuple

from caddie.bag.file import Seen, save_bag
from caddie.bag.models import Bag
from caddie.errors import CaddieError
from caddie.keeping import write_new
from caddie.range.csv_import import Imported
from caddie.range.sessions import holds, keep_session, rejected_place, rejected_text, session_place
from caddie.range.start_bag import Named, loft_remarks, measured_bag


class TakenIn(NamedTuple):
    """A table as it would be kept."""

    read: Imported
    bag: Bag
    bag_path: Path
    started: tuple[Named, ...]
    """The clubs of a first bag; empty where there is one."""
    place: Path | None
    """Where the session goes; None when the same balls are kept already."""
    rejected: str
    aside: Path | None
    """Where the rejected rows go, or stand already."""

    @property
    def to_come(self) -> tuple[str, ...]:
        """Each thing that would be written."""
        parts = {
            f"{len(self.read.session.shots)} balls in {self.place}": self.place is not None,
            f"the rejected rows in {self.aside}": self.aside is not None
            and not holds(self.aside, self.rejected),
            f"a first bag in {self.bag_path}": bool(self.started),
        }
        return tuple(what for what, new in parts.items() if new)

    def keep(self, seen: Seen) -> None:
        """Write it beside the bag that was ``seen``.

        Raises:
            CaddieError: if the bag has changed, or a place has been taken meanwhile.
        """
        seen.refuse_changed()
        if self.aside is not None and not holds(self.aside, self.rejected):
            write_new(self.aside, self.rejected)
        if self.place is not None:
            keep_session(self.place, self.read.session, self.bag)
        if self.started:
            save_bag(self.bag, self.bag_path, seen, loft_remarks(self.started))


def taken_in(read: Imported, bag: Bag, bag_path: Path, name: str, started: tuple[Named, ...] = ()) -> TakenIn:
    """What keeping the table ``name`` beside a bag comes to; nothing is written.

    Raises:
        CaddieError: if no row gives a shot.
    """
    if not read.session.shots:
        first = read.rejected[0] if read.rejected else None
        why = f": line {first.line}, column 1: {first.reason}" if first else ""
        raise CaddieError(f"{name}: no row gives a shot{why}")
    if started:
        bag = measured_bag(bag, read.session)
    rejected = rejected_text(read)
    return TakenIn(
        read=read,
        bag=bag,
        bag_path=bag_path,
        started=started,
        place=session_place(bag_path, read.session, Path(name).stem, bag),
        rejected=rejected,
        aside=rejected_place(bag_path, Path(name).name, rejected) if read.rejected else None,
    )
