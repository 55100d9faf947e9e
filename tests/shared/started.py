"""A data directory in which the program was started before, as a player's mostly is."""

import os
import shutil
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]


def started_before(home: Path) -> Path:
    """The home with what the first start makes of the grammar once; made here when it is not there yet."""
    shutil.copytree(Path(_started().name, "cache"), home / "cache", dirs_exist_ok=True)
    return home


@cache
def _started() -> tempfile.TemporaryDirectory[str]:
    folder = tempfile.TemporaryDirectory()
    asked = [sys.executable, "-c", "import caddie.cli; caddie.cli.run()", "ask", "seventy yards"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "CADDIE_HOME": folder.name}
    subprocess.run(asked, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=True)
    return folder
