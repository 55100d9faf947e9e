"""Archives of speech models, and what an installation must leave as it is."""

import zipfile
from pathlib import Path

GOOD = {"small-en/am/final.mdl": b"model" * 1000, "small-en/conf/mfcc.conf": b"--rate=16000\n"}


def archive(path: Path, files: dict[str, bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as target:
        for name, content in files.items():
            target.writestr(name, content)
    return path


def treasures(home: Path) -> dict[str, bytes]:
    """Everything in and beside the data directory, after something worth keeping was put there."""
    for name in ("log.sqlite3", "models/other/am/final.mdl", "models/other/mark", "../beside/mark"):
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_text("mine")
    return tree(home)


def tree(home: Path) -> dict[str, bytes]:
    files = [path for path in home.parent.rglob("*") if path.is_file() and path.parent != home.parent]
    return {str(path.relative_to(home.parent)): path.read_bytes() for path in files}
