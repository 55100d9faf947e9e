"""What a command writes never takes away what the player has: every option that names a file, by one rule."""

import os
import shutil
import socket
import threading
from pathlib import Path

import pytest

from caddie.bag.file import own_bag, previous, save_bag
from caddie.log.shot import Shot
from caddie.log.store import Log
from caddie.notes.models import HoleNote
from caddie.notes.notebook import Notebook
from caddie.places import shipped
from caddie.range.journal import Journal, journals

SAID = "forty yards, fairway"
MINE = b"mine, and nobody else's"
OUTPUTS = {
    "ask --picture": (".svg", lambda path: ["ask", SAID, "--picture", path]),
    "ask --out": (".wav", lambda path: ["ask", SAID, "--out", path]),
    "hear --out": (".wav", lambda path: ["hear", str(shipped("demo_bag/seventy_yards.wav")), "--out", path]),
    "bag show --picture": (".svg", lambda path: ["bag", "show", "--picture", path]),
    "card": (".pdf", lambda path: ["card", path]),
    "report": (".html", lambda path: ["report", "--demo", "--out", path]),
    "log export": (".csv", lambda path: ["log", "export", "--out", path]),
    "notes course": (".html", lambda path: ["notes", "course", "--out", path]),
    "notes export": (".toml", lambda path: ["notes", "export", "--out", path]),
    "notes words": (".toml", lambda path: ["notes", "words", "--out", path]),
}
QUICK = {name: each for name, each in OUTPUTS.items() if name != "hear --out"}
"""Those that need no recogniser; they share the way of the other."""


@pytest.fixture
def kept(home, bag, tmp_path, monkeypatch):
    """A player's own bag, log and journal, and a folder to write into."""
    save_bag(bag, own_bag())
    save_bag(bag.model_copy(update={"trust": {}}), own_bag())
    with Log() as log:
        log.add(Shot(sentence=SAID))
    Journal(journals() / "a.jsonl").write({"event": "start"})
    Notebook().keep_hole(HoleNote(number=4, depth_m=25))
    Notebook().keep_word("badlands", "heavy rough")
    folder = tmp_path / "folder"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


