"""Nothing but the model download may use the network: every command of the application runs without one.

Two nets. A guard in every Python process, the speech child included, refuses to connect, to send and to
look up a name, and writes down who asked, so that a try that was swallowed counts too. It cannot see libraries
that open sockets of their own; where `unshare` may be used, the kernel gives the processes no network at all besides.
"""

import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import zipfile
from pathlib import Path
from urllib.request import HTTPCookieProcessor, build_opener

import numpy as np
import pytest
import typer
from invented import invented_season
from started import started_before
from wav_files import write_wav

from caddie.bag.file import save_bag
from caddie.cli import app
from caddie.log.store import Log
from caddie.places import shipped

ROOT = Path(__file__).parents[2]
COMMANDS = {
    "ask": (["seventy yards, fairway, bunker short", "--out", "reply.wav", "--picture", "shot.svg"], ""),
    "understand": (["forty from heavy rough"], ""),
    "hear": (["said.wav", "--out", "heard.wav"], ""),
    "talk": ([], "forty out\nrough\nfinished eight feet past\nbye\n"),
    "card": (["card.pdf", "--yes"], ""),
    "report": (["--out", "report.html", "--yes"], ""),
    "bag new": (["--bag", "new.toml", "--yes"], "\n" * 40),
    "bag show": (["--picture", "bag.svg"], ""),
    "bag check": ([], ""),
    "bag import": (["session.csv", "--yes"], ""),
    "bag fit": (["--yes"], ""),
    "practice range": (["--yes"], "63, left\nthin\nfinish\n"),
    "practice next": ([], ""),
    "practice rehearse": (["--balls", "1", "--advice"], "six feet short\n"),
    "practice drill": ([], ""),
    "practice game": (["nearest"], "six feet\nstop\n"),
    "log show": ([], ""),
    "log undo": (["--yes"], ""),
    "log export": (["--out", "shots.csv", "--yes"], ""),
    "log take-over": (["--yes"], ""),
    "log teach": (["--yes"], ""),
    "log forget": (["--all", "--yes"], ""),
    "notes import": (["marram_links.toml", "--yes"], ""),
    "notes hole": (["4", "--tell", "falls left to right", "--yes"], ""),
    "notes show": ([], ""),
    "notes course": (["--out", "course.html", "--yes"], ""),
    "notes words": (["--teach", "badlands=heavy rough"], ""),
    "notes settings": (["--greens", "10"], ""),
    "notes export": (["--out", "course.toml", "--yes"], ""),
    "notes undo": (["--yes"], ""),
    "notes forget": (["--all", "--yes"], ""),
    "page devices": ([], ""),
    "voice check": ([], ""),
    "voice try": (["--yes"], ""),
    "voice model": (["--from", "model.zip", "--yes"], ""),
}
MAY_FAIL = ("hear", "voice check", "voice try", "bag new")
"""A machine without sound, or words that this recogniser does not hear, are told with exit code 2."""
SERVES = "page"
"""It goes on until it is stopped, and is tried on its own."""

GUARD = """
import os, sys
def guard(event, arguments):
    speaks = event in ("socket.connect", "socket.sendto", "socket.sendmsg") and isinstance(arguments[1], tuple)
    if speaks or event in ("socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr"):
        with open(os.environ["ASKED"], "a") as asked:
            asked.write(f"{' '.join(sys.argv[1:3])}: {event}\\n")
        raise OSError("the network was asked for")
sys.addaudithook(guard)
"""
RUN_ALL = """
import io, json, sys
import caddie.cli.spoken
from caddie.cli import run
caddie.cli.spoken.TRAINING_SENTENCES = 60
ended = {}
for name, (words, typed) in json.loads(sys.argv[1]).items():
    sys.argv = ["caddie", *name.split(), *words]
    sys.stdin = io.StringIO(typed)
    try:
        run()
    except SystemExit as end:
        ended[name] = end.code or 0
print("\\n" + json.dumps(ended))
"""


