import io
import sys
from dataclasses import dataclass

import pytest

from caddie.cli import run


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
