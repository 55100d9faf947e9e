"""On which hole each shot was played, kept beside the shots."""

from collections.abc import Sequence
from typing import NamedTuple

from caddie.log.shot import Mode, Shot
from caddie.log.store import Log, shot_fields, utc_text


class OnHole(NamedTuple):
    """A hole that a shot was played on."""

    course: str
    hole: int


def add_on_hole(log: Log, shot: Shot, place: OnHole | None) -> int:
    """Keep a shot with the hole it was played on, both or neither; its number once they are on disk.

    Raises:
        CaddieError: if they could not be kept.
    """
    if place is None:
        return log.add(shot)
    with log.transaction("written"):
        number = log.keep("shots", shot_fields(shot))
        fields = {"time": utc_text(shot.time), "player": shot.player, "shot_id": number}
        log.keep("holes", {**fields, "course": place.course, "hole": place.hole})
    return number


def shots_on(log: Log, player: str, place: OnHole, modes: Sequence[Mode] = ()) -> list[Shot]:
    """The player's shots on a hole, oldest first; the course's name is compared as it was written.

    Raises:
        CaddieError: if what is kept of holes cannot be read.
    """
    numbers = {row[3] for row in log.kept("holes") if (row[4], row[5]) == place and row[2] == player}
    return [entry.shot for entry in log.entries(player, modes) if entry.id in numbers]
