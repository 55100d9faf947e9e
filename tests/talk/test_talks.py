"""Conversations as data: every file of tests/corpus/talks, turn by turn.

A turn's expectations: ``intent``; ``says`` and ``never`` (parts of what is spoken); ``writes`` (parts of what is
written); ``asks`` (part of the question, ``""`` for none); ``known`` (facts, lengths as ``pin_yards`` or
``pin_feet``); ``unknown``;
``unchanged`` facts; ``advice`` given or not; ``logged``; ``over``; ``mode``. A talk's ``log`` is what the
log holds at its end. A talk's ``holes`` are notes it begins with; with them, or ``notes = true``, things are
remembered, and ``remembered`` is how many holes and words at its end.
"""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from caddie.log.shot import Mode, Shot
from caddie.log.store import Log
from caddie.reply.spoken import most_words
from caddie.situation import Situation
from caddie.talk.state import Turn
from caddie.units import FOOT_M, YARD_M

FOLDER = Path(__file__).parent.parent / "corpus" / "talks"
TURN_KEYS = {
    "say", "speech", "intent", "says", "never", "asks", "known", "unknown", "unchanged", "advice", "logged",
    "over", "mode", "writes",
}  # fmt: skip


def talks() -> list[dict[str, Any]]:
    return [
        talk | {"file": path.name}
        for path in sorted(FOLDER.glob("*.toml"))
        for talk in tomllib.loads(path.read_text(encoding="utf-8"))["talk"]
    ]


def fact(situation: Situation, name: str) -> Any:
    if name == "pin_yards":
        return situation.pin_m and round(situation.pin_m / YARD_M, 1)
    if name == "pin_feet":
        return situation.pin_m and round(situation.pin_m / FOOT_M, 1)
    if name == "hazards":
        return [
            f"{hazard.kind.value} {hazard.side.value if hazard.side else 'on the way'}"
            for hazard in situation.hazards
        ]
    if name == "stance":
        return [stance.value for stance in situation.stance]
    value: Any = situation
    for part in name.split("."):
        value = getattr(value, "from_" if part == "from" else part)
    return getattr(value, "value", value)


def misses(wanted: dict[str, Any], turn: Turn, before: Situation) -> list[str]:
    situation = turn.situation or Situation()
    checks: list[tuple[str, Any, Any]] = [
        (key, wanted[key], getattr(turn, key))
        for key in ("intent", "logged", "over", "mode")
        if key in wanted
    ]
    checks += [(name, value, fact(situation, name)) for name, value in wanted.get("known", {}).items()]
    checks += [(name, None, fact(situation, name)) for name in wanted.get("unknown", ())]
    if "advice" in wanted:
        checks.append(("advice", wanted["advice"], turn.advice is not None))
    if wanted.get("unchanged"):
        checks.append(("facts", before, situation))
    found = [f"{name}: wanted {want!r}, got {got!r}" for name, want, got in checks if want != got]
    spoken = turn.spoken.lower()
    found += [f"{part!r} is not said" for part in wanted.get("says", ()) if part.lower() not in spoken]
    written = turn.written.lower()
    found += [f"{part!r} is not written" for part in wanted.get("writes", ()) if part.lower() not in written]
    found += [f"{part!r} is said" for part in wanted.get("never", ()) if part.lower() in spoken]
    asks = wanted.get("asks")
    if asks is not None and (
        asks.lower() not in (turn.question or "").lower() or bool(asks) != bool(turn.question)
    ):
        found.append(f"question: wanted {asks!r}, got {turn.question!r}")
    if len(turn.spoken.split()) > most_words(turn.things):
        found.append(f"{len(turn.spoken.split())} words are spoken")
    return [f"{miss}  (spoken: {turn.spoken!r})" for miss in found]


def shot_misses(wanted: dict[str, Any], shot: Shot) -> list[str]:
    held = {
        "club": shot.club,
        "mode": shot.mode.value,
        "commitment": shot.commitment and shot.commitment.value,
        "strike": shot.result.strike and shot.result.strike.value,
        "finish": shot.result.finish and shot.result.finish.value,
        "feet": shot.result.distance_m is not None and round(shot.result.distance_m / FOOT_M, 1),
        "side": [side.value for side in shot.result.side],
        "pin_yards": shot.situation.pin_m and round(shot.situation.pin_m / YARD_M, 1),
        "lie": shot.situation.lie and shot.situation.lie.value,
        "advised": shot.advice is not None,
        "cued": shot.cue is not None,
        "sentence": shot.sentence,
    }
    return [
        f"{key}: wanted {value!r}, got {held[key]!r}" for key, value in wanted.items() if held[key] != value
    ]


@pytest.mark.parametrize("talk", talks(), ids=lambda talk: f"{talk['file']}: {talk['name']}")
def test_talk(talk: dict[str, Any], start: Any, log: Log, notebook: Any) -> None:
    remembers = notebook(talk.get("holes", "")) if "holes" in talk or "notes" in talk else None
    conversation = start(Mode(talk.get("mode", "practice")), notebook=remembers)
    found = []
    before = Situation()
    for number, wanted in enumerate(talk["turns"], start=1):
        assert wanted.keys() <= TURN_KEYS, f"unknown expectation in {wanted}"
        turn = conversation.turn(wanted["say"], from_speech=wanted.get("speech", False))
        found += [f"turn {number}, {wanted['say']!r}: {miss}" for miss in misses(wanted, turn, before)]
        before = turn.situation or Situation()
    if "log" in talk:
        shots = log.shots()
        if len(shots) != len(talk["log"]):
            found.append(f"log: wanted {len(talk['log'])} shots, got {len(shots)}")
        found += [
            f"log, shot {number}: {miss}"
            for number, (wanted, shot) in enumerate(zip(talk["log"], shots, strict=False), start=1)
            for miss in shot_misses(wanted, shot)
        ]
    if remembers is not None and "remembered" in talk:
        kept = {"holes": len(remembers.notes.holes), "words": len(remembers.notes.words)}
        if kept != talk["remembered"]:
            found.append(f"remembered: wanted {talk['remembered']}, got {kept}")
    assert not found, "\n" + "\n".join(found)


def test_there_are_enough_talks() -> None:
    names = [talk["name"] for talk in talks()]
    assert len(names) >= 40
    assert len(set(names)) == len(names)
