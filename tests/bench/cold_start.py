"""How long a player waits for whole processes, what that is over the least any Python program with numpy and
pydantic costs, and what the time of an answer goes to.
"""

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import beside  # noqa: F401  finds children
from children import START, caddie, over_floor, ratio
from rows import Part, Row, Size, times_row

from caddie.log.export import read_lines
from caddie.log.store import Log
from caddie.places import shipped

SENTENCE = "seventy yards, fairway, bunker short, flag in the middle, wind in my face"
WHOLE = {
    "caddie --help, whole process": ("--help",),
    "caddie bag show, whole process": ("bag", "show"),
    "caddie ask, whole process": ("ask", SENTENCE, "--json"),
}
INSIDE = {
    "caddie ask, words in it": "words",
    "caddie ask, plan in it": "plan",
    "caddie ask, reply in it": "reply",
}
FLOOR = "a Python that imports numpy and pydantic, processor time"
OVER = {
    "caddie ask over that": "ask",
    "caddie bag show over that": "bag show",
    "caddie log show over that": "log show",
    "caddie card, HTML, over that": "card html",
    "caddie card, PDF, over that": "card pdf",
    "caddie --help over that": "help",
}


def over_the_floor(runs: int) -> list[Row]:
    """Processor times of whole commands over the floor's, run in turn."""
    with tempfile.TemporaryDirectory() as folder:
        log, html, pdf = (str(Path(folder) / name) for name in ("log.sqlite3", "card.html", "card.pdf"))
        with Log(Path(log)) as written:
            written.add_all(read_lines(shipped("demo_bag/round.jsonl")))
        commands = {
            "ask": caddie("ask", SENTENCE),
            "bag show": caddie("bag", "show"),
            "log show": caddie("log", "show", "--log", log),
            "card html": caddie("card", html, "--yes"),
            "card pdf": caddie("card", pdf, "--yes"),
            "help": caddie("--help"),
        }
        costs = over_floor(commands, runs)
    floor = [cost.busy_ms for cost in costs["floor"]]
    rows = [times_row(FLOOR, floor, "ms", "runs")]
    for name, command in OVER.items():
        row = times_row(name, [cost.busy_ms for cost in costs[command]], "ms", "runs")
        rows.append(Row(name, ratio(costs, command), "times", row.count, "runs", f"{row.figure:.0f} ms"))
    return rows


def whole_process(*arguments: str) -> tuple[float, str]:
    """Milliseconds of one run, and what it printed."""
    begun = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", START, *arguments], capture_output=True, text=True, check=True
    )
    return (time.perf_counter() - begun) * 1e3, done.stdout


def measure(size: Size) -> list[Row]:
    repeats = size.take(11, 3)
    rows, inside = [], {part: [] for part in INSIDE.values()}
    for name, arguments in WHOLE.items():
        # The first run reads the files from the disk; a player who has asked once today does not wait for that.
        whole_process(*arguments)
        runs = [whole_process(*arguments) for _ in range(repeats)]
        rows.append(times_row(name, [taken for taken, _ in runs], "ms", "runs"))
        if arguments[0] == "ask":
            for _, printed in runs:
                for part, taken in json.loads(printed)["timing_ms"].items():
                    inside[part].append(taken)
    rows += [times_row(name, inside[part], "ms", "runs") for name, part in INSIDE.items()]
    return rows + over_the_floor(size.take(15, 3))


PART = Part((*WHOLE, *INSIDE, FLOOR, *OVER), measure)
