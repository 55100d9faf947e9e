"""Commands killed in the midst of their writing: ``python tests/shared/kills.py --kills 30 --seed 1 talk range``.

Each kill starts the real command and sends SIGKILL: after a time drawn from the seed, within what a whole run
takes, or in place of its so-manieth touch of a file in the home. Then the same home is read again. *Lost* is
what the command had acknowledged and is not there; *half* is what cannot be read, or is there in part.
"""

import argparse
import contextlib
import json
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "shared")]

from invented import invented_season  # noqa: E402
from started import started_before  # noqa: E402

from caddie.bag.file import load_bag, save_bag  # noqa: E402
from caddie.errors import CaddieError  # noqa: E402
from caddie.log.lessons import taught  # noqa: E402
from caddie.log.store import Log  # noqa: E402
from caddie.notes.notebook import read_notes  # noqa: E402
from caddie.places import shipped  # noqa: E402
from caddie.range.csv_import import import_csv  # noqa: E402
from caddie.range.session import resume_range  # noqa: E402
from caddie.units import spoken_number  # noqa: E402

MOST_TOUCHES = 16
STARTED = """
import os, signal, sys
import caddie.cli
left, home = int(os.environ["KILL_AT"]), os.environ["CADDIE_HOME"]
def touched(event, arguments):
    global left
    if event not in ("open", "os.rename", "os.mkdir", "os.chmod", "os.remove", "os.truncate", "sqlite3.connect"):
        return
    if home not in str(arguments[0]) or event == "open" and not arguments[2] & (os.O_WRONLY | os.O_RDWR):
        return
    left -= 1
    if not left:
        os.kill(os.getpid(), signal.SIGKILL)
sys.addaudithook(touched)
print("begun", flush=True)
caddie.cli.run()
"""


@dataclass
class Killed:
    """What kills of one command came to."""

    command: str
    kills: int = 0
    ended_before: int = 0
    """How many had ended by themselves when they were to be killed."""
    acknowledged: int = 0
    lost: list[str] = field(default_factory=list)
    half: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        return (
            f"{self.command}: {self.kills} kills ({self.ended_before} after its end), {self.acknowledged} "
            f"acknowledged, {len(self.lost)} lost, {len(self.half)} half written"
        )


Check = Callable[[Path, str, Killed], None]
"""Looks at the home after a kill: what was printed, and what it is told to."""


def killed_run(
    home: Path, words: Sequence[str], lines: Sequence[str], delay_s: float | None, touches: int
) -> tuple[str, bool]:
    """What a command had printed when it was killed, and whether it had ended by then.

    It is killed ``delay_s`` after its first line, or, when that is None, in place of a touch of a file.
    """
    command = subprocess.Popen(
        [sys.executable, "-u", "-c", STARTED, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "CADDIE_HOME": str(home),
            "KILL_AT": str(touches if delay_s is None else 0),
        },
    )
    assert command.stdin is not None
    assert command.stdout is not None
    said: list[bytes] = [command.stdout.readline()]
    reader = threading.Thread(target=lambda: said.extend(iter(command.stdout.readline, b"")))
    reader.start()
    with contextlib.suppress(OSError):
        command.stdin.write("".join(f"{line}\n" for line in lines).encode())
        command.stdin.close()
    give_up = time.monotonic() + 60
    while lines and len(said) < 2 and command.poll() is None and time.monotonic() < give_up:
        time.sleep(0.002)
    with contextlib.suppress(subprocess.TimeoutExpired):
        command.wait(60 if delay_s is None else delay_s)
    if command.poll() is None:
        command.kill()
    command.wait()
    reader.join()
    command.stdout.close()
    return b"".join(said).decode(errors="replace"), command.returncode != -signal.SIGKILL


def check_talk(home: Path, said: str, so_far: Killed) -> None:
    """Each turn that says it was logged is a shot in the log."""
    turns = []
    for line in said.splitlines()[1:]:
        with contextlib.suppress(ValueError):
            turns.append(json.loads(line))
    told = sum(turn["logged"] for turn in turns)
    so_far.acknowledged += told
    if not (home / "log.sqlite3").exists():
        kept = 0
    else:
        with Log(home / "log.sqlite3") as log:
            kept = len(log.entries())
            if log.damaged() != ([], []) or log.rows("PRAGMA integrity_check") != [("ok",)]:
                so_far.half.append(f"{home}: the log is damaged")
    if kept < told:
        so_far.lost.append(f"{home}: {told} shots told, {kept} kept")


def check_notes(home: Path, said: str, so_far: Killed) -> None:
    """Each hole that was said to be noted is in the notes, whole, and so is each word."""
    told = set()
    for line in said.splitlines()[1:]:
        with contextlib.suppress(ValueError):
            spoken = json.loads(line)["spoken"]
            told |= set(re.findall(r"Noted, (hole [a-z-]+)", spoken)) | set(
                re.findall(r"^(\w+) means", spoken)
            )
    so_far.acknowledged += len(told)
    notes = read_notes()
    so_far.half += list(notes.problems)
    so_far.half += [f"{home}: {note.title} is half there" for note in notes.holes if note.depth_m is None]
    kept = {f"hole {spoken_number(note.number)}" for note in notes.holes}
    kept |= {word.capitalize() for word in notes.words}
    if told - kept:
        so_far.lost.append(f"{home}: {sorted(told - kept)} were told")


