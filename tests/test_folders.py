"""Folders of the data directory are replaced by rename, under checked names, and never anything else."""

import os
import shutil
import signal
import subprocess
import sys
import textwrap
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caddie import folders, keeping
from caddie.errors import CaddieError
from caddie.folders import checked_name, remove_folder, replace_folder, workshop
from caddie.places import NoHomeError
from caddie.places import home as data_directory

posix = pytest.mark.skipif(os.name != "posix", reason="links and signals of POSIX systems")


@pytest.fixture
def home(tmp_path, monkeypatch):
    """The data directory with something of everything in it."""
    place = tmp_path / "above" / "home"
    (place / "models" / "old").mkdir(parents=True)
    (place / "models" / "old" / "file").write_text("old")
    (place / "bag.toml").write_text("mine")
    (tmp_path / "above" / "beside").mkdir()
    (tmp_path / "above" / "beside" / "file").write_text("mine")
    monkeypatch.setenv("CADDIE_HOME", str(place))
    return place


def tree(folder):
    return {
        str(path.relative_to(folder)): path.read_text() if path.is_file() else None
        for path in folder.rglob("*")
    }


def put(place, text="new"):
    with workshop(place.parent) as work:
        (work / "file").write_text(text)
        replace_folder(place, work)


GOOD = ["small-en", "vosk-model-small-en-us-0.15", "a", "0", "_x_", "console", "com", "a..b", "x" * 100]
# Device names: Microsoft, "Naming Files, Paths, and Namespaces" (from memory).
BAD = [
    "", ".", "..", "...", ".zip", ".hidden", "a.", "a b", " a", "a ", "a/b", "/a", "..\\a", "a:b", "a\nb", "a\0",
    "a\x1b[2J", "é", "x" * 101, "con", "CON", "Nul.txt", "aux.tar.gz", "com1", "LPT9.zip", "prn", "~", "a*", "\udcff",
]  # fmt: skip


@pytest.mark.parametrize("name", GOOD)
def test_a_plain_name_is_taken_as_it_is(name):
    assert checked_name(name, "x.zip") == name


@pytest.mark.parametrize("name", BAD)
def test_any_other_name_is_refused_in_one_line(name, home, tmp_path):
    before = tree(tmp_path)
    with pytest.raises(CaddieError, match="no name to keep it under") as refused:
        checked_name(name, "x.zip")
    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 500
    if "\0" not in name:
        place = Path(f"{home}/models/{name}") if name else Path()
        if place.name == name:
            for act in (remove_folder, lambda at: replace_folder(at, tmp_path / "none")):
                with pytest.raises(CaddieError):
                    act(place)
    assert tree(tmp_path) == before


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=st.text(max_size=12) | st.from_regex(r"[./\\~a-c ]{0,8}", fullmatch=True))
def test_whatever_passes_names_one_folder_in_the_one_above(name, tmp_path):
    try:
        checked_name(name, "x")
    except CaddieError:
        return
    place = tmp_path / "a" / "b" / name
    assert os.path.normpath(place) == str(place)
    assert place.parent == tmp_path / "a" / "b"
    assert place.name == name


def test_a_folder_is_replaced_and_the_old_one_goes(home):
    put(home / "models" / "old")
    put(home / "models" / "first")
    assert tree(home / "models") == {"old": None, "old/file": "new", "first": None, "first/file": "new"}
    remove_folder(home / "models" / "old")
    assert tree(home / "models") == {"first": None, "first/file": "new"}


def places(home):
    above = home.parent
    return {
        "the data directory": home,
        "the folder above": above,
        "the root": Path("/"),
        "a folder beside": above / "beside",
        "up and beside": home / ".." / "beside",
        "up": home / "models" / "..",
        "up twice": home / "models" / ".." / "..",
        "a file": home / "bag.toml",
    }


@pytest.mark.parametrize("name", list(places(Path("/x/y"))))
def test_nothing_but_a_folder_of_the_data_directory_is_replaced_or_removed(name, home, tmp_path):
    (tmp_path / "new").mkdir()
    before = tree(tmp_path)
    place = places(home)[name]
    with pytest.raises(CaddieError):
        replace_folder(place, tmp_path / "new")
    with pytest.raises(CaddieError):
        remove_folder(place)
    assert tree(tmp_path) == before


@posix
@pytest.mark.parametrize("target", ["../../beside", "../..", "old", "nowhere", "link"])
def test_a_link_is_never_replaced_removed_or_followed(target, home, tmp_path):
    (tmp_path / "new").mkdir()
    (home / "models" / "link").symlink_to(target)
    before = tree(tmp_path / "above" / "beside"), tree(home / "models" / "old")
    for act in (remove_folder, lambda at: replace_folder(at, tmp_path / "new")):
        with pytest.raises(CaddieError, match="link"):
            act(home / "models" / "link")
    assert (home / "models" / "link").is_symlink()
    assert (tree(tmp_path / "above" / "beside"), tree(home / "models" / "old")) == before


