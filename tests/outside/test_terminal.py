"""A narrow terminal, and Ctrl-C or Ctrl-D at a question: a line and an exit code, and nothing written."""

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

import pytest

from caddie.bag.file import own_bag, save_bag
from caddie.log.shot import Shot
from caddie.log.store import Log
from caddie.places import shipped

ROOT = Path(__file__).parents[2]
COLUMNS = 20
PATIENCE_S = 40
IN_A_TERMINAL = (
    "import fcntl, os, signal, sys, termios; os.setsid(); fcntl.ioctl(0, termios.TIOCSCTTY, 0)\n"
    # A shell that starts the tests in the background has them, and so their children, ignore Ctrl-C.
    "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
    "from caddie.cli import run; run()"
)
QUESTIONS = {
    "talk": (["talk"], b"> "),
    "bag new": (["bag", "new", "--bag", "new.toml"], b"]: "),
    "practice range": (["practice", "range"], b"[y/N]: "),
    "log forget": (["log", "forget", "--all"], b"[y/N]: "),
    "voice model": (["voice", "model", "--from", "m.zip"], b"[y/N]: "),
    "practice rehearse": (["practice", "rehearse"], b"Ball one of ten"),
    "card": (["card", "card.pdf", "--bag", str(shipped("demo_bag/bag.toml"))], b"[y/N]: "),
    "a unit": (["bag", "import", "session.csv"], b"feet): "),
}
CLEAN_WITHOUT_ANSWER = ("talk", "practice rehearse")
"""These end well when nobody answers: what was said and played until then counts."""


def at_a_terminal(words, waits_for, key, folder):
    """Exit code and output of a command in a terminal of 20 columns when a key is pressed at its question."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, COLUMNS, 0, 0))
    environment = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "LINES")}
    child = subprocess.Popen(
        [sys.executable, "-c", IN_A_TERMINAL, *words],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        cwd=folder,
        env={**environment, "PYTHONPATH": str(ROOT), "TERM": "xterm"},
    )
    os.close(theirs)
    out, pressed, give_up = b"", False, time.monotonic() + PATIENCE_S
    while time.monotonic() < give_up:
        if select.select([ours], [], [], 0.1)[0]:
            try:
                piece = os.read(ours, 65536)
            except OSError:
                break
            if not piece:
                break
            out += piece
        elif not pressed and waits_for in out:
            os.write(ours, key)
            pressed = True
    child.kill()
    os.close(ours)
    assert pressed, out
    return child.wait(), out.decode(errors="replace")


@pytest.mark.parametrize("name", QUESTIONS)
@pytest.mark.parametrize("key", [b"\x03", b"\x04"], ids=["Ctrl-C", "Ctrl-D"])
def test_a_question_left_open(name, key, home, bag, tmp_path):
    save_bag(bag, own_bag())
    (tmp_path / "session.csv").write_text("club,swing,carry\n56,chest,63\n")
    (tmp_path / "card.pdf").write_bytes(b"there already")
    with Log() as log:
        log.add(Shot(sentence="kept"))
    before = own_bag().read_bytes()
    words, waits_for = QUESTIONS[name]
    code, out = at_a_terminal(words, waits_for, key, tmp_path)
    asked, _, refused = out.rpartition(waits_for.decode())
    assert "--" not in asked or name == "practice rehearse", "a question names no option"
    if key == b"\x03":
        assert code == 130, out
        assert refused.strip().endswith("^C"), out
        assert "caddie: " not in refused, out
    elif name in CLEAN_WITHOUT_ANSWER:
        assert code == 0, out
    else:
        assert (code, refused.count("caddie: ")) == (2, 1), out
        assert ("--yes" in refused) == (waits_for == b"[y/N]: "), out
    assert "Traceback" not in out
    assert "should not happen" not in out
    assert own_bag().read_bytes() == before
    with Log(read_only=True) as log:
        assert [shot.sentence for shot in log.shots()] == ["kept"]
    assert {path.name.removesuffix("-wal").removesuffix("-shm") for path in home.iterdir()} == {
        "bag.toml",
        "log.sqlite3",
    }
    assert not (tmp_path / "new.toml").exists()


def test_ctrl_c_reaches_the_command_when_the_tests_run_in_the_background(home, tmp_path):
    """A shell without job control starts ``pytest &`` with SIGINT ignored, and children inherit that (POSIX)."""
    (tmp_path / "card.pdf").write_bytes(b"there already")
    usual = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        code, out = at_a_terminal(["card", "card.pdf"], b"[y/N]: ", b"\x03", tmp_path)
    finally:
        signal.signal(signal.SIGINT, usual)
    assert code == 130, out
