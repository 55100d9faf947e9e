"""What comes from outside is watched: it may take some 2 s of processor time and 500 MB, and refuses in one line.

The 2 s are those of a machine of today with nothing else to do: what takes longer is held against a piece of plain
work done right after it, which other load slows as much.

These tests speak of pipes, modes, terminals and the processor's timer, so they are those of POSIX systems.
"""

import io
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from processor_time import plain_work

from caddie.bag import load_bag
from caddie.cli import run
from caddie.errors import CaddieError
from caddie.talk.answer import answer

if os.name == "posix":
    import resource
else:
    collect_ignore_glob = ["test_*.py"]

LONGEST_S = 2.0
LONGEST_IN_PLAIN_WORK = 28
"""What 2 s are, counted in :func:`plain_work`, which takes 0.07 s."""
HANGS_S = 10.0
MOST_BYTES = 500_000_000
ROOT = Path(__file__).parents[2]


def _memory(line: str) -> int:
    """A figure of the kernel about this process [bytes]: VmRSS now, VmHWM at the peak."""
    status = Path("/proc/self/status").read_text()
    return int(status.split(f"{line}:")[1].split()[0]) * 1024


def _hangs(*_: object) -> None:
    raise AssertionError(f"took more than {HANGS_S} s of processor time")


def _check_time(took_s: float) -> None:
    if took_s < LONGEST_S:
        return
    begun = time.process_time()
    plain_work()
    plain_s = time.process_time() - begun
    assert took_s < LONGEST_IN_PLAIN_WORK * plain_s, (
        f"took {took_s:.1f} s where plain work takes {plain_s:.3f} s"
    )


def watched(act: Callable[..., object], *arguments: object) -> str:
    """What the act was refused with, or nothing; it fails when that takes too long or too much memory.

    The processor's own timer stops it in the middle, so that no hang is waited for. Memory is the rise of the
    kernel's high-water mark, which Linux can set back; elsewhere the process's peak only shows a new maximum.
    """
    linux = Path("/proc/self/clear_refs").exists()
    if linux:
        Path("/proc/self/clear_refs").write_text("5")
        before = _memory("VmRSS")
    else:
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
    begun = time.process_time()
    usual = signal.signal(signal.SIGPROF, _hangs)
    signal.setitimer(signal.ITIMER_PROF, HANGS_S)
    refusal = ""
    try:
        act(*arguments)
    except CaddieError as error:
        refusal = str(error)
    finally:
        took_s = time.process_time() - begun
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, usual)
    _check_time(took_s)
    peak = _memory("VmHWM") if linux else resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
    assert peak - before < MOST_BYTES, f"took {(peak - before) / 1e6:.0f} MB"
    assert "\n" not in refusal
    assert len(refusal) < 1500
    return refusal


@pytest.fixture(scope="session", name="watched")
def _watched():
    """Ready to watch: the first answer of a home works the grammar out, which is no part of what is watched."""
    answer("seventy yards", load_bag())
    return watched


@pytest.fixture(scope="session")
def bag():
    return load_bag()


@pytest.fixture
def home(tmp_path, monkeypatch):
    """The data directory, not made yet."""
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture
def caddie(home, monkeypatch, capsys):
    """Run the command line in this process: exit code, output, errors."""

    def command(*words, typed=""):
        monkeypatch.setattr(sys, "argv", ["caddie", *words])
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        with pytest.raises(SystemExit) as ended:
            run()
        out, err = capsys.readouterr()
        assert "should not happen" not in err
        return int(ended.value.code or 0), out, err

    return command


@pytest.fixture
def child(home):
    """Run the command line in a process of its own: ``child("ask", "seventy yards", env={...})``."""

    def start(*words, typed="", env=(), code="from caddie.cli import run; run()", **options):
        surroundings = {**os.environ, "PYTHONPATH": str(ROOT), "CADDIE_HOME": str(home), **dict(env)}
        surroundings = {name: value for name, value in surroundings.items() if value is not None}
        done = subprocess.run(
            [sys.executable, "-c", code, *words],
            **({"stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | options),
            **({} if "stdin" in options else {"input": typed.encode("utf-8", "surrogateescape")}),
            env=surroundings,
            timeout=60,
        )
        out, err = done.stdout or b"", done.stderr or b""
        assert b"Traceback" not in err, err.decode(errors="replace")
        assert b"should not happen" not in err, err.decode(errors="replace")
        return done.returncode, out.decode("utf-8", "replace"), err.decode("utf-8", "replace")

    return start
