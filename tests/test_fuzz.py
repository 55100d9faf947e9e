"""Damaged files of every kind: an answer or one clear line, never another exception, never a wait.

A profile draws more of them by hand: ``HYPOTHESIS_PROFILE=wide python -m pytest tests/test_fuzz.py``.
"""

import time
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caddie.bag import load_bag
from caddie.bag.csv_import import Wishes, import_csv
from caddie.errors import CaddieError
from caddie.log.shot import Shot
from caddie.log.store import Log
from caddie.places import shipped
from caddie.voice.sound import read_sound, write_wav

LONGEST_S = 2.0
BAG = load_bag()

edits = st.lists(
    st.tuples(
        st.floats(0, 1), st.sampled_from(["replace", "insert", "delete"]), st.binary(min_size=1, max_size=12)
    ),
    min_size=1,
    max_size=8,
)


def damaged(content: bytes, changes) -> bytes:
    """The content with bytes replaced, put in or taken out at some places."""
    body = bytearray(content)
    for place, kind, new in changes:
        at = int(place * len(body))
        if kind == "insert":
            body[at:at] = new
        elif kind == "delete":
            del body[at : at + len(new) * 7]
        else:
            body[at : at + len(new)] = new
    return bytes(body)


def refused(read, path: Path) -> str:
    """What the file was refused with, or nothing."""
    try:
        read(path)
    except CaddieError as refusal:
        return str(refusal)
    return ""


class Whole(NamedTuple):
    """A sound file and what reads it."""

    content: bytes
    read: Callable[[Path], object]

    def __repr__(self) -> str:
        return f"{len(self.content)} bytes"


def read_log(path: Path) -> None:
    with Log(path, read_only=True) as log:
        log.shots()


@pytest.fixture(scope="module")
def wholes(tmp_path_factory):
    """A sound file of each kind, and what reads it."""
    folder = tmp_path_factory.mktemp("whole")
    write_wav(folder / "said.wav", (8000 * np.sin(np.arange(4000) / 9)).astype(np.int16), 16_000)
    with Log(folder / "log.sqlite3") as log:
        log.add_all([Shot(sentence=f"seventy yards, number {number}") for number in range(40)])
    return {
        "bag.toml": Whole(shipped("demo_bag/bag.toml").read_bytes(), load_bag),
        "session.csv": Whole(
            shipped("demo_bag/range_session.csv").read_bytes(),
            lambda path: import_csv(path, BAG, Wishes()),
        ),
        "said.wav": Whole((folder / "said.wav").read_bytes(), read_sound),
        "log.sqlite3": Whole((folder / "log.sqlite3").read_bytes(), read_log),
    }


@pytest.mark.parametrize("name", ["bag.toml", "session.csv", "said.wav", "log.sqlite3"])
@settings(max_examples=120, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(changes=edits)
def test_a_damaged_file_is_read_or_refused_in_one_line(name, changes, wholes, tmp_path):
    content, read = wholes[name]
    path = tmp_path / name
    path.write_bytes(damaged(content, changes))
    begun = time.process_time()
    refusal = refused(read, path)
    assert "\n" not in refusal
    assert time.process_time() - begun < LONGEST_S


@pytest.mark.parametrize("name", ["-rf.toml", "a b'\"$(x).toml", "…\u202e.toml", "x" * 200 + ".toml"])
def test_a_file_with_a_hostile_name_is_only_a_file(name, tmp_path):
    path = tmp_path / name
    path.write_bytes(shipped("demo_bag/bag.toml").read_bytes())
    assert load_bag(path) == BAG


def test_a_folder_where_a_file_should_be_is_told(tmp_path):
    for read in (load_bag, read_sound, lambda path: import_csv(path, BAG, Wishes())):
        with pytest.raises(CaddieError):
            read(tmp_path)
