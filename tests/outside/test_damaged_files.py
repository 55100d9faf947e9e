"""Bytes damaged at random in every kind of file: an answer or one clear line, in time and in memory."""

import json
from datetime import UTC, datetime

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from invented import invented_season
from wav_files import write_wav

from caddie.bag.file import bag_problems, load_bag
from caddie.log.export import Form, exported, line_of, read_lines
from caddie.log.store import Log
from caddie.log.table import read_table
from caddie.notes.holes import holes_sheet, written_hole
from caddie.notes.sheet import text_of
from caddie.places import shipped
from caddie.practice.range_talk import hear
from caddie.range.bucket import plan_range
from caddie.range.csv_import import import_csv
from caddie.range.session import resume_range, start_range
from caddie.range.sessions import read_session
from caddie.units import Unit
from caddie.voice.model import install
from caddie.voice.sound import read_sound

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


def read_log(path):
    with Log(path, read_only=True) as log:
        "".join(exported(log.shots(), Form.CSV))
        read_table(log)


def write_log(path):
    with Log(path) as log:
        log.remove(1)


def read_holes(path):
    """The holes of a file, and each written again in its place."""
    for entry in holes_sheet().read_text(text_of(path)):
        if entry.key is not None:
            written_hole(entry.value, Unit.YARDS, entry.text)


class Wholes(dict):
    """Content and readers by name, short to print."""

    def __repr__(self) -> str:
        return ", ".join(self)


@pytest.fixture(scope="module")
def wholes(tmp_path_factory, bag):
    """The content of a sound file of each kind, and what reads it."""
    folder = tmp_path_factory.mktemp("whole")
    shots = invented_season(1)
    write_wav(folder / "said.wav", (8000 * np.sin(np.arange(4000) / 9)).astype(np.int16), 16_000)
    with Log(folder / "log.sqlite3") as log:
        log.add_all(shots)
    journal = folder / "range.jsonl"
    session = start_range(plan_range(bag, 30), bag.player, journal, datetime.now(UTC))
    for said in ("63, left", "thin", "scratch that", "60"):
        hear(session, said, datetime.now(UTC))
    return Wholes(
        {
            "bag.toml": (shipped("demo_bag/bag.toml").read_bytes(), (load_bag, bag_problems)),
            "session.csv": (
                shipped("demo_bag/range_session.csv").read_bytes(),
                (lambda path: import_csv(path, bag), lambda path: read_session(path, bag)),
            ),
            "said.wav": ((folder / "said.wav").read_bytes(), (read_sound,)),
            "log.sqlite3": ((folder / "log.sqlite3").read_bytes(), (read_log, write_log)),
            "range.jsonl": (journal.read_bytes(), (resume_range,)),
            "holes.toml": (shipped("demo_bag/marram_links.toml").read_bytes(), (read_holes,)),
            "shots.jsonl": ("\n".join(map(line_of, shots)).encode(), (read_lines,)),
            "model.zip": (model_archive(folder), (install,)),
        }
    )


def model_archive(folder) -> bytes:
    import zipfile

    with zipfile.ZipFile(folder / "model.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("small/am/final.mdl", bytes(range(256)) * 8)
        archive.writestr("small/conf/mfcc.conf", json.dumps({"rate": 16000}))
    return (folder / "model.zip").read_bytes()


@pytest.mark.parametrize(
    "name",
    [
        "bag.toml",
        "session.csv",
        "said.wav",
        "log.sqlite3",
        "range.jsonl",
        "holes.toml",
        "shots.jsonl",
        "model.zip",
    ],
)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(changes=edits)
def test_a_damaged_file_is_read_or_refused_in_one_line(name, changes, wholes, watched, tmp_path, home):
    content, reads = wholes[name]
    path = tmp_path / name
    for read in reads:
        for beside in tmp_path.glob("log.sqlite3-*"):
            beside.unlink()
        path.write_bytes(damaged(content, changes))
        watched(read, path)
