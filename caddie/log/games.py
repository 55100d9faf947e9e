"""Results of games, kept beside the shots."""

import json
from datetime import datetime
from typing import NamedTuple

from caddie.log.shot import now
from caddie.log.store import Log, utc_text


class Score(NamedTuple):
    """What a game ended with."""

    time: datetime
    name: str
    points: dict[str, float]
    """Points by player."""
    detail: str


def note_game(log: Log, name: str, points: dict[str, float], detail: str = "") -> None:
    """Keep the result of a game.

    Raises:
        CaddieError: if the log cannot be written.
    """
    with log.transaction("written"):
        told = json.dumps(points, ensure_ascii=False)
        log.keep("games", {"time": utc_text(now()), "name": name, "points": told, "detail": detail})


def scores(log: Log, name: str | None = None) -> list[Score]:
    """Results kept, oldest first, of one game or of all.

    Raises:
        CaddieError: if the file is damaged.
    """
    return [
        Score(datetime.fromisoformat(str(time)), str(named), json.loads(str(points)), str(detail))
        for _, time, named, points, detail in log.kept("games")
        if name in (None, named)
    ]