def check_range(home: Path, said: str, so_far: Killed) -> None:
    """Each ball that was answered is in the journal or, once the session is over, in the bag's sessions."""
    told = said.count("> thin.")
    so_far.acknowledged += told
    kept = 0
    for path in (home / "range").glob("*.jsonl"):
        if not path.read_bytes().count(b"\n"):
            continue
        with resume_range(path) as session:
            kept = max(kept, len(session.shots))
    if kept < told:
        so_far.lost.append(f"{home}: {told} balls told, {kept} kept")
    for path in (home / "sessions").glob("*.csv"):
        balls = len(import_csv(path, load_bag(home / "bag.toml")).session.shots)
        if balls != kept:
            so_far.half.append(f"{path}: {balls} of {kept} balls")


def check_import(home: Path, said: str, so_far: Killed) -> None:
    """A kept session is whole, and one that was told is there."""
    kept = list((home / "sessions").glob("*.csv"))
    told = "Kept" in said
    so_far.acknowledged += told
    if told and not kept:
        so_far.lost.append(f"{home}: no session")
    for path in kept:
        bag = load_bag(home / "bag.toml")
        if len(import_csv(path, bag).session.shots) != len(_demo_session(bag)):
            so_far.half.append(f"{path}: some balls")


def _demo_session(bag):
    return import_csv(shipped("demo_bag/range_session.csv"), bag).session.shots


def check_fit(home: Path, said: str, so_far: Killed) -> None:
    """The bag is the one before or the fitted one, and reads."""
    told = "Written: " in said
    so_far.acknowledged += told
    new = load_bag(home / "bag.toml") != load_bag()
    if told and not new:
        so_far.lost.append(f"{home}: the bag is the one before")
    _check_bag_before(home, so_far)


def _check_bag_before(home: Path, so_far: Killed) -> None:
    for path in home.glob("bag*.toml*"):
        if "previous" in path.name and load_bag(path) != load_bag():
            so_far.half.append(f"{path}: is not the bag before")


def check_teach(home: Path, said: str, so_far: Killed) -> None:
    """The lesson counts for a bag that was taught, and only for that."""
    told = "taught." in said
    so_far.acknowledged += told
    bag = load_bag(home / "bag.toml")
    new = bag != load_bag()
    if told and not new:
        so_far.lost.append(f"{home}: the bag is the one before")
    with Log(home / "log.sqlite3") as log:
        if log.damaged() != ([], []):
            so_far.half.append(f"{home}: the log is damaged")
        if new != (taught(log, bag).up_to > 0):
            so_far.half.append(f"{home}: bag and lesson tell two stories")
    _check_bag_before(home, so_far)


def made_home(folder: Path, command: str) -> Path:
    """A home with a bag and what the command works on, in which the first start was before."""
    home = started_before(folder / "home")
    save_bag(load_bag(), home / "bag.toml")
    session = shipped("demo_bag/range_session.csv").read_bytes()
    if command == "fit":
        (home / "sessions").mkdir()
        (home / "sessions" / "2026-05-02_radar.csv").write_bytes(session)
    if command == "teach":
        with Log(home / "log.sqlite3") as log:
            log.add_all(invented_season(3))
    return home


NOTES = [f"remember hole {n} is {20 + n} yards deep and falls left to right" for n in range(1, 10)]
NOTES += [f"when I say {word} I mean heavy rough" for word in ("badlands", "wibblewood", "snowfield")]
TURNS = ["seventy yards, fairway, flag in the middle", "finished eight feet past"] * 6
RUNS: dict[str, tuple[tuple[str, ...], list[str], Check]] = {
    "talk": (("talk", "--json"), TURNS, check_talk),
    "notes": (("talk", "--json"), NOTES, check_notes),
    "range": (("practice", "range", "--balls", "200", "--yes"), ["thin"] * 200, check_range),
    "import": (("bag", "import", str(shipped("demo_bag/range_session.csv")), "--yes"), [], check_import),
    "fit": (("bag", "fit", "--yes"), [], check_fit),
    "teach": (("log", "teach", "--yes"), [], check_teach),
}


@cache
def _whole_run_s(command: str) -> float:
    """How long a command takes here and now when nothing kills it."""
    words, lines, _ = RUNS[command]
    with tempfile.TemporaryDirectory() as folder:
        home = made_home(Path(folder), command)
        begun = time.monotonic()
        killed_run(home, words, lines, None, touches=0)
        return time.monotonic() - begun


def kill(command: str, kills: int, seed: int) -> Killed:
    """Kill a command so often, each time in a home of its own, and look at what is left."""
    words, lines, check = RUNS[command]
    across_s = _whole_run_s(command)
    draw = random.Random(f"{command} {seed}")
    so_far = Killed(command)
    for _ in range(kills):
        with tempfile.TemporaryDirectory() as folder:
            home = made_home(Path(folder), command)
            os.environ["CADDIE_HOME"] = str(home)
            delay_s = draw.uniform(0, across_s) if draw.random() < 0.5 else None
            touches = draw.randint(1, MOST_TOUCHES)
            said, ended = killed_run(home, words, lines, delay_s, touches)
            so_far.kills += 1
            so_far.ended_before += ended
            try:
                check(home, said, so_far)
            except CaddieError as error:
                so_far.half.append(str(error))
    return so_far


def main() -> int:
    """Kill, and say what was lost; 1 when anything was."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("commands", nargs="*", default=list(RUNS), help=", ".join(RUNS))
    reader.add_argument("--kills", type=int, default=int(os.environ.get("CADDIE_KILLS", "30")))
    reader.add_argument("--seed", type=int, default=1)
    asked = reader.parse_args()
    bad = 0
    for command in asked.commands:
        came = kill(command, asked.kills, asked.seed)
        print(came, flush=True)
        for line in (*came.lost, *came.half):
            print(f"  {line}")
        bad += len(came.lost) + len(came.half)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
