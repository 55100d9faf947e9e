"""Utterances as data: what is said, and the facts that must come of it.

The lines stand in ``tests/corpus``, a file a subject; its README.md tells how a line is written.
``python tests/shared/utterances.py [SUBJECT...]`` prints precision and recall per slot, and every miss.
"""

import re
import sys
import tomllib
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from pathlib import Path
from typing import Any

from caddie.range.told import CarryAsSaid
from caddie.units import SpeedUnit, Unit, from_metres, to_metres, to_metres_per_second
from caddie.words import Expecting, Reply, Understanding, understand

CORPUS = Path(__file__).parents[1] / "corpus"
OFF_TOPIC = "off_topic"
SUBJECTS = (
    "distances", "numbers", "lies", "slopes", "green", "trouble", "wind", "clubs", "putts", "results",
    "obstacles", "corrections", "what_ifs", "remarks", "typed", "speech", OFF_TOPIC, "replies",
)  # fmt: skip
"""The files of the corpus: one that is missing, or one that is not named here, fails."""
ORIGINS = (
    "trade", "odd", "course", "unseen", "families", "families 2", "families 3", "varied", "varied 2",
    "varied 3", "varied 4", "fresh 1", "fresh 2", "fresh 3", "fresh 4", "families 4", "families 5",
    "families 6", "families 7", "families 8", "fresh 5", "fresh 6", "fresh 7", "fresh 8", "fresh 9", "fresh 10",
    "families 9", "fresh 13", "fresh 14", "fresh 15", "fresh 16", "fresh 17", "fresh 18", "fresh 19",
    "families 10", "fresh 20", "fresh 22", "fresh 23",
    "own read", "answers",
)  # fmt: skip
_HEIGHT = re.compile(r"h([0-9.]+)(ft|m)")
_UNITS = {
    "yd": Unit.YARDS,
    "pace": Unit.PACES,
    "m": Unit.METRES,
    "ft": Unit.FEET,
    "in": Unit.INCHES,
}
_SPEEDS = {"mph": SpeedUnit.MPH, "kph": SpeedUnit.KMH, "kt": SpeedUnit.KNOTS, "m/s": SpeedUnit.M_S}
_WORDS = {
    "little": 3.0,
    "plenty": 15.0,
    "light": 3.0,
    "moderate": 5.0,
    "strong": 9.0,
    "gale": 13.0,
    "fast": 11.5,
    "slow": 8.0,
    "lightning": 13.0,
}
_PLAIN = (
    "lie",
    "sitting",
    "wet",
    "dirty_grooves",
    "mud_on_ball",
    "mud_side",
    "sand_behind",
    "sand",
    "under_lip",
    "deep_bunker",
    "against",
    "unplayable",
    "hampered",
    "tall_grass",
    "obstruction",
    "in_line",
    "pin_position",
    "greenside",
    "club",
    "swing",
    "effort",
    "family",
    "flight",
    "fall",
    "side_fall",
    "firmness",
    "depth",
    "width",
    "double_break",
    "wind_from",
    "strike",
    "finish",
    "approximate",
)
Facts = dict[str, object]


@dataclass(frozen=True)
class Line:
    """One utterance of the corpus and all that must come of it."""

    say: str
    subject: str
    origin: str
    from_speech: bool
    facts: Facts
    expecting: Expecting | None = None
    """What was asked, when it is an answer."""
    among: tuple[str, ...] = ()
    """The things to choose from, when a choice was asked for."""


@dataclass(frozen=True)
class Reading:
    """A line and what was understood of it."""

    line: Line
    said: Understanding | Reply

    @cached_property
    def got(self) -> Facts:
        if isinstance(self.said, Reply):
            return answered(self.said)
        return found(self.said, self.line.facts)

    @cached_property
    def wrong(self) -> dict[str, tuple[object, object]]:
        """Wanted and got, for each fact that was missed, invented or taken for another."""
        wanted = self.line.facts
        return {
            key: (wanted.get(key, "nothing"), self.got.get(key, "nothing"))
            for key in sorted(wanted.keys() | self.got.keys())
            if wanted.get(key) != self.got.get(key)
        }

    def __str__(self) -> str:
        facts = [f"{key}: wanted {wanted}, got {got}" for key, (wanted, got) in self.wrong.items()]
        return f"{self.line.subject}: {self.line.say!r}\n      " + "\n      ".join(facts)


@dataclass(frozen=True)
class Miss:
    """A line that is known to be understood wrongly: the facts that are wrong, and why."""

    say: str
    wrong: tuple[str, ...]
    reason: str


def lines(subject: str) -> list[Line]:
    """Every line of a subject, in order; keys at the top of its file hold for each that does not differ."""
    common = tomllib.loads((CORPUS / f"{subject}.toml").read_text(encoding="utf-8"))
    utterances = common.pop("utterances")
    return [line_of(subject, common | raw) for raw in utterances]


