"""How the player is doing today, and what costs them most, from the log."""

from collections import Counter
from datetime import UTC, datetime
from statistics import median

from caddie.errors import CaddieError
from caddie.log.shot import Shot
from caddie.reply.putt import putt_unit
from caddie.reply.spoken import sentences
from caddie.situation import Side, Strike
from caddie.talk import lines
from caddie.talk.lore import practice_for
from caddie.talk.state import Desk, Known, Said
from caddie.units import spoken_length, spoken_number
from caddie.words import Understanding

MOST_SHOTS = 300
FEWEST_TO_TELL = 8
"""Fewer results tell nothing of a habit."""
_FAULT = {
    Strike.HEAVY: "heavy",
    Strike.THIN: "thin",
    Strike.TOPPED: "thin",
    Strike.SHANK: "shank",
    Side.SHORT: "short",
    Side.LONG: "long",
    Side.LEFT: "left",
    Side.RIGHT: "right",
}


def progress(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Today's shots: how many, how near, how struck."""
    if desk.log is None:
        return Said(known, lines.NO_LOG_TODAY)
    day = datetime.now(UTC).astimezone().date()
    today = [shot for shot in _shots(desk) if shot.time.astimezone().date() == day]
    if not today:
        return Said(known, lines.NO_SHOTS)
    count = len(today)
    parts = [f"{'one shot' if count == 1 else f'{spoken_number(min(count, 999))} shots'} today"]
    holed = sum(shot.result.holed for shot in today)
    left = [shot.result.distance_m for shot in today if shot.result.distance_m is not None]
    if left:
        parts.append(f"half within {spoken_length(median(left), putt_unit(desk.bag))}")
    faults = Counter(
        shot.result.strike for shot in today if shot.result.strike in (Strike.HEAVY, Strike.THIN)
    )
    told = [f"{spoken_number(n)} {strike.value}" for strike, n in faults.items() if strike]
    told += [f"{spoken_number(holed)} holed"] if holed else []
    spoken = sentences([", ".join(parts), ", ".join(told)])
    return Said(known.changed(spoken=spoken), spoken)


def practise(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The fault told most often of late, and what to practise against it."""
    shots = _shots(desk) if desk.log is not None else []
    found: Counter[str] = Counter()
    for shot in shots:
        told = [shot.result.strike, *shot.result.side]
        found.update(_FAULT[each] for each in told if each is not None and each in _FAULT)
    if len(shots) < FEWEST_TO_TELL or not found:
        return Said(known, lines.PRACTISE_UNKNOWN)
    fault, count = found.most_common(1)[0]
    spoken = sentences(
        [f"{spoken_number(count)} of your last {spoken_number(len(shots))} were {fault}", practice_for(fault)]
    )
    return Said(known.changed(spoken=spoken), spoken)


def _shots(desk: Desk) -> list[Shot]:
    """The player's last shots; none from a log that cannot be read."""
    try:
        return list(desk.log.shots(desk.bag.player.name, last=MOST_SHOTS)) if desk.log else []
    except CaddieError:
        return []
