"""Utterances as data: what is heard, and the facts that must come of it.

Each file of ``tests/corpus`` holds ``utterances``; keys beside ``say`` are the expected facts, everything
else must stay unsaid. Keys at the top of a file hold for all of its lines. Lengths are written "56 yd".
``intent`` is "situation" unless given. A hazard reads "kind side carry unit hHEIGHT". "up" and "down" check
the sign alone, "little", "plenty", "light", "fast" the figure a word stands for.

Run this file to see precision and recall per slot, and every miss: ``python tests/words/test_corpus.py``.
"""

import sys
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from caddie.situation import Situation
from caddie.units import SpeedUnit, Unit, to_metres, to_metres_per_second
from caddie.words import Understanding, understand

CORPUS = Path(__file__).parents[1] / "corpus"
UNSEEN = "unseen"
LEAST_RIGHT = 0.97
"""Share of the facts, all files together."""
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
    "pin_position",
    "greenside",
    "club",
    "swing",
    "family",
    "flight",
    "fall",
    "side_fall",
    "firmness",
    "wind_from",
    "strike",
    "finish",
    "approximate",
)
_ABOUT = ("situation", "putt", "what_if", "correct", "result")


def metres(text: str) -> float:
    value, unit = text.split()
    return to_metres(float(value), _UNITS[unit])


def expected(line: dict[str, Any], common: dict[str, Any]) -> dict[str, object]:
    facts: dict[str, object] = {}
    raw = {"intent": "situation"} | common | line
    for key, value in raw.items():
        if key in ("say", "from_speech"):
            continue
        if key in ("pin", "front", "distance", "room", "sounds_like") and value not in _WORDS:
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
            for hazard in value:
                facts[f"hazard {_hazard(hazard)}"] = True
        elif key in ("stance", "sides", "corrected"):
            facts[key] = tuple(sorted(value))
        elif key in ("fall_slope", "side_slope", "stimp"):
            facts[key] = round(float(value), 3)
        elif value is not False:
            facts[key] = value
    return facts


def _hazard(text: str) -> str:
    parts = text.split()
    kind = parts.pop(0)
    side = parts.pop(0) if parts and parts[0] in ("short", "long", "left", "right") else "-"
    height = ""
    if parts and parts[-1].startswith("h"):
        height = f" high {metres(parts.pop()[1:].replace('ft', ' ft')):.2f}"
    carry = f" {metres(' '.join(parts)):.2f}" if parts else ""
    return f"{kind} {side}{carry}{height}"


def found(said: Understanding, wanted: dict[str, object]) -> dict[str, object]:
    facts: dict[str, object] = {"intent": said.intent.value}
    situation = said.situation
    numbers = {
        "pin": situation.pin_m,
        "front": situation.front_m,
        "room": situation.room_m,
        "elevation": situation.elevation_m,
        "wind": situation.wind.speed_m_s,
        "sounds_like": said.sounds_like_m,
        "distance": said.result.distance_m if said.result else None,
    }
    facts |= {key: round(value, 2) for key, value in numbers.items() if value is not None}
    if isinstance(wanted.get("elevation"), str) and situation.elevation_m is not None:
        facts["elevation"] = "up" if situation.elevation_m > 0 else "down"
    slopes = {
        "fall_slope": situation.green.fall_slope,
        "side_slope": situation.green.side_slope,
        "stimp": situation.green.stimp_ft,
    }
    facts |= {key: round(value, 3) for key, value in slopes.items() if value is not None}
    for hazard in situation.hazards:
        carry = f" {hazard.carry_m:.2f}" if hazard.carry_m is not None else ""
        height = f" high {hazard.height_m:.2f}" if hazard.height_m is not None else ""
        facts[f"hazard {hazard.kind} {hazard.side or '-'}{carry}{height}"] = True
    for key in _PLAIN:
        owner = next(
            o
            for o in (said, situation, situation.green, said.result, None)
            if o is None or key in type(o).model_fields
        )
        value = situation.wind.from_ if key == "wind_from" else getattr(owner, key, None)
        if value not in (None, False) or (value is False and key in wanted):
            facts[key] = value if isinstance(value, bool) else str(value)
    if situation.stance:
        facts["stance"] = tuple(sorted(situation.stance))
    if said.result and said.result.side:
        facts["sides"] = tuple(sorted(said.result.side))
    if said.corrected:
        facts["corrected"] = tuple(sorted(said.corrected))
    if said.commitment:
        facts["commitment"] = said.commitment
    if said.down_in:
        facts["down_in"] = said.down_in
    if said.pin_range_m:
        facts["range"] = tuple(round(end, 2) for end in said.pin_range_m)
    if said.problem:
        facts["problem"] = (
            wanted["problem"] if str(wanted.get("problem", "\0")) in said.problem else said.problem
        )
    if "fall_slope" not in wanted and facts.get("fall_slope") == 0.0 and facts.get("side_slope", 0.0) == 0.0:
        facts.pop("fall_slope")
        facts.pop("side_slope", None)
    if wanted.get("fall_slope") == 0.0:
        facts.pop("side_slope", None)
    return facts