@posix
def test_no_work_is_done_through_a_link_out_of_the_data_directory(home):
    (home / "out").symlink_to("../beside")
    (home.parent / "beside" / ".caddie-begun-x").mkdir()
    before = tree(home.parent / "beside")
    with pytest.raises(CaddieError), workshop(home / "out"):
        pass
    with pytest.raises(CaddieError):
        remove_folder(home / "out" / "anything")
    assert tree(home.parent / "beside") == before


@pytest.mark.parametrize("fails", ["first", "second"])
@pytest.mark.parametrize("error", [OSError("full"), KeyboardInterrupt()])
def test_a_failure_leaves_the_old_folder(fails, error, home, monkeypatch):
    """Whichever rename fails: the old folder aside, or the new one into place."""
    rename = os.rename
    calls = []

    def failing(source, target):
        calls.append(target)
        if len(calls) == {"first": 1, "second": 2}[fails]:
            raise error
        rename(source, target)

    before = tree(home)
    monkeypatch.setattr(folders.os, "rename", failing)
    with pytest.raises(type(error)):
        put(home / "models" / "old")
    assert tree(home) == before


def test_nothing_old_is_removed_before_the_new_is_in_place(home, monkeypatch):
    rmtree = shutil.rmtree
    seen = []

    def watching(path, **options):
        if os.path.lexists(path):
            seen.append((home / "models" / "old" / "file").read_text())
        rmtree(path, **options)

    monkeypatch.setattr(folders.shutil, "rmtree", watching)
    put(home / "models" / "old")
    assert seen
    assert set(seen) == {"new"}


KILLED = """
import os, signal, sys
from pathlib import Path
from caddie import folders
models = Path(os.environ["CADDIE_HOME"]) / "models"
renames, rename = [0], os.rename
def killed(source, target):
    if renames[0] == int(sys.argv[1]):
        os.kill(os.getpid(), signal.SIGKILL)
    renames[0] += 1
    rename(source, target)
os.rename = killed
with folders.workshop(models) as work:
    (work / "file").write_text("new")
    folders.replace_folder(models / "old", work)
    os.kill(os.getpid(), signal.SIGKILL)
"""


@posix
@pytest.mark.parametrize("after", [0, 1, 2])
def test_what_a_kill_leaves_is_put_right_by_the_next(after, home):
    """Killed before the old folder makes way, between the two renames, and when the new one is in place."""
    done = subprocess.run([sys.executable, "-c", KILLED, str(after)], capture_output=True, text=True)
    assert done.returncode == -signal.SIGKILL, done.stderr
    (home / "models" / ".caddie-aside-gone").mkdir()
    (home / "models" / ".caddie-aside-gone" / "file").write_text("gone")
    with workshop(home / "models"):
        pass
    now = {"old": None, "old/file": "new" if after == 2 else "old", "gone": None, "gone/file": "gone"}
    assert tree(home / "models") == now
    put(home / "models" / "old", "newer")
    assert tree(home / "models") == {**now, "old/file": "newer"}


@posix
def test_the_work_of_a_live_process_is_not_swept(home):
    script = textwrap.dedent(
        """
        import os, sys, time
        from pathlib import Path
        from caddie import folders
        models = Path(os.environ["CADDIE_HOME"]) / "models"
        with folders.workshop(models) as work:
            (work / "file").write_text("theirs")
            print("at work", flush=True)
            time.sleep(1)
            folders.replace_folder(models / "theirs", work)
        """
    )
    with subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout.readline() == "at work\n"
        begun = time.monotonic()
        put(home / "models" / "mine", "mine")
        assert time.monotonic() - begun > 0.5
        assert other.wait() == 0
    assert (home / "models" / "theirs" / "file").read_text() == "theirs"
    assert (home / "models" / "mine" / "file").read_text() == "mine"


def test_without_locks_the_work_is_done_and_nothing_is_swept(home, monkeypatch):
    monkeypatch.setattr(folders, "_locked", lambda _: False)
    (home / "models" / ".caddie-begun-x").mkdir()
    put(home / "models" / "old")
    assert tree(home / "models") == {".caddie-begun-x": None, "old": None, "old/file": "new"}


@posix
def test_a_folder_put_in_place_is_the_players_alone(home):
    before = os.umask(0)
    try:
        put(home / "models" / "old")
    finally:
        os.umask(before)
    assert (home / "models" / "old").stat().st_mode & 0o777 == 0o700


@posix
@pytest.mark.parametrize("told", [None, "~/.local/share/caddie"])
def test_without_a_home_nothing_is_in_the_data_directory(told, tmp_path, monkeypatch):
    """Both ways of platformdirs: the present one refuses, older ones give the tilde back (from memory)."""

    def nowhere(*_, **__):
        if told is None:
            raise RuntimeError("could not determine the home directory")
        return Path(told)

    monkeypatch.delenv("CADDIE_HOME", raising=False)
    monkeypatch.setattr("platformdirs.user_data_path", nowhere)
    with pytest.raises(NoHomeError, match="set CADDIE_HOME"):
        data_directory()
    (tmp_path / "a").write_text("read")
    assert keeping.read_bytes(tmp_path / "a", 10) == b"read"
    keeping.write_atomically(tmp_path / "b", "written")
    with pytest.raises(NoHomeError):
        remove_folder(tmp_path)
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "named"))
    assert data_directory() == tmp_path / "named"
