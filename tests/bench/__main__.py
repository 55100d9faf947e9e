"""The benchmark: ``python tests/bench`` prints one table of everything that is measured of the caddie.

Needs ``pip install '.[test]'``, and ``'.[bench]'`` for the neural voice. ``--quick`` measures little
of each. Times are of the machine and the moment; ratios are of one run.
"""

import argparse
import contextlib
import importlib
import json
import os
import sys
import tempfile
import time
from pathlib import Path

from machine import head, load
from rows import Part, Row, Size
from table import as_object, markdown, plain

PARTS = {
    "start": "cold_start",
    "words": "words",
    "plan": "plan",
    "choice": "choice",
    "flight": "flight",
    "putt": "putt",
    "keep": "keep",
    "memory": "memory",
    "talk-back": "talk_back",
    "corpus": "corpus",
    "speech": "speech",
}
"""What ``--only`` takes, and the module of each."""
RESULTS = Path(__file__).with_name("RESULTS.md")
BEGINS, ENDS = "<!-- benchmark: written by python tests/bench --write -->", "<!-- end of benchmark -->"


def part(name: str) -> Part:
    found: Part = importlib.import_module(PARTS[name]).PART
    return found


def measured(name: str, size: Size) -> list[tuple[str, Row | None]]:
    """The rows of a part under all of its names; a row whose name the part does not announce is a defect."""
    begun = time.perf_counter()
    found = part(name)
    rows = {row.name: row for row in found.measure(size)}
    if stray := rows.keys() - set(found.names):
        raise AssertionError(f"{name} does not announce {sorted(stray)}")
    print(f"{name}: {time.perf_counter() - begun:.0f} s", file=sys.stderr, flush=True)
    return [(each, rows.get(each)) for each in found.names]


def write(table: str) -> None:
    """Put the table between the marks of RESULTS.md."""
    before, begins, rest = RESULTS.read_text(encoding="utf-8").partition(BEGINS)
    _, ends, after = rest.partition(ENDS)
    if not ends:
        sys.exit(f"{RESULTS.name} has no lines {BEGINS} and {ENDS}")
    RESULTS.write_text(f"{before}{begins}\n{table}\n{ends}{after}", encoding="utf-8")


def main() -> None:
    options = argparse.ArgumentParser(prog="python tests/bench", description=__doc__.splitlines()[0])
    options.add_argument("--only", metavar="PARTS", help=f"comma between: {', '.join(PARTS)}")
    options.add_argument("--quick", action="store_true", help="few repeats, one voice: to see that it works")
    options.add_argument(
        "--clips", type=int, default=20, help="sentences of each kind a robotic voice speaks"
    )
    options.add_argument("--names", action="store_true", help="print the names of the rows, measure nothing")
    how = options.add_mutually_exclusive_group()
    how.add_argument("--markdown", action="store_true", help="the rows as in RESULTS.md")
    how.add_argument("--json", action="store_true", help="one object")
    how.add_argument(
        "--write", action="store_true", help="replace the table in RESULTS.md; of a whole run only"
    )
    chosen = options.parse_args()
    wanted = chosen.only.split(",") if chosen.only else list(PARTS)
    if unknown := set(wanted) - PARTS.keys():
        options.error(f"no part is called {', '.join(sorted(unknown))}: use {', '.join(PARTS)}")
    if chosen.write and chosen.only:
        options.error("--write replaces the whole table: leave --only out")
    if chosen.names:
        print("\n".join(name for each in wanted for name in part(each).names))
        return
    size = Size(chosen.quick, chosen.clips)
    begun, load_before = time.perf_counter(), load()
    with tempfile.TemporaryDirectory() as folder:
        # A data directory of its own: nothing of the player's is read, and the recogniser is taught anew.
        os.environ["CADDIE_HOME"] = folder
        rows = [row for each in PARTS if each in wanted for row in measured(each, size)]
    about = {
        **head(),
        "load": f"{load_before} at the start, {load()} at the end",
        "run": f"{'quick' if size.quick else 'full'}, {(time.perf_counter() - begun) / 60:.0f} minutes",
    }
    if chosen.json:
        print(json.dumps(as_object(about, rows), ensure_ascii=False))
    elif chosen.write:
        write(markdown(about, rows))
    else:
        print((markdown if chosen.markdown else plain)(about, rows))


if __name__ == "__main__":
    with contextlib.suppress(KeyboardInterrupt):
        main()
