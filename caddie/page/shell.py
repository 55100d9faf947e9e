"""The page's own files, read once when the server starts: what a client names is looked up, never opened."""

from dataclasses import dataclass
from pathlib import Path

_FOLDER = Path(__file__).parent / "static"
_KIND = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".webmanifest": "application/manifest+json",
}


@dataclass(frozen=True)
class ShellFile:
    """One file of the page."""

    content: bytes
    kind: str
    """Its media type."""


def shell_files() -> dict[str, ShellFile]:
    """Every file of the page by its name."""
    return {
        path.name: ShellFile(path.read_bytes(), _KIND[path.suffix])
        for path in sorted(_FOLDER.iterdir())
        if path.suffix in _KIND
    }
