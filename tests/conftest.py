"""What all tests share: the command line run in this process, and property tests that draw the same examples in
every run, so that a red check can be repeated.
"""

import io
import os
import sys
from dataclasses import dataclass

import pytest
from hypothesis import HealthCheck, settings

from caddie.cli import run

settings.register_profile(
    "repeatable", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile(
    "wide", max_examples=1000, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "repeatable"))


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
