"""Shots that were written down under another name become the player's: their numbers, times and all else stay."""

from caddie.errors import CaddieError
from caddie.log.damage import CHANGED
from caddie.log.seals import WHOLE, digest, seal
from caddie.log.store import Log

OF_A_PLAYER = ("shots", "holes")
"""What is kept of a player shot by shot; lessons are of the bag that was taught, games of all who played."""


def take_over(log: Log, giver: str, taker: str) -> int:
    """Put one name in the place of another; how many shots that were.

    All of it or nothing is written. A row that is not as it was written is not sealed anew.

    Raises:
        CaddieError: if such a row is of the giver's, or the file cannot be written.
    """
    with log.transaction("written"):
        changed = {table: _renamed(log, table, giver, taker) for table in OF_A_PLAYER}
    return changed["shots"]


def _renamed(log: Log, table: str, giver: str, taker: str) -> int:
    query = f"SELECT {WHOLE[table]}, digest FROM {table} WHERE player = ?"
    rows = log.connection.execute(query, [giver]).fetchall()
    for row in rows:
        if row[-1] != digest(row[:-1]):
            raise CaddieError(f"{log.path}: number {row[0]} of the {table} cannot be taken over: {CHANGED}")
    log.connection.execute(f"UPDATE {table} SET player = ? WHERE player = ?", [taker, giver])
    if rows:
        seal(log.connection, table, [row[0] for row in rows])
    return len(rows)
