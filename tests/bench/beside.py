"""Where the benchmark finds what the tests already know: the corpus, the sentences, the reference flight."""

import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]

for _room in ("shared", "range", "ball", "voice"):
    sys.path.append(str(TESTS / _room))
