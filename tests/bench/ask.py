"""How long a player waits for whole processes: a plain script, ``python tests/bench/ask.py``.

Prints the milliseconds (median and slowest of five) of ``caddie --help`` and of one ``caddie ask``, and what
the words, the plan and the reply took inside the latter, as told by the answer itself.
"""

import json
import subprocess
import sys
import time

import numpy as np

REPEATS = 5
START = "import sys; sys.argv[0] = 'caddie'; from caddie.cli import run; run()"
SENTENCE = "seventy yards, fairway, bunker short, flag in the middle, wind in my face"


def timed(*arguments: str) -> tuple[list[float], str]:
    """Milliseconds of each run and the last output."""
    taken, output = [], ""
    for _ in range(REPEATS):
        started = time.perf_counter()
        done = subprocess.run(
            [sys.executable, "-c", START, *arguments], capture_output=True, text=True, check=True
        )
        taken.append((time.perf_counter() - started) * 1e3)
        output = done.stdout
    return taken, output


def main() -> None:
    for arguments in (("--help",), ("ask", SENTENCE, "--json")):
        taken, output = timed(*arguments)
        print(f"caddie {arguments[0]:8} median {np.median(taken):6.0f} ms   slowest {max(taken):6.0f} ms")
    print(
        "inside it:", ", ".join(f"{part} {ms:.1f} ms" for part, ms in json.loads(output)["timing_ms"].items())
    )


if __name__ == "__main__":
    main()
