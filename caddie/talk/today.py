"""How the player is doing today, and what costs them most, from the log."""

from collections import Counter
from statistics import median

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.cues import cue_weights
from caddie.log.shot import Shot, local_day, now
from caddie.log.store import Log
from caddie.reply.putt import putt_unit
from caddie.reply.spoken import sentences
from caddie.situation import Lie, Strike
from caddie.talk import lines
from caddie.talk.state import Desk, Known, Said
from caddie.units import spoken_length, spoken_number
from caddie.words import Understanding
from caddie.words.sayings import compared

MOST_SHOTS = 300
UP_AND_DOWN = 2
FEWEST_FOR_HALF = 4
"""Of fewer shots no half is told."""

SHOTS_BEHIND_CUES = 300
"""Shots of the log that tell which cues work; older ones weigh next to nothing."""


def progress(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Today's shots: how many, how near, how struck."""
    if desk.log is None:
        return Said(known, lines.NO_LOG_TODAY)
    day = local_day(now())
    today = [shot for shot in shots_kept(desk) if local_day(shot.time) == day]
    if not today:
        return Said(known, lines.NO_SHOTS)
    count = len(today)
    parts = [f"{'one shot' if count == 1 else f'{spoken_number(min(count, 999))} shots'} today"]
    holed = sum(shot.result.holed for shot in today)
    left = [shot.result.distance_m for shot in today if shot.result.distance_m is not None]
    unit = putt_unit(desk.bag)
    if len(left) >= FEWEST_FOR_HALF:
        parts.append(f"half within {spoken_length(median(left), unit)}")
    elif left:
        parts.append(f"{'the best' if len(left) > 1 else 'it'} ended {spoken_length(min(left), unit)} away")
    faults = Counter(
        shot.result.strike for shot in today if shot.result.strike in (Strike.HEAVY, Strike.THIN)
    )
    told = [f"{spoken_number(n)} {strike.value}" for strike, n in faults.items() if strike]
    told += [f"{spoken_number(holed)} holed"] if holed else []
    saved = _up_and_downs(today)
    if saved:
        told.append(f"{spoken_number(saved)} {'up and down' if saved == 1 else 'up and downs'}")
    elif "up" in compared(heard.heard):
        told.append("no up and down")
    spoken = sentences([", ".join(parts), ", ".join(told)])
    return Said(known.changed(spoken=spoken), spoken, brief=sentences([", ".join(parts)]))


def last_leave(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What the last shot left, beside what half of such shots leave."""
    if known.result is None:
        return Said(known, lines.NOTHING_PLAYED)
    left_m = 0.0 if known.result.holed else known.result.distance_m
    if left_m is None:
        return Said(known, lines.HOLE_OVER if known.hole_over else lines.NO_LEAVE_TOLD)
    usual_m = known.plan.chosen.leave_m if known.plan is not None else None
    unit = putt_unit(desk.bag)
    parts = [f"{spoken_length(left_m, unit)} left" if left_m else "holed"]
    if usual_m is not None:
        usual = spoken_length(usual_m, unit)
        better = left_m < usual_m
        parts.append(f"half of yours from there end within {usual}")
        parts.append("a good one, better than most" if better else "a little farther than most")
    spoken = sentences(parts)
    return Said(known.changed(spoken=spoken), spoken)


def _up_and_downs(shots: list[Shot]) -> int:
    """Shots from off the green that were told as up and down, or holed with the next stroke."""
    pairs = zip(shots, [*shots[1:], None], strict=True)
    return sum(
        shot.situation.lie is not Lie.GREEN
        and not shot.result.holed
        and (shot.down_in == UP_AND_DOWN or (after is not None and after.result.holed))
        for shot, after in pairs
    )


def shots_kept(desk: Desk) -> list[Shot]:
    """The player's last shots; none from a log that cannot be read."""
    try:
        return list(desk.log.shots(desk.bag.player.name, last=MOST_SHOTS)) if desk.log else []
    except CaddieError:
        return []


def weights_of_cues(log: Log | None, bag: Bag) -> dict[str, float]:
    """What the log says about cues; a log that cannot be read costs the weights, not the talk."""
    if log is None:
        return {}
    try:
        return cue_weights(log.shots(bag.player.name, last=SHOTS_BEHIND_CUES))
    except CaddieError:
        return {}
