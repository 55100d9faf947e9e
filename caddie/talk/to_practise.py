"""What to practise: of the kind asked for, else what the shots told and kept show; timed when a time is said."""

from collections import Counter

from caddie.log.shot import Shot
from caddie.reply.spoken import sentences, shortest
from caddie.situation import IN_SAND, Lie
from caddie.talk.lore import practice_for
from caddie.talk.state import Desk, Known, Said
from caddie.talk.today import shots_kept
from caddie.talk.went_wrong import GOOD_M, fault_named, fault_of
from caddie.units import FOOT_M, Unit, spoken_number
from caddie.words import Understanding
from caddie.words.numbers import read_number
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data

FEWEST_TO_TELL = 8
"""Fewer results tell nothing of a habit."""
MOST_NEEDED = "short"
"""What players do most of all (common practice, no source)."""
HALF_AN_HOUR = 30
TAP_IN_M = 2 * FOOT_M
"""A putt left no farther went well (common practice, no source)."""
CHIP_UP_TO_M = 20.0
"""A shot from nearer is practised as a chip (common practice, no source)."""
WARM_UP_UP_TO = 20
"""So many minutes or fewer before a round are a warm-up, and no practice (common practice, no source)."""


def practise(desk: Desk, known: Known, heard: Understanding) -> Said:
    """A drill for what is asked for or was just told, else against the fault told most of late; a plan for a time."""
    words, minutes = compared(heard.heard), minutes_said(heard.heard)
    shots = shots_kept(desk) if desk.log is not None else []
    unit = desk.bag.player.putt_unit
    offered = kinds_named(words)
    wrong = fault_named(heard.heard)
    last = _of_the_last(desk, known)
    often, count = _most_often(desk, shots)
    asked, lead = _of_those_offered(desk, shots, offered, last)
    kind = asked or wrong or last or often or MOST_NEEDED
    if "warm" in words or (minutes is not None and minutes <= WARM_UP_UP_TO and "before" in words):
        return _told(known, [in_unit(practice_for("warm_up"), unit)])
    if minutes is not None:
        other = next((each for each in offered if each != kind), "")
        return _told(known, [in_unit(_timed(minutes, kind, other), unit)])
    if not (asked or wrong):
        lead = _why(shots, last, often, count)
    return _told(known, [lead, in_unit(practice_for(kind), unit)])


def _told(known: Known, parts: list[str]) -> Said:
    """The practice with why, and in fewer words without."""
    drill = sentences(parts[-1:])
    spoken = shortest([parts, parts[-1:]])
    return Said(known.changed(spoken=spoken, question=None), spoken, brief=drill)


def _why(shots: list[Shot], last: str, often: str, count: int) -> str:
    if last:
        few = len(shots) < FEWEST_TO_TELL
        return "few shots kept yet, so from the last one" if few else "from that last one"
    if often:
        return (
            f"{spoken_number(count)} of your last {spoken_number(len(shots))} were {often.replace('_', ' ')}"
        )
    return "too few shots kept to tell, so what most need"


def _of_those_offered(desk: Desk, shots: list[Shot], offered: list[str], last: str) -> tuple[str, str]:
    """Of the kinds offered the one that went wrong most of late, and how that is said; one alone needs no reason."""
    if len(offered) < 2:
        return (offered[0] if offered else ""), ""
    gone_wrong = Counter(_kind_of_shot(shot) for shot in shots if not _went_well(desk, shot))
    most = max(offered, key=lambda kind: (gone_wrong[kind], kind == last, kind == "putt"))
    name = lore_data()["practice_names"][most]
    why = (
        "it cost you most"
        if gone_wrong[most]
        else "as in the last one"
        if most == last
        else "most shots go there"
    )
    return most, f"{name}: {why}" if gone_wrong[most] or most in (last, "putt") else name


def _kind_of_shot(shot: Shot) -> str:
    if shot.situation.lie in IN_SAND:
        return "sand"
    if shot.situation.lie is Lie.GREEN:
        return "putt"
    return "chip" if (shot.situation.pin_m or 0.0) < CHIP_UP_TO_M else "pitch"


def _went_well(desk: Desk, shot: Shot) -> bool:
    left_m = 0.0 if shot.result.holed else shot.result.distance_m
    good_m = TAP_IN_M if shot.situation.lie is Lie.GREEN else GOOD_M
    wrong = fault_of(shot.result, shot.situation, desk.bag)
    return left_m <= good_m if left_m is not None else not wrong


def in_unit(drill: str, unit: Unit) -> str:
    """A drill with its lengths as the player counts them.

    >>> in_unit("ten putts from thirty feet", Unit.METRES)
    'ten putts from nine metres'
    """
    if unit is Unit.METRES:
        for feet, metres in lore_data()["in_metres"].items():
            drill = drill.replace(feet, metres)
    return drill


def _timed(minutes: int, kind: str, other: str = "") -> str:
    """A plan for so many minutes: half of them for what needs it, the rest on touch and on the putts."""
    half, rest = minutes // 2, minutes - minutes // 2
    in_short = lore_data()["in_short"]
    short = in_short.get(kind, in_short[MOST_NEEDED])
    if minutes < HALF_AN_HOUR:
        then = in_short[other or ("chip" if kind.startswith("putt") else "putt")]
        return sentences([f"{_said(half)} on {short}", f"the other {_said(rest)} on {then}"])
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
    return next(iter(kinds_named(words)), "")


def kinds_named(words: tuple[str, ...]) -> list[str]:
    """The kinds of shot named, as the drills call them: each word by the first kind it fits, a green's by its putts."""
    kinds = [
        kind
        for kind, said in lore_data()["practice_words"].items()
        if not set(said.split()).isdisjoint(words)
    ]
    return [kind for kind in kinds if not (kind == "sand" and "lip" in kinds)]


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
