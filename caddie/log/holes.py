"""On which hole each shot was played, kept beside the shots."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from caddie.log.seals import count_in
from caddie.log.shot import Mode, Shot

if TYPE_CHECKING:
    from caddie.log.store import Log


class OnHole(NamedTuple):
    """A hole that a shot was played on."""

    course: str
    hole: int


def add_on_hole(log: "Log", shot: Shot, place: OnHole | None) -> int:
    """Keep a shot with the hole it was played on, both or neither; its number once they are on disk.

    Raises:
        CaddieError: if they could not be kept.
    """
    from caddie.log.store import shot_fields, utc_text

    if place is None:
        return log.add(shot)
    with log.transaction("written"):
        number = log.keep("shots", shot_fields(shot))
        fields = {"time": utc_text(shot.time), "player": shot.player, "shot_id": number}
        log.keep("holes", {**fields, "course": place.course, "hole": place.hole})
    return number


def shots_on(log: "Log", player: str, place: OnHole, modes: Sequence[Mode] = ()) -> list[Shot]:
    """The player's shots on a hole, oldest first; the course's name is compared as it was written.

    Raises:
        CaddieError: if what is kept of holes cannot be read.
    """
    numbers = {row[3] for row in log.kept("holes") if (row[4], row[5]) == place and row[2] == player}
    return [entry.shot for entry in log.entries(player, modes) if entry.id in numbers]


def leave_hole(log: "Log", shot: int) -> None:
    """Take the hole of a shot out, inside a transaction that takes the shot out."""
    rows = log.connection.execute("SELECT id FROM holes WHERE shot_id = ?", [shot]).fetchall()
    for (number,) in rows:
        log.connection.execute("DELETE FROM holes WHERE id = ?", [number])
        count_in(log.connection, "holes", -1, -number)