def line_of(subject: str, raw: dict[str, Any]) -> Line:
    say, origin, from_speech = raw.pop("say"), raw.pop("origin"), raw.pop("from_speech", False)
    asked, among = raw.pop("expecting", None), tuple(raw.pop("among", ()))
    if asked is not None:
        return Line(say, subject, origin, from_speech, expected(raw), Expecting(asked), among)
    return Line(say, subject, origin, from_speech, expected({"intent": "situation"} | raw))


def known_misses() -> list[Miss]:
    data = tomllib.loads((CORPUS / "known_misses.toml").read_text(encoding="utf-8"))
    return [
        Miss(miss["say"], tuple(miss["wrong"]), limit["reason"])
        for limit in data["limit"]
        for miss in limit["misses"]
    ]


def read(line: Line) -> Reading:
    if line.expecting is not None:
        return Reading(line, understand(line.say, expecting=line.expecting, among=line.among))
    return Reading(line, understand(line.say, from_speech=line.from_speech))


def metres(text: str) -> float:
    value, unit = text.split()
    return to_metres(float(value), _UNITS[unit])


def expected(raw: Mapping[str, Any]) -> Facts:
    facts: Facts = {}
    for key, value in raw.items():
        if (
            key in ("pin", "front", "distance", "room", "behind", "sounds_like", "carry", "side_by")
            and value not in _WORDS
        ) or key in ("gap", "under"):
            facts[key] = round(metres(value), 2)
        elif key == "elevation":
            facts[key] = value if value in ("up", "down") else round(metres(value), 2)
        elif key == "wind" and value not in _WORDS:
            number, unit = value.split()
            facts[key] = round(to_metres_per_second(float(number), _SPEEDS[unit]), 2)
        elif isinstance(value, str) and value in _WORDS and key in ("room", "wind", "stimp"):
            facts[key] = _WORDS[value]
        elif key == "range":
            facts[key] = tuple(round(metres(end), 2) for end in value)
        elif key == "hazards":
            facts |= {f"hazard {_hazard(hazard)}": True for hazard in value}
        elif key in ("stance", "sides", "corrected", "open_sides", "clubs", "chosen", "gone", "not_lying"):
            facts[key] = tuple(sorted(value))
        elif key in ("fall_slope", "side_slope", "break_part", "stimp"):
            facts[key] = round(float(value), 3)
        elif key == "carries":
            facts |= {f"carry {each}": True for each in value}
        elif value is not False:
            facts[key] = value
    return facts


def answered(reply: Reply) -> Facts:
    """What was understood of an answer, written as the facts of a line are; ``problem`` is not looked at."""
    facts: Facts = {"command": reply.command, "strokes": reply.strokes, "handicap": reply.handicap}
    facts |= {"unknown": reply.unknown, "commitment": reply.commitment}
    facts["answer"] = None if reply.yes is None else "yes" if reply.yes else "no"
    if reply.ball is not None:
        ball = reply.ball
        facts |= {"side": ball.side, "strike": ball.strike}
        facts["carry"] = None if ball.carry_m is None else round(ball.carry_m, 2)
        facts["side_by"] = None if ball.side_m is None else round(abs(ball.side_m), 2)
    if reply.result is not None and reply.yes is None:
        result = reply.result
        facts |= {
            "strike": result.strike,
            "finish": result.finish,
            "sides": tuple(sorted(result.side)) or None,
        }
        facts["distance"] = None if result.distance_m is None else round(result.distance_m, 2)
    facts |= {"clubs": tuple(sorted(reply.clubs)) or None, "chosen": tuple(sorted(reply.chosen)) or None}
    facts |= {_carry(told): True for told in reply.carries}
    return {
        key: str(value) if isinstance(value, StrEnum) else value
        for key, value in facts.items()
        if value is not None
    }


def _carry(told: CarryAsSaid) -> str:
    length = "?" if told.carry_m is None else f"{from_metres(told.carry_m, Unit.YARDS):g}"
    return f"carry {told.club} {told.swing or '?'} {length}{' sand' * told.sand}"


def _hazard(text: str) -> str:
    parts = text.split()
    kind = parts.pop(0)
    side = parts.pop(0) if parts and parts[0] in ("short", "long", "left", "right", "beside") else "-"
    height = ""
    if parts and parts[-1].startswith("h"):
        height = f" high {metres(' '.join(_HEIGHT.fullmatch(parts.pop()).groups())):.2f}"
    carry = f" {metres(' '.join(parts)):.2f}" if parts else ""
    return f"{kind} {side}{carry}{height}"


