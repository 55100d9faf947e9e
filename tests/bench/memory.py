"""The most memory that whole processes take, each a child of its own."""

import subprocess
import sys
import tempfile
from pathlib import Path

from rows import Part, Row, Size
from wav_files import write_wav

from caddie.voice.mouth import Mouth, render_at
from caddie.voice.sound import SAMPLE_RATE_HZ

ASK, HEAR, TALK = "caddie ask", "caddie hear", "caddie talk, 50 turns"
NAMES = {what: f"peak memory: {what}" for what in (ASK, HEAR, TALK)}
ANSWERED, ASKED = 0, 1
"""How a process ends."""
YARDS = "thirty thirty-five forty forty-five fifty fifty-five sixty seventy eighty ninety".split()
SAID = "seventy yards from the fairway"
# The high-water mark of the child's own pages: what getrusage tells a child holds the memory of the process
# that started it, too.
START = """
import sys
sys.argv[0] = "caddie"
from caddie.cli import run
try:
    run()
finally:
    try:
        lines = open("/proc/self/status", encoding="utf-8").read().splitlines()
        peak = next(int(line.split()[1]) for line in lines if line.startswith("VmHWM")) / 1024
    except OSError:
        import resource
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1 << 20 if sys.platform == "darwin" else 1024)
    print(f"\\npeak {peak:.1f}", file=sys.stderr)
"""


def turns() -> list[str]:
    """Ten shots of five turns: told, corrected, asked about twice, and played."""
    return [
        turn
        for yards in YARDS
        for turn in (
            f"{yards} yards, fairway, bunker short",
            "make it light rough",
            "what about the gap wedge?",
            "why?",
            "finished eight feet past",
        )
    ]


def peak_mb(arguments: list[str], typed: str = "") -> tuple[float, subprocess.CompletedProcess[str]]:
    """Peak of one child [MB], and how it ended."""
    done = subprocess.run(
        [sys.executable, "-c", START, *arguments], input=typed, capture_output=True, text=True
    )
    if done.returncode not in (ANSWERED, ASKED):
        raise AssertionError(f"caddie {arguments[0]} failed: {done.stderr}")
    return float(done.stderr.rsplit("peak ", 1)[1]), done


def measure(size: Size) -> list[Row]:
    with tempfile.TemporaryDirectory() as folder:
        recording = Path(folder) / "shot.wav"
        with Mouth() as mouth:
            write_wav(recording, render_at(mouth, SAID, SAMPLE_RATE_HZ), SAMPLE_RATE_HZ)
        # The first call teaches the recogniser, which takes more memory than listening does.
        peak_mb(["hear", str(recording)])
        children = {
            ASK: peak_mb(["ask", SAID]),
            HEAR: peak_mb(["hear", str(recording)]),
            TALK: peak_mb(["talk", "--json", "--no-log"], "\n".join(turns()) + "\n"),
        }
    if children[TALK][1].stdout.count("\n") != len(turns()):
        raise AssertionError("the talk ended early")
    return [
        Row(
            NAMES[what], peak, "MB", 1, "processes", "no plan: asked back" if done.returncode == ASKED else ""
        )
        for what, (peak, done) in children.items()
    ]


PART = Part(tuple(NAMES.values()), measure)
