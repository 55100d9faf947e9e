"""Pipes, devices, names, links, homes, locales and closed streams: one line, and nothing written elsewhere."""

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from caddie.bag.file import load_bag, own_bag, previous, save_bag
from caddie.errors import CaddieError
from caddie.keeping import write_atomically
from caddie.log.shot import Shot
from caddie.log.store import Log
from caddie.places import home as data_directory
from caddie.places import shipped
from caddie.range.csv_import import import_csv
from caddie.range.journal import Journal, journals, read_events
from caddie.voice.model import install
from caddie.voice.sound import read_sound


def readers(bag):
    return {
        "bag": load_bag,
        "table": lambda path: import_csv(path, bag),
        "sound": read_sound,
        "journal": lambda path: list(read_events(path)),
        "archive": install,
        "log": Log,
        "log to read": lambda path: Log(path, read_only=True),
    }


@pytest.mark.parametrize(
    "kind", ["pipe", "/dev/zero", "/dev/random", "folder", "missing", "name too long", "nul"]
)
def test_what_is_no_ordinary_file_is_refused_at_once(kind, bag, tmp_path, home, watched):
    path = {
        "pipe": tmp_path / "pipe",
        "folder": tmp_path,
        "missing": tmp_path / "none" / "none",
        "name too long": tmp_path / ("x" * 300),
        "nul": tmp_path / "a\0b",
    }.get(kind, Path(kind))
    if kind == "pipe":
        os.mkfifo(path)
    for name, read in readers(bag).items():
        if name == "log" and kind == "missing":
            continue
        assert watched(read, path), name


NAMES = ["-rf.toml", "a b'\"$(x).toml", "x" * 200 + ".toml", "….toml"]
STEERING = [
    "a\x1b]0;title\x07.toml",
    "a\nb.toml",
    "a\r\x1b[2K.toml",
    "a\u202eb.toml",
    "a\x9b2J.toml",
    "a\udcff.toml",
]


@pytest.mark.parametrize("name", NAMES + STEERING)
def test_a_file_with_a_hostile_name_is_only_a_file(name, tmp_path, bag):
    path = tmp_path / name
    try:
        path.write_bytes(shipped("demo_bag/bag.toml").read_bytes())
    except (OSError, UnicodeError):
        return
    assert load_bag(path) == bag
    save_bag(bag.model_copy(update={"trust": {}}), path)
    assert previous(path).exists()


@pytest.mark.parametrize("name", STEERING)
def test_a_name_steers_no_terminal(name, caddie):
    for words in (["bag", "check", "--bag", name], [f"--{name}"], ["practice", "game", name], ["ask", name]):
        code, out, err = caddie(*words)
        assert code == 2
        assert not set("\x1b\x07\x9b\r\u202e") & set(out + err)
    _, _, err = caddie("bag", "check", "--bag", name)
    assert err.count("\n") == 1


def kept(bag):
    """Every way something is written in the data directory, by the name of the file or folder it begins at."""
    return {
        "log.sqlite3": lambda: Log().add(Shot()),
        "bag.toml": lambda: save_bag(bag, own_bag()),
        "bag.toml.previous": lambda: save_bag(bag.model_copy(update={"trust": {}}), own_bag()),
        "range": lambda: Journal(journals() / "a.jsonl").write({"event": "start"}),
        "range/a.jsonl": lambda: Journal(journals() / "a.jsonl").write({"event": "start"}),
        "sessions": lambda: write_atomically(data_directory() / "sessions" / "a.csv", "x"),
        "models": lambda: install(archive(data_directory().parent / "m.zip")),
        "models/small": lambda: install(archive(data_directory().parent / "m.zip")),
    }


def archive(path):
    with zipfile.ZipFile(path, "w") as target:
        target.writestr("small/am/final.mdl", "x" * 100)
    return path


@pytest.mark.parametrize("name", list(kept(None)))
@pytest.mark.parametrize("leads", ["to a file or folder", "nowhere", "up", "to itself"])
def test_a_link_out_of_the_data_directory_is_refused(name, leads, home, tmp_path, bag):
    home.mkdir()
    if name == "bag.toml.previous":
        save_bag(bag, own_bag())
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "file").write_text("mine")
    link = home / name
    link.parent.mkdir(exist_ok=True)
    folder = "." not in name
    target = {
        "to a file or folder": outside if folder else outside / "file",
        "nowhere": outside / "none",
        "up": Path("../" * name.count("/")) / ".." / "outside" / ("" if folder else "file"),
        "to itself": link,
    }[leads]
    link.symlink_to(target)
    with pytest.raises(CaddieError) as refused:
        kept(bag)[name]()
    assert "\n" not in str(refused.value)
    assert link.is_symlink()
    assert [path.name for path in outside.iterdir()] == ["file"]
    assert (outside / "file").read_text() == "mine"


