"""The data directory is the player's alone; nothing said stays but a logged shot; forgotten is gone."""

import os
import stat
import sys
import tempfile
from pathlib import Path

import numpy as np
import pytest
from wav_files import write_wav

from caddie.bag.file import own_bag, save_bag
from caddie.keeping import write_atomically
from caddie.log.games import note_game
from caddie.log.shot import Shot
from caddie.log.store import Log
from caddie.range.journal import Journal, journals
from caddie.voice.ears import Heard
from caddie.voice.mouth import Mouth

SECRET = "quagmire"
"""A word that is in no grammar, so that only what was said can bring it anywhere."""
KEEP_ALL = """
import os, sys, zipfile
from pathlib import Path
os.umask(int(sys.argv[1], 8))
from caddie.bag import load_bag
from caddie.range.csv_import import import_csv
from caddie.bag.file import own_bag, save_bag
from caddie.range.sessions import keep_session, session_place
from caddie.log.shot import Shot
from caddie.log.store import Log
from caddie.places import shipped
from caddie.range.journal import Journal, journals
from caddie.voice import pocket_model
from caddie.voice.model import fetch, install
from caddie.words.kept import kept

kept("patterns", lambda: {"it": {"0": ["it up"]}})
bag = load_bag()
save_bag(bag, own_bag())
save_bag(bag.model_copy(update={"trust": {}}), own_bag())
session = import_csv(shipped("demo_bag/range_session.csv"), bag).session
keep_session(session_place(own_bag(), session, "range", bag), session, bag)
journal = Journal(journals() / "a.jsonl")
journal.write({"event": "start"})
journal.write({"event": "finish"})
pocket_model._keep(Path(os.environ["CADDIE_HOME"]) / "cache" / "ears-0", {"a.arpa": "x"})
archive = Path(os.environ["CADDIE_HOME"]).parent / "model.zip"
os.umask(0o022)
with zipfile.ZipFile(archive, "w") as target:
    target.writestr("small/am/final.mdl", "x" * 100)
os.umask(int(sys.argv[1], 8))
install(fetch(archive.as_uri()))
log = Log()
log.add(Shot(sentence="quagmire"))
for place in sorted(Path(os.environ["CADDIE_HOME"]).rglob("*")):
    print(oct(place.stat().st_mode & 0o777), "folder" if place.is_dir() else "file", place.name)
"""


@pytest.mark.parametrize("umask", ["000", "022", "077", "777"])
def test_folders_are_0700_and_files_0600_whatever_the_umask(umask, home, child):
    code, out, err = child(umask, code=KEEP_ALL)
    assert code == 0, err
    assert stat.S_IMODE(home.stat().st_mode) == 0o700
    rows = [line.split() for line in out.splitlines()]
    wrong = [row for row in rows if row[0] != {"folder": "0o700", "file": "0o600"}[row[1]]]
    assert not wrong
    names = {row[2] for row in rows}
    assert {
        "bag.toml", "bag.toml.previous", "log.sqlite3", "log.sqlite3-wal", "log.sqlite3-shm", "a.jsonl",
        "a.arpa", "final.mdl", "model.zip", "sessions", "range", "cache",
    } <= names  # fmt: skip
    assert any(name.startswith("words-") for name in names)


