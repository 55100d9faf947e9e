"""What the figures were measured on, without anything that names the machine or its owner."""

import os
import platform
from datetime import UTC, datetime
from importlib.metadata import version


def load() -> str:
    """Load averages of 1, 5 and 15 minutes, where the system has them."""
    try:
        return " ".join(f"{average:.1f}" for average in os.getloadavg())
    except (AttributeError, OSError):
        return "unknown"


def cores() -> int:
    """Processor cores this process may use."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:
        return os.cpu_count() or 1


def head() -> dict[str, str]:
    """Date, machine and versions."""
    packages = ", ".join(f"{name} {version(name)}" for name in ("numpy", "scipy", "spacy", "pocketsphinx"))
    return {
        "date": datetime.now(UTC).date().isoformat(),
        "machine": f"{cores()} cores, {platform.system()} {platform.machine()}",
        "software": f"{platform.python_implementation()} {platform.python_version()}, {packages}",
    }
