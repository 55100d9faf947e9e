"""The demo bag, as it is and as the player's own; conftest files import what their folder uses."""

from pathlib import Path

import pytest

from caddie.bag import Bag, load_bag
from caddie.places import shipped


@pytest.fixture
def bag() -> Bag:
    return load_bag()


@pytest.fixture
def bag_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the demo bag as the player's own."""
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    path = tmp_path / "bag.toml"
    path.write_text(shipped("demo_bag/bag.toml").read_text(encoding="utf-8"), encoding="utf-8")
    return path