class Score:
    """Hits, misses and inventions per slot."""

    def __init__(self) -> None:
        self.right: Counter[str] = Counter()
        self.missed: Counter[str] = Counter()
        self.invented: Counter[str] = Counter()
        self.lines: list[str] = []
        self.utterances = 0
        self.whole = 0

    def add(self, name: str, line: dict[str, Any], common: dict[str, Any]) -> None:
        wanted = expected(line, common)
        speech = bool(line.get("from_speech", common.get("from_speech", False)))
        got = found(understand(line["say"], from_speech=speech), wanted)
        self.utterances += 1
        wrong = []
        for key in sorted(wanted.keys() | got.keys()):
            slot = key.split()[0]
            if key in wanted and key in got and wanted[key] == got[key]:
                self.right[slot] += 1
                continue
            if key in wanted:
                self.missed[slot] += 1
            if key in got:
                self.invented[slot] += 1
            wrong.append(f"{key}: wanted {wanted.get(key, 'nothing')}, got {got.get(key, 'nothing')}")
        self.whole += not wrong
        if wrong:
            self.lines.append(f"{name}: {line['say']!r}\n      " + "\n      ".join(wrong))

    @property
    def share_right(self) -> float:
        """Right facts among all that were wanted or invented: a wrong value counts once."""
        errors = sum(max(self.missed[s], self.invented[s]) for s in self.missed | self.invented)
        right = sum(self.right.values())
        return right / (right + errors) if right + errors else 1.0

    def report(self) -> str:
        rows = [f"{'slot':16}{'right':>7}{'missed':>8}{'invented':>10}{'precision':>11}{'recall':>8}"]
        for slot in sorted(self.right | self.missed | self.invented):
            right, missed, invented = self.right[slot], self.missed[slot], self.invented[slot]
            precision = right / (right + invented) if right + invented else 1.0
            recall = right / (right + missed) if right + missed else 1.0
            rows.append(f"{slot:16}{right:7}{missed:8}{invented:10}{precision:11.3f}{recall:8.3f}")
        rows.append(
            f"{self.utterances} utterances, {self.whole} wholly right; "
            f"{self.share_right:.4f} of {sum(self.right.values())} facts"
        )
        return "\n".join([*rows, *self.lines])


def files() -> list[Path]:
    return sorted(CORPUS.glob("*.toml"))


def read(path: Path) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    lines = data.pop("utterances")
    return lines, data


def score(paths: list[Path]) -> Score:
    total = Score()
    for path in paths:
        lines, common = read(path)
        for line in lines:
            # Lines that are about something else than a shot hold none of the file's shared facts.
            shared = (
                common
                if line.get("intent", common.get("intent", "situation")) in _ABOUT
                else {key: value for key, value in common.items() if key in ("intent", "from_speech")}
            )
            total.add(path.stem, line, shared)
    return total


def tuned() -> list[Path]:
    return [path for path in files() if path.stem != UNSEEN]


def test_the_corpus_is_broad() -> None:
    counts = {path.stem: len(read(path)[0]) for path in tuned()}
    assert sum(counts.values()) >= 500
    assert counts["offtopic"] >= 100


def test_facts_of_the_corpus_are_right() -> None:
    result = score(tuned())
    assert result.share_right >= LEAST_RIGHT, result.report()


@pytest.mark.parametrize("path", [p for p in tuned() if p.stem != "offtopic"], ids=lambda path: path.stem)
def test_every_kind_is_understood(path: Path) -> None:
    result = score([path])
    assert result.share_right >= 0.93, result.report()


def test_off_topic_is_never_a_situation() -> None:
    lines, _ = read(CORPUS / "offtopic.toml")
    taken = [
        line["say"]
        for line in lines
        if understand(line["say"]).intent in ("situation", "putt", "correct", "result")
        or understand(line["say"]).situation != Situation()
    ]
    assert not taken


if (CORPUS / f"{UNSEEN}.toml").exists():

    def test_unseen_phrasings() -> None:
        result = score([CORPUS / f"{UNSEEN}.toml"])
        assert result.share_right >= LEAST_RIGHT, result.report()


if __name__ == "__main__":
    wanted = set(sys.argv[1:])
    print(score([path for path in tuned() if not wanted or path.stem in wanted]).report())
    if (CORPUS / f"{UNSEEN}.toml").exists() and not wanted:
        print("\nUnseen, never tuned to:")
        print(score([CORPUS / f"{UNSEEN}.toml"]).report())
