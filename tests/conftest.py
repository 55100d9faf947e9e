"""What all tests share: the command line run in this process, property tests that draw the same examples in every
run, so that a red check can be repeated, the tests left out unless asked for, and one worker for each core.
"""

import io
import os
import sys
import time
from collections import Counter
from dataclasses import dataclass

import pytest
from hypothesis import HealthCheck, settings

from caddie.cli import run
from caddie.cli.spoken import further_training, training
from caddie.voice.neural_ears import NeuralEars

for profile, drawn in {
    "repeatable": {"derandomize": True, "max_examples": 30},
    "many": {"derandomize": True, "max_examples": 100},
    "wide": {"max_examples": 1000},
    "long": {"max_examples": 12_500},
}.items():
    settings.register_profile(profile, deadline=None, suppress_health_check=[HealthCheck.too_slow], **drawn)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "repeatable"))

LEFT_OUT = {
    "rare": "guards against rare things, for minutes",
    "system_audio": "needs sound devices and human recordings "
    "(Debian: pulseaudio pulseaudio-utils pocketsphinx-testdata)",
    "browser": "opens report and page in headless Chromium (Debian: chromium)",
    "wheel": "installs the program in empty environments, from the network",
}
"""The markers of tests that run only when ``-m`` names their marker, and why."""
_left_out = pytest.StashKey[Counter[str]]()
LONGEST_BUILD_S = 300


def pytest_configure(config):
    config.stash[_left_out] = Counter()
    for marker, reason in LEFT_OUT.items():
        config.addinivalue_line("markers", f"{marker}: {reason}; run with -m {marker}")


def pytest_collection_modifyitems(config, items):
    unwanted = [marker for marker in LEFT_OUT if marker not in config.option.markexpr]
    kept, left = [], []
    for item in items:
        marker = next((each for each in unwanted if item.get_closest_marker(each)), None)
        (left if marker else kept).append(item)
        if marker:
            config.stash[_left_out][marker] += 1
    config.hook.pytest_deselected(items=left)
    items[:] = kept


@pytest.hookimpl(tryfirst=True)
def pytest_cmdline_main(config):
    """Where pytest-xdist is there, whole folders run in one process for each core.

    Single files are quicker in this process; of sound, browser and installing the machine has one.
    """
    if hasattr(config, "workerinput"):
        return  # a worker passes here too, and would start workers of its own
    folders = any(not argument.partition("::")[0].endswith(".py") for argument in config.args)
    alone = any(marker in config.option.markexpr for marker in LEFT_OUT if marker != "rare")
    in_worker = "PYTEST_XDIST_WORKER" in os.environ  # a worker that starts workers never ends
    if not in_worker and folders and not alone and getattr(config.option, "numprocesses", 0) is None:
        config.option.numprocesses = "auto"
        config.option.dist = "worksteal"


def pytest_sessionfinish(session):
    if hasattr(session.config, "workeroutput"):
        session.config.workeroutput["left_out"] = dict(session.config.stash[_left_out])


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node):
    node.config.stash[_left_out] = Counter(getattr(node, "workeroutput", {}).get("left_out"))


def pytest_terminal_summary(terminalreporter, config):
    for marker, count in config.stash[_left_out].items():
        terminalreporter.write_line(f"{count} tests left out that {marker} marks: {LEFT_OUT[marker]}")


@pytest.fixture(scope="session")
def recogniser_files(tmp_path_factory):
    """A data directory with what the player's recogniser is taught, built once for all workers."""
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    home, done = shared / "taught", shared / "taught once"
    try:
        home.mkdir()
    except FileExistsError:
        until = time.monotonic() + LONGEST_BUILD_S
        while not done.exists():
            assert time.monotonic() < until, "the worker that builds the recogniser's files does not end"
            time.sleep(0.2)
    else:
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("CADDIE_HOME", str(home))
            NeuralEars(training(), further=further_training()).close()
        done.touch()
    return home


@dataclass(frozen=True)
class Ended:
    code: int
    out: str
    err: str


@pytest.fixture
def caddie(monkeypatch, capsys, tmp_path):
    """Run the command line in this process: ``caddie("ask", "seventy yards")``."""
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "home"))

    def command(*words, typed=""):
        monkeypatch.setattr(sys, "argv", ["caddie", *words])
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        with pytest.raises(SystemExit) as ended:
            run()
        out, err = capsys.readouterr()
        return Ended(int(ended.value.code or 0), out, err)

    return command