def found(said: Understanding, wanted: Facts) -> Facts:
    """What was understood, written as the facts of a line are; ``wanted`` tells how closely it is looked at."""
    facts: Facts = {"intent": said.intent.value, **_figures(said), **_hazards(said)}
    situation = said.situation
    # What is denied is looked at where it is the point of a line.
    facts |= {key: getattr(said, key) for key in ("gone", "not_lying", "level_stance") if key in wanted}
    if isinstance(wanted.get("elevation"), str) and situation.elevation_m is not None:
        facts["elevation"] = "up" if situation.elevation_m > 0 else "down"
    for key in _PLAIN:
        owner = next(
            o
            for o in (said, situation, situation.green, said.result, None)
            if o is None or key in type(o).model_fields
        )
        value = situation.wind.from_ if key == "wind_from" else getattr(owner, key, None)
        if value not in (None, False) or (value is False and key in wanted):
            facts[key] = value if isinstance(value, bool) else str(value)
    several = {
        "stance": situation.stance,
        "sides": said.result.side if said.result else (),
        "corrected": said.corrected,
        "open_sides": situation.open_sides,
    }
    facts |= {key: tuple(sorted(values)) for key, values in several.items() if values}
    facts |= _ways_past(said, wanted)
    told = {"commitment": said.commitment, "down_in": said.down_in, "problem": said.problem}
    facts |= {key: value for key, value in told.items() if value}
    if said.problem and str(wanted.get("problem", "\0")) in said.problem:
        facts["problem"] = wanted["problem"]
    if "fall_slope" not in wanted and facts.get("fall_slope") == 0.0 and facts.get("side_slope", 0.0) == 0.0:
        facts.pop("fall_slope")
        facts.pop("side_slope", None)
    if wanted.get("fall_slope") == 0.0:
        facts.pop("side_slope", None)
    return facts


def _figures(said: Understanding) -> Facts:
    situation = said.situation
    numbers = {
        "pin": situation.pin_m,
        "front": situation.front_m,
        "room": situation.room_m,
        "behind": situation.behind_m,
        "elevation": situation.elevation_m,
        "wind": situation.wind.speed_m_s,
        "sounds_like": said.sounds_like_m,
        "distance": said.result.distance_m if said.result else None,
    }
    slopes = {
        "fall_slope": situation.green.fall_slope,
        "break_part": situation.green.break_part,
        "side_slope": situation.green.side_slope,
        "stimp": situation.green.stimp_ft,
    }
    facts: Facts = {key: round(value, 2) for key, value in numbers.items() if value is not None}
    if (borrow := situation.green.borrow) is not None:
        facts["borrow"] = f"{borrow.amount:g} {borrow.unit.value}{' out' if borrow.outside else ''}"
    facts |= {key: round(value, 3) for key, value in slopes.items() if value is not None}
    if said.pin_range_m:
        facts["range"] = tuple(round(end, 2) for end in said.pin_range_m)
    return facts


def _hazards(said: Understanding) -> Facts:
    facts: Facts = {}
    for hazard in said.situation.hazards:
        carry = f" {hazard.carry_m:.2f}" if hazard.carry_m is not None else ""
        height = f" high {hazard.height_m:.2f}" if hazard.height_m is not None else ""
        side = hazard.side or ("beside" if hazard.beside else "-")
        facts[f"hazard {hazard.kind} {side}{carry}{height}"] = True
    return facts


def _ways_past(said: Understanding, wanted: Facts) -> Facts:
    """How trees are got past; how high the way under them is only where a line tells it."""
    facts: Facts = {}
    for hazard in said.situation.hazards:
        if hazard.round is not None:
            facts["round"] = str(hazard.round)
        if hazard.gap_m is not None:
            facts["gap"] = round(hazard.gap_m, 2)
        if hazard.clear_m is not None and "under" in wanted:
            facts["under"] = round(hazard.clear_m, 2)
    return facts


class Score:
    """Facts right, missed and invented per slot."""

    def __init__(self, readings: Iterable[Reading]) -> None:
        self.right: Counter[str] = Counter()
        self.missed: Counter[str] = Counter()
        self.invented: Counter[str] = Counter()
        self.utterances = self.whole = 0
        for reading in readings:
            self._add(reading)

    def _add(self, reading: Reading) -> None:
        wanted, got, wrong = reading.line.facts, reading.got, reading.wrong
        self.utterances += 1
        self.whole += not wrong
        for key in wanted.keys() | got.keys():
            slot = key.split()[0]
            if key not in wrong:
                self.right[slot] += 1
                continue
            self.missed[slot] += key in wanted
            self.invented[slot] += key in got

    def __str__(self) -> str:
        rows = [f"{'slot':16}{'right':>7}{'missed':>8}{'invented':>10}{'precision':>11}{'recall':>8}"]
        for slot in sorted(self.right | self.missed | self.invented):
            right, missed, invented = self.right[slot], self.missed[slot], self.invented[slot]
            precision = right / (right + invented) if right + invented else 1.0
            recall = right / (right + missed) if right + missed else 1.0
            rows.append(f"{slot:16}{right:7}{missed:8}{invented:10}{precision:11.3f}{recall:8.3f}")
        return "\n".join([*rows, f"{self.utterances} utterances, {self.whole} wholly right"])


if __name__ == "__main__":
    readings = [read(line) for subject in sys.argv[1:] or SUBJECTS for line in lines(subject)]
    print(Score(readings))
    print(*(reading for reading in readings if reading.wrong), sep="\n")
