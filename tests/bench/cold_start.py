"""How long a player waits for whole processes, and what the time of an answer goes to."""

import json
import subprocess
import sys
import time

from rows import Part, Row, Size, times_row

START = "import sys; sys.argv[0] = 'caddie'; from caddie.cli import run; run()"
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
    return rows + [times_row(name, inside[part], "ms", "runs") for name, part in INSIDE.items()]


PART = Part((*WHOLE, *INSIDE), measure)