def test_a_link_inside_and_a_data_directory_that_is_a_link_are_the_players_own(home, tmp_path, bag):
    (tmp_path / "elsewhere").mkdir()
    home.symlink_to(tmp_path / "elsewhere")
    save_bag(bag, home / "summer.toml")
    own_bag().symlink_to("summer.toml")
    assert load_bag(own_bag()) == bag
    with Log() as log:
        log.add(Shot())
    assert (tmp_path / "elsewhere" / "log.sqlite3").exists()


def test_a_link_that_the_player_names_is_followed_and_a_device_stays_a_device(tmp_path, home):
    (tmp_path / "real").write_text("old")
    (tmp_path / "link").symlink_to("real")
    write_atomically(tmp_path / "link", "new")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_text() == "new"
    write_atomically(Path("/dev/null"), "x")
    assert Path("/dev/null").is_char_device()
    with pytest.raises(CaddieError, match="No space left"):
        write_atomically(Path("/dev/full"), "x" * 100_000)


@pytest.mark.parametrize("name", ["../../escaped", "/etc/escaped", "a/b\\c", "..", "\x1b[2J"])
def test_a_name_of_a_player_or_session_makes_no_path(name, home, tmp_path, caddie):
    home.mkdir()
    assert caddie("practice", "game", "nearest", "--player", name, typed="six feet\n" * 3)[0] == 0
    table = tmp_path / "t.csv"
    table.write_text(f"# date: {name}\nclub,swing,carry (yd)\n56,chest,64\n")
    (home / "bag.toml").write_bytes(shipped("demo_bag/bag.toml").read_bytes())
    assert caddie("bag", "import", str(table), "--yes")[0] == 0
    # The first reading of words in a process keeps what it made of the grammar, under a name of its own.
    kept = {*(home / "cache").glob("words-*.json")}
    found = [path for path in tmp_path.rglob("*") if path.is_file() and path.parent not in (home, tmp_path)]
    assert [path.parent for path in found if path not in kept] == [home / "sessions"]
    assert not list(tmp_path.parent.glob("escaped*"))


TALK = "forty out\nrough\nfinished eight feet past\nbye\n"
HOMES = ["file", "file/below", "/dev/null", "/proc/1/none", "~nobody-here/caddie", "relative/home"]


@pytest.mark.parametrize("place", HOMES)
def test_any_home(place, caddie, tmp_path, monkeypatch):
    (tmp_path / "file").write_text("mine")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("CADDIE_HOME", place)
    for words in (["talk"], ["log", "show"], ["voice", "model"], ["bag", "check"]):
        code, _, err = caddie(*words, typed=TALK)
        assert code in (0, 2)
        assert err.count("\n") <= 1
    assert (tmp_path / "file").read_text() == "mine"


def test_without_a_home(child):
    assert child("bag", "check", env={"CADDIE_HOME": None, "HOME": None, "XDG_DATA_HOME": None})[0] == 0


HOMELESS = """
import io, json, os, pwd, sys
def nobody(_): raise KeyError("no such user")
if not os.environ.get("HOME"): pwd.getpwuid = nobody
from caddie.cli import run
ended = []
for words in json.loads(sys.argv[1]):
    sys.argv, sys.stdin = ["caddie", *words], io.StringIO("forty out\\nrough\\nfinished eight feet past\\nbye\\n")
    sys.stdout, sys.stderr = io.StringIO(), io.StringIO()
    try:
        run()
    except SystemExit as end:
        ended.append([end.code or 0, sys.stdout.getvalue(), sys.stderr.getvalue()])
print(json.dumps(ended), file=sys.__stdout__)
"""
NEED_NO_HOME = [
    ["ask", "seventy yards, fairway"], ["understand", "forty"], ["talk"], ["bag", "show"], ["bag", "check"],
    ["practice", "drill"],
]  # fmt: skip
NEED_A_HOME = [
    ["log", "show"], ["log", "export"], ["log", "forget", "--all", "--yes"], ["practice", "game", "nearest"],
    ["practice", "rehearse", "--balls", "1"], ["voice", "model", "--from", "m.zip", "--yes"],
    ["voice", "model", "--fetch", "--address", "{archive}", "--yes"], ["report", "--yes"],
]  # fmt: skip
NOWHERE = {"no home": None, "a home in a file": "{file}/home"}


