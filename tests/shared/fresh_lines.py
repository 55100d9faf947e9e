"""Score lines of people who never saw the grammar: ``python tests/shared/fresh_lines.py FILE...`` from anywhere.

A file is written as ``tests/corpus/WRITING.md`` tells. Conventions that a writer cannot know are not counted: that a
putt lies on the green, that a slight fall has a slope, on which side ground lies that is crossed. With ``--totals``
the lines stay unread: only the figures are printed.
"""

import sys
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import utterances
from utterances import Facts

from caddie.words import Intent, understand

GROUND = ("ridge", "tier", "swale", "upslope", "false_front", "run_off")
UNWRITTEN = (
    "lie", "fall_slope", "side_slope", "greenside", "approximate", "corrected", "depth", "width", "open_sides",
    "deep_bunker",
)  # fmt: skip
"""Facts that are not held against a line that does not write them."""


@dataclass
class Tally:
    """Facts and lines of one kind."""

    facts: int = 0
    right: int = 0
    wrong: int = 0
    lines: int = 0
    whole: int = 0
    shown: list[str] = field(default_factory=list)

    def add(self, raw: dict[str, Any]) -> None:
        line = utterances.line_of("distances", raw | {"origin": "fresh"})
        reading = utterances.read(line)
        wanted = {_crossed(key): value for key, value in line.facts.items() if key != "corrected"}
        got = {_crossed(key): value for key, value in reading.got.items()}
        for key in UNWRITTEN:
            if key not in wanted and (key != "lie" or got.get("lie") == "green"):
                got.pop(key, None)
        if "range" in wanted:
            got.pop("pin", None)
        missed = sorted(key for key in wanted.keys() | got.keys() if wanted.get(key) != got.get(key))
        self.facts += len(wanted)
        self.right += sum(wanted[key] == got.get(key) for key in wanted)
        self.wrong += sum(got[key] != wanted.get(key) for key in got)
        self.lines += 1
        self.whole += not missed
        if missed:
            told = [f"      {key}: wanted {wanted.get(key)!r}, got {got.get(key)!r}" for key in missed]
            self.shown.append("\n".join([line.say, *told]))

    def __str__(self) -> str:
        return (
            f"facts {self.right} of {self.facts}, wrong or invented {self.wrong}, "
            f"wholly right {self.whole} of {self.lines}"
        )


def _crossed(key: str) -> str:
    kind, *rest = key.split()
    if kind == "hazard" and rest[0] in GROUND and rest[1] == "short":
        return " ".join([kind, rest[0], "-", *rest[2:]])
    return key


def main() -> None:
    """Score the files named on the command line."""
    tallies: dict[str, Tally] = {"utterances": Tally(), "turns": Tally()}
    idle, taken = 0, []
    for name in sys.argv[1:]:
        if name == "--totals":
            continue
        written: Facts = tomllib.loads(Path(name).read_text(encoding="utf-8"))
        for kind, tally in tallies.items():
            for raw in written.get(kind, ()):  # type: ignore[attr-defined]
                tally.add(raw)
        for text in written.get("off_topic", ()):  # type: ignore[attr-defined]
            idle += 1
            if understand(text).intent not in (Intent.OUT_OF_SCOPE, Intent.GREETING):
                taken.append(text)
    for kind, tally in tallies.items():
        if "--totals" not in sys.argv:
            print("\n".join(tally.shown))
        print(f"{kind}: {tally}")
    print(
        f"other talk taken: {len(taken)} of {idle}",
        *([] if "--totals" in sys.argv else taken),
        sep="\n      ",
    )


if __name__ == "__main__":
    main()