def test_a_data_directory_that_was_open_is_closed(home, bag):
    home.mkdir(mode=0o755)
    home.chmod(0o755)
    own_bag().write_text("old")
    own_bag().chmod(0o644)
    (home / "range").mkdir()
    (journals() / "a.jsonl").touch(mode=0o644)
    save_bag(bag, own_bag())
    Journal(journals() / "a.jsonl").write({"event": "start"})
    assert stat.S_IMODE(home.stat().st_mode) == 0o700
    for path in (own_bag(), journals() / "a.jsonl"):
        assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_file_elsewhere_follows_the_umask_and_keeps_its_mode(tmp_path, home):
    path = tmp_path / "card.html"
    write_atomically(path, "x")
    mask = os.umask(0)
    os.umask(mask)
    assert stat.S_IMODE(path.stat().st_mode) == 0o666 & ~mask
    path.chmod(0o640)
    write_atomically(path, "y")
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_the_spoken_reply_on_its_way_is_the_players_alone(tmp_path, monkeypatch, home):
    """A speech process of the same lines that shows what it would leave behind."""
    seen = tmp_path / "seen"
    engine = Path(__file__).parents[2] / "caddie" / "voice" / "speech_process.py"
    stand_in = (
        f"import importlib.util, os, sys\nspec = importlib.util.spec_from_file_location('engine', {str(engine)!r})\n"
        "engine = importlib.util.module_from_spec(spec)\nspec.loader.exec_module(engine)\n"
        "class Voice:\n"
        "    def connect(self, *_): return None\n"
        "    def getProperty(self, _): return 'x'\n"
        "engine._start_engine = lambda: Voice()\n"
        "def render(_, request, *rest):\n"
        "    import wave\n"
        "    with wave.open(request['file'], 'wb') as out:\n"
        "        out.setnchannels(1); out.setsampwidth(2); out.setframerate(22050); out.writeframes(b'ab' * 999)\n"
        "    folder = os.path.dirname(request['file'])\n"
        "    modes = [oct(os.stat(place).st_mode & 0o777) for place in (request['file'], folder)]\n"
        f"    open({str(seen)!r}, 'w').write(' '.join(modes))\n"
        "engine.Robotic.render = render\nengine.main('robotic')\n"
    )
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    with Mouth(command=[sys.executable, "-c", stand_in]) as mouth:
        mouth.render(f"seventy yards {SECRET}")
    assert seen.read_text() == "0o600 0o700"
    assert [path.name for path in tmp_path.iterdir()] == ["seen"]


def traces(*folders, word=SECRET):
    """The files under the folders that hold the word, in any of the usual encodings."""
    forms = [word.encode(code) for code in ("utf-8", "utf-16-le", "utf-16-be")]
    return [
        path
        for folder in folders
        for path in folder.rglob("*")
        if path.is_file() and any(form in path.read_bytes() for form in forms)
    ]


def test_nothing_said_is_kept_but_a_logged_shot(home, tmp_path, caddie, monkeypatch):
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(temporary))
    monkeypatch.setenv("TMPDIR", str(temporary))
    said = f"seventy yards, fairway {SECRET}"
    assert caddie("ask", said)[0] == 0
    assert caddie("ask", "-", "--json", typed=f"{said}\n")[0] == 0
    assert caddie("understand", said)[0] == 0
    assert caddie("talk", typed=f"{said}\nwhy {SECRET}\nhello {SECRET}\nbye\n")[0] == 0
    assert caddie("practice", "rehearse", "--no-log", typed=f"six feet short {SECRET}\nstop\n")[0] == 0
    monkeypatch.setattr("caddie.cli.spoken.ears", lambda *_: None)
    monkeypatch.setattr("caddie.voice.hear.hear_file", lambda *_: Heard(said, confidence=1.0, accepted=True))
    write_wav(tmp_path / "said.wav", np.zeros(8000, np.int16), 16_000)
    assert caddie("hear", str(tmp_path / "said.wav"))[0] == 0
    assert not traces(home, temporary)
    assert caddie("talk", typed=f"{said}\nfinished eight feet past\nbye\n")[0] == 0
    assert [path.parent for path in traces(home, temporary)]
    assert not traces(temporary)


def test_forgotten_is_gone_from_every_byte(home, tmp_path, caddie):
    with Log() as log:
        for number in range(300):
            log.add(Shot(player="Ash", sentence=f"{SECRET} {number} " + "x" * (number * 7)))
            log.add(Shot(player="Bryn", sentence=f"kept {number}"))
        note_game(log, SECRET, {"Ash": 3, "Bryn": 2}, f"Ash wins {SECRET}")
    assert traces(home)
    assert caddie("log", "forget", "--player", "Ash", "--yes")[:2] == (0, "300 shots erased.\n")
    assert not traces(home)
    with Log(read_only=True) as log:
        assert log.count() == log.count("Bryn") == 300


def test_undone_is_no_shot_any_more_and_forget_takes_its_bytes(home, caddie):
    with Log() as log:
        log.add(Shot(sentence="kept"))
        log.add(Shot(sentence=SECRET))
    assert caddie("log", "undo", "--yes")[0] == 0
    with Log(read_only=True) as log:
        assert [shot.sentence for shot in log.shots()] == ["kept"]
    assert not traces(home), "undo must not leave the sentence in a free page"
