"""What to practise: of the kind asked for, else what the shots told and kept show; timed when a time is said."""

from collections import Counter

from caddie.log.shot import Shot
from caddie.reply.spoken import sentences, shortest
from caddie.situation import IN_SAND, Lie
from caddie.talk.lore import practice_for
from caddie.talk.state import Desk, Known, Said
from caddie.talk.today import shots_kept
from caddie.talk.went_wrong import fault_named, fault_of
from caddie.units import spoken_number
from caddie.words import Understanding
from caddie.words.numbers import read_number
from caddie.words.sayings import compared, lore_data

FEWEST_TO_TELL = 8
"""Fewer results tell nothing of a habit."""
MOST_NEEDED = "short"
"""What players do most of all (common practice, no source)."""
HALF_AN_HOUR = 30
CHIP_UP_TO_M = 20.0
"""A shot from nearer is practised as a chip (common practice, no source)."""
WARM_UP_UP_TO = 20
"""So many minutes or fewer before a round are a warm-up, and no practice (common practice, no source)."""


def practise(desk: Desk, known: Known, heard: Understanding) -> Said:
    """A drill for what is asked for or was just told, else against the fault told most of late; a plan for a time."""
    words, minutes = compared(heard.heard), minutes_said(heard.heard)
    shots = shots_kept(desk) if desk.log is not None else []
    asked = kind_named(words)
    wrong = fault_named(heard.heard)
    last = _of_the_last(desk, known)
    often, count = _most_often(desk, shots)
    kind = asked or wrong or last or often or MOST_NEEDED
    if minutes is not None:
        before = "before" in words and minutes <= WARM_UP_UP_TO
        spoken = practice_for("warm_up") if before else _timed(minutes, kind)
        return Said(known.changed(spoken=spoken), spoken)
    if "warm" in words:
        spoken = practice_for("warm_up")
        return Said(known.changed(spoken=spoken), spoken)
    drill = practice_for(kind)
    if asked or wrong:
        lead = ""
    elif last:
        lead = (
            "few shots kept yet, so from the last one"
            if len(shots) < FEWEST_TO_TELL
            else "from that last one"
        )
    elif often:
        lead = (
            f"{spoken_number(count)} of your last {spoken_number(len(shots))} were {often.replace('_', ' ')}"
        )
    else:
        lead = "too few shots kept to tell, so what most need"
    spoken = shortest([[lead, drill], [drill]]) if lead else sentences([drill])
    return Said(known.changed(spoken=spoken), spoken)


def _timed(minutes: int, kind: str) -> str:
    """A plan for so many minutes: half of them for what needs it, the rest on touch and on the putts."""
    half, rest = minutes // 2, minutes - minutes // 2
    short = lore_data()["in_short"].get(kind, lore_data()["in_short"][MOST_NEEDED])
    if minutes < HALF_AN_HOUR:
        return sentences(
            [f"{_said(half)} on {short}", f"the other {_said(rest)} on putts from thirty feet, for pace"]
        )
    putts = rest // 2
    return sentences(
        [
            f"{_said(half)} on {short}",
            f"{_said(rest - putts)} chipping one ball to holes and putting out",
            f"{_said(putts)} on putts of three to six feet",
        ]
    )


def _said(minutes: int) -> str:
    return f"{spoken_number(min(minutes, 240))} minutes"


def kind_named(words: tuple[str, ...]) -> str:
    """The kind of shot that is asked about, as the drills call it; empty when none is named."""
    for kind, said in lore_data()["practice_words"].items():
        if not set(said.split()).isdisjoint(words):
            return str(kind)
    return ""


def minutes_said(text: str) -> int | None:
    """How long there is to practise, or None where no time is said.

    >>> minutes_said("ten minutes before the round"), minutes_said("half an hour"), minutes_said("an hour to spare")
    (10, 30, 60)
    """
    words = list(compared(text))
    for at, word in enumerate(words):
        if word in ("minutes", "minute", "mins", "min"):
            return _counted(words[:at]) or None
        if word in ("hour", "hours"):
            if "half" in words[max(at - 2, 0) : at]:
                return 30
            return 60 * (_counted(words[:at]) or 1)
    return None


def _counted(before: list[str]) -> int | None:
    """The number that ends the words ``before``."""
    for start in range(max(len(before) - 3, 0), len(before)):
        number = read_number(before[start:])
        if number is not None and number.words == len(before) - start:
            return int(number.value)
    return None


def _of_the_last(desk: Desk, known: Known) -> str:
    """What the shot just told would have practised: its fault, or the sand it was played from."""
    lie, result = known.situation.lie, known.result
    if result is None:
        return ""
    if lie in IN_SAND:
        return "lip" if known.situation.lip_m or known.situation.under_lip else "sand"
    fault = fault_of(result, known.situation, desk.bag)
    if lie is Lie.GREEN:
        return "putt"
    far_m = known.situation.pin_m or 0.0
    return fault or ("chip" if far_m < CHIP_UP_TO_M else "pitch")


def _most_often(desk: Desk, shots: list[Shot]) -> tuple[str, int]:
    """The fault told most often of the shots kept, and how often; nothing of too few."""
    found = Counter(fault for shot in shots if (fault := fault_of(shot.result, shot.situation, desk.bag)))
    return found.most_common(1)[0] if found and len(shots) >= FEWEST_TO_TELL else ("", 0)