def content(folder):
    return {path: path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def refused(ended, path=""):
    code, _, err = ended
    assert code == 2
    assert len(err.splitlines()) == 1, err
    assert str(path) in err
    return True


@pytest.mark.parametrize("name", OUTPUTS)
def test_a_new_file_is_written_without_a_question(name, kept, caddie):
    ending, words = OUTPUTS[name]
    code, _, err = caddie(*words(f"new{ending}"))
    assert (code, "replace" in err) == (0, False)
    assert (kept / f"new{ending}").stat().st_size > 100


@pytest.mark.parametrize("answer", ["", "n\n", "\n"])
@pytest.mark.parametrize("name", OUTPUTS)
def test_a_file_that_is_there_stays_unless_the_player_agrees(name, answer, kept, caddie):
    ending, words = OUTPUTS[name]
    path = kept / f"old{ending}"
    path.write_bytes(MINE)
    code, _, err = caddie(*words(path.name), typed=answer)
    assert code == 2
    assert f"{path.name} is there already: replace it by" in err
    assert "nothing is written" in err
    assert content(kept) == {path: MINE}


@pytest.mark.parametrize("agreed", ["--yes", "-y", "y\n"])
@pytest.mark.parametrize("name", QUICK)
def test_a_file_is_replaced_when_the_player_agrees(name, agreed, kept, caddie):
    ending, words = OUTPUTS[name]
    path = kept / f"old{ending}"
    path.write_bytes(MINE)
    options = [agreed] if agreed.startswith("-") else []
    code, _, _ = caddie(*words(path.name), *options, typed="" if options else agreed)
    assert code == 0
    assert [each.name for each in kept.iterdir()] == [path.name]
    assert path.read_bytes() != MINE


def targets(home, kept, ending):
    """Names that end in one of the tool's own files, or in a folder of them."""
    own = own_bag()
    os.link(own, kept / f"hard{ending}")
    os.link(journals() / "a.jsonl", kept / f"second{ending}")
    (kept / f"soft{ending}").symlink_to(own)
    (kept / "home").symlink_to(home, target_is_directory=True)
    places = [kept / f"{name}{ending}" for name in ("hard", "second", "soft")]
    for folder in ("range", "sessions", "cache", "models"):
        places.append(home / folder / f"new{ending}")
    if ending != ".pdf":
        places += [
            own,
            previous(own),
            home / "log.sqlite3",
            home / "log.sqlite3-wal",
            home / "log.sqlite3-shm",
        ]
        places += [home / "x" / ".." / "bag.toml", kept / "home" / "bag.toml", kept / "home" / "log.sqlite3"]
        places += [journals() / "a.jsonl", kept / ".." / "home" / "bag.toml"]
    return places


@pytest.mark.parametrize("name", QUICK)
def test_the_tools_own_files_are_no_target_whatever_the_name(name, home, kept, caddie):
    ending, words = OUTPUTS[name]
    places = targets(home, kept, ending)
    with Log():
        before = content(home) | content(kept)
        for place in places:
            assert refused(caddie(*words(str(place)), "--yes")), place
            assert content(home) | content(kept) == before, place


def test_no_bag_yet_and_its_name_is_no_target_either(home, kept, caddie):
    own_bag().unlink()
    assert refused(caddie("report", "--demo", "--out", str(own_bag()), "--yes"), own_bag())
    assert not own_bag().exists()


def test_what_the_same_command_reads_is_no_target(kept, caddie):
    mine = kept / "mine.toml"
    shutil.copy(own_bag(), mine)
    with Log(kept / "mine.sqlite3") as log:
        log.add(Shot(sentence=SAID))
    said = kept / "said.wav"
    shutil.copy(shipped("demo_bag/seventy_yards.wav"), said)
    before = content(kept)
    for words in (
        ["ask", SAID, "--bag", "mine.toml", "--picture", "./x/../mine.toml"],
        ["ask", SAID, "--bag", "mine.toml", "--out", "mine.toml.previous"],
        ["ask", SAID, "--picture", "both", "--out", "both"],
        ["bag", "show", "--bag", "mine.toml", "--picture", "mine.toml"],
        ["report", "--log", "mine.sqlite3", "--out", "mine.sqlite3"],
        ["log", "export", "--log", "mine.sqlite3", "--out", str(kept / "mine.sqlite3")],
        ["log", "export", "--log", "mine.sqlite3", "--out", "mine.sqlite3-wal"],
        ["bag", "show", "--bag", "mine.toml", "--picture", "sessions/a.csv"],
        ["hear", "said.wav", "--out", "said.wav"],
    ):
        assert refused(caddie(*words, "--yes")), words
        after = content(kept)
        new = {path.name for path in after.keys() - before.keys()}
        assert before.items() <= after.items(), words
        assert new <= {"mine.sqlite3-wal", "mine.sqlite3-shm"}, "reading a log makes them"


@pytest.mark.parametrize("name", QUICK)
def test_no_link_is_written_through(name, kept, tmp_path, caddie):
    ending, words = OUTPUTS[name]
    for target in ("there", "nowhere"):
        link = kept / f"{target}{ending}"
        link.symlink_to(tmp_path / target)
    (tmp_path / "there").write_bytes(MINE)
    for target in ("there", "nowhere"):
        assert refused(caddie(*words(f"{target}{ending}"), "--yes"), "is a link")
    assert (tmp_path / "there").read_bytes() == MINE
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.parametrize("name", QUICK)
def test_a_pipe_that_nobody_reads_a_folder_and_a_socket_are_refused_at_once(name, kept, child):
    ending, words = OUTPUTS[name]
    os.mkfifo(kept / f"pipe{ending}")
    (kept / f"folder{ending}").mkdir()
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(f"socket{ending}")
        for kind in ("pipe", "folder", "socket"):
            assert refused(child(*words(f"{kind}{ending}"), "--yes"), f"{kind}{ending}"), kind


def test_a_pipe_that_is_read_gets_everything(kept, caddie):
    """More than the 64 KiB that a pipe of Linux holds (pipe(7))."""
    os.mkfifo("pipe.wav")
    got = []
    reader = threading.Thread(target=lambda: got.append(Path("pipe.wav").read_bytes()))
    reader.start()
    code, _, err = caddie("ask", SAID, "--out", "pipe.wav")
    reader.join(10)
    assert (code, err) == (0, "")
    assert len(got[0]) == int.from_bytes(got[0][4:8], "little") + 8 > 65536


def test_a_device_and_the_own_output_are_written(kept, caddie, child, tmp_path):
    assert caddie("report", "--demo", "--out", "/dev/null")[0] == 0
    assert Path("/dev/null").is_char_device()
    assert refused(caddie("report", "--demo", "--out", "/dev/full"), "No space left")
    code, out, _ = child("bag", "show", "--picture", "/dev/stdout")
    assert (code, out.startswith("<svg"), "hole of" in out) == (0, True, True)
    file = tmp_path / "led"
    with file.open("wb") as led:
        led.write(b"before\n")
        led.flush()
        assert child("bag", "show", "--picture", "/dev/stdout", stdout=led)[0] == 0
    assert file.read_bytes().startswith(b"before\n<svg")


def test_a_stream_of_sentences_is_not_taken_for_the_answer(kept, caddie):
    (kept / "old.svg").write_bytes(MINE)
    assert refused(caddie("ask", "-", "--picture", "old.svg", typed=f"y\n{SAID}\n"), "add --yes")
    assert (kept / "old.svg").read_bytes() == MINE
    code, out, _ = caddie("ask", "-", "--picture", "new.svg", typed=f"{SAID}\nthirty yards, fairway\n")
    assert (code, out.count("Shot:")) == (0, 2)
    assert b"30" in (kept / "new.svg").read_bytes()


def test_a_file_that_came_during_the_work_stays(kept, caddie, monkeypatch):
    from caddie.cli import output as rule

    def late(path, *given, **named):
        agreed = real(path, *given, **named)
        Path(path).write_bytes(MINE)
        return agreed

    real = rule.output
    monkeypatch.setattr("caddie.cli.bag.output", late)
    assert refused(caddie("bag", "show", "--picture", "new.svg"), "has come there meanwhile")
    assert content(kept) == {kept / "new.svg": MINE}


def test_a_missing_folder_is_told_before_the_work(kept, caddie):
    assert refused(caddie("ask", SAID, "--out", "none/reply.wav"), "no folder none")


STOPPED = """
import os, sys
from caddie import keeping
keeping.os.replace = lambda *_: os.kill(os.getpid(), 9)
from caddie.cli import run
run()
"""


def test_what_a_kill_leaves_is_swept_by_the_next_write(kept, child, caddie):
    code, _, _ = child("bag", "show", "--picture", "a.svg", code=STOPPED)
    assert code == -9
    (left,) = kept.iterdir()
    notes = kept / ".caddie-notes"
    notes.write_bytes(MINE)
    caddie("bag", "show", "--picture", "b.svg")
    assert left.exists(), "perhaps its owner is still at it"
    for path in (left, notes):
        os.utime(path, (0, 0))
    caddie("bag", "show", "--picture", "c.svg")
    assert {path.name for path in kept.iterdir()} == {".caddie-notes", "b.svg", "c.svg"}


def test_what_a_kill_leaves_in_the_data_directory_is_swept_too(home, kept, caddie, bag):
    left = home / "range" / ".caddie-abcdefgh.part"
    resumable = home / "range" / "model.zip.part"
    for path in (left, resumable):
        path.write_bytes(MINE)
        os.utime(path, (0, 0))
    Journal(journals() / "b.jsonl")
    assert sorted(path.name for path in journals().iterdir()) == ["a.jsonl", "model.zip.part"]