@pytest.mark.parametrize("where", list(NOWHERE))
def test_without_a_place_to_write_questions_are_answered_and_the_rest_says_what_to_set(
    where, child, tmp_path
):
    """A user id that nobody gave a home, as in a container; and a home that no one can write to."""
    archive(tmp_path / "m.zip")
    (tmp_path / "file").touch()
    home = NOWHERE[where] and NOWHERE[where].format(file=tmp_path / "file")
    commands = [
        [word.format(archive=(tmp_path / "m.zip").as_uri()) for word in words]
        for words in (*NEED_NO_HOME, *NEED_A_HOME)
    ]
    code, out, err = child(
        json.dumps(commands), code=HOMELESS, cwd=tmp_path,
        env={"CADDIE_HOME": None, "XDG_DATA_HOME": None, "HOME": home},
    )  # fmt: skip
    assert code == 0, err
    ended = dict(zip(map(tuple, commands), json.loads(out), strict=True))
    for words, (code, _, err) in ended.items():
        assert "Traceback" not in err and "should not happen" not in err, words
        if list(words) in NEED_NO_HOME:
            assert code == 0, (words, err)
        else:
            assert code == 2, words
            assert len(err.splitlines()) == 1, (words, err)
            # A log that is not there yet is told as such where a home is named, whether or not it could be.
            assert "CADDIE_HOME" in err or (home and "there is no log yet" in err), (words, err)
    assert "Seventy yards" in ended["ask", "seventy yards, fairway"][1]
    assert ended["talk",][2].count("\n") == 1
    assert "set CADDIE_HOME" in ended["talk",][2]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "m.zip"]


LOCALES = [
    {"LC_ALL": "C", "PYTHONIOENCODING": "ascii"},
    {"LC_ALL": "POSIX", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
]


@pytest.mark.parametrize("env", LOCALES, ids=["ascii", "posix"])
def test_any_locale(env, child):
    assert child("bag", "show", env=env)[0] == 0
    assert child("talk", typed=f"forty out \udcff ±\n{TALK}", env=env)[0] == 0


@pytest.mark.parametrize("words", [["bag", "show"], ["log", "export"]])
def test_output_that_goes_nowhere(words, child):
    with Log() as log:
        log.add(Shot())
    reading, writing = os.pipe()
    os.close(reading)
    assert child(*words, stdout=writing)[0] in (0, 1)
    os.close(writing)
    with open("/dev/full", "w") as full:
        code, _, err = child(*words, stdout=full)
    assert code == 2
    assert "No space left" in err


@pytest.mark.parametrize("words", [["bag", "new"], ["ask", "-"]])
def test_no_standard_streams(words, child):
    close = "import os, sys\nfor n in (0, 1): os.close(n)\nos.execv(sys.executable, sys.argv[1:])"
    start = "import sys; from caddie.cli import run; run()"
    code, _, err = child(*[sys.executable, "-c", start, *words], code=close, stdin=subprocess.DEVNULL)
    assert code in (0, 2), err


def test_a_data_directory_that_cannot_be_written(home, tmp_path):
    """A superuser may write anywhere, so the child first becomes nobody."""
    home.mkdir()
    home.chmod(0o555)
    script = (
        "import os, sys\n"
        "from caddie.cli import run\n"
        "import caddie.range.new_bag, caddie.log.store, caddie.cli.talk, caddie.talk.conversation\n"
        "home = os.environ['CADDIE_HOME']; os.environ['CADDIE_HOME'] = home + ' before'\n"
        "from caddie.words import understand; understand('70 yards'); import encodings.utf_8_sig\n"
        "os.environ['CADDIE_HOME'] = home\n"
        "if os.geteuid() == 0: os.setgroups([]); os.setgid(65534); os.setuid(65534)\n"
        "run()\n"
    )
    opened = [
        (parent, parent.stat().st_mode) for parent in home.parents if parent.stat().st_uid == os.geteuid()
    ]
    opened = [(parent, mode) for parent, mode in opened if not mode & 0o001]
    for parent, mode in opened:
        parent.chmod(mode | 0o005)
    try:
        done = subprocess.run(
            [sys.executable, "-c", script, "talk"],
            input=TALK, capture_output=True, text=True, cwd="/",
            env={**os.environ, "CADDIE_HOME": str(home), "PYTHONPATH": str(Path(__file__).parents[2])},
        )  # fmt: skip
    finally:
        for parent, mode in opened:
            parent.chmod(mode)
    assert done.returncode == 0, done.stderr
    assert "this talk keeps nothing" in done.stderr
    assert "Traceback" not in done.stderr
    assert not list(home.iterdir())