def leaves(group, before=()):
    for name, command in group.commands.items():
        if hasattr(command, "commands"):
            yield from leaves(command, (*before, name))
        if getattr(command, "invoke_without_command", True):
            yield " ".join((*before, name))


def test_every_command_is_tried():
    commands = set(leaves(typer.main.get_command(app)))
    assert {*COMMANDS, SERVES} == commands, "give a new command a line above"


@pytest.fixture
def guarded(tmp_path, home):
    """The environment of a process that the guard watches; the guard writes into ``tmp_path / "asked"``."""
    guard = tmp_path / "guard"
    guard.mkdir()
    (guard / "sitecustomize.py").write_text(GUARD)
    (tmp_path / "asked").touch()
    return {
        **os.environ,
        "PYTHONPATH": os.pathsep.join([str(guard), str(ROOT)]),
        "CADDIE_HOME": str(started_before(home)),
        "ASKED": str(tmp_path / "asked"),
    }


@pytest.fixture
def offline(tmp_path, home, bag, guarded):
    """Run commands in a process without a network; how each ended, and who asked for the network."""
    work = tmp_path / "work"
    work.mkdir()
    save_bag(bag, home / "bag.toml")
    with Log() as log:
        log.add_all(invented_season(1))
    shutil.copy(shipped("demo_bag/range_session.csv"), work / "session.csv")
    shutil.copy(shipped("demo_bag/marram_links.toml"), work / "marram_links.toml")
    write_wav(work / "said.wav", (8000 * np.sin(np.arange(16_000) / 9)).astype(np.int16), 16_000)
    with zipfile.ZipFile(work / "model.zip", "w") as archive:
        archive.writestr("small/am/final.mdl", "x" * 100)

    def run(commands):
        done = subprocess.run(
            [*without_network(), sys.executable, "-c", RUN_ALL, json.dumps(commands)],
            capture_output=True,
            text=True,
            cwd=work,
            env=guarded,
            timeout=300,
        )
        assert "should not happen" not in done.stderr, done.stderr
        asked = (tmp_path / "asked").read_text()
        return json.loads(done.stdout.splitlines()[-1]), asked, done.stderr

    return run


def without_network():
    """What to put before a command so that the kernel gives it no network, where that is allowed."""
    unshare = shutil.which("unshare")
    if unshare and subprocess.run([unshare, "-rn", "true"], capture_output=True).returncode == 0:
        return [unshare, "-rn"]
    return []


def test_no_command_needs_the_network(offline):
    ended, asked, errors = offline(COMMANDS)
    assert not asked
    assert set(ended) == set(COMMANDS)
    failed = {name: code for name, code in ended.items() if code != 0 and name not in MAY_FAIL}
    assert not failed, errors
    assert all(code in (0, 2) for code in ended.values())


@pytest.mark.parametrize("options", [(), ("--lan", "--address", "127.0.0.2")])
def test_the_page_is_served_without_asking_for_the_network(tmp_path, guarded, options):
    """Only what a browser on this machine asks for passes through: the guard sees the page ask for nothing."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    start = "from caddie.cli import run; run()"
    command = [sys.executable, "-u", "-c", start, "page", "--no-open", "--port", str(port), *options]
    page = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=tmp_path, env=guarded)
    try:
        address = page.stdout.readline().removeprefix("Open ").strip()
        with build_opener(HTTPCookieProcessor()).open(address, timeout=60) as answer:
            assert "caddie" in answer.read().decode()
    finally:
        page.send_signal(signal.SIGINT)
        page.communicate(timeout=60)
    assert (tmp_path / "asked").read_text() == ""


def test_the_guard_stops_the_one_command_that_uses_the_network(offline):
    ended, asked, errors = offline({"voice model": (["--fetch", "--yes"], "")})
    assert ended == {"voice model": 2}
    assert asked.startswith("voice model: ")
    assert "no network or no answer" in errors
