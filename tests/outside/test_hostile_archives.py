"""Model archives whose own name, or the name of the folder in them, would lead elsewhere."""

import os
import shutil
import zipfile

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from caddie.voice.model import find, install

TREASURE = ("log.sqlite3", "models/other/am/final.mdl", "../beside/mark")
parts = st.sampled_from(
    ["..", ".", "...", "", " ", "~", "con", "nul", "a", "é", "\n", "\x1b[2J", "\u202e", "-", "x" * 90]
)
names = st.lists(parts, max_size=4).map("".join) | st.text(max_size=20)


def tree(folder):
    return {str(path.relative_to(folder)): path.is_file() and path.read_bytes() for path in folder.rglob("*")}


@pytest.fixture
def treasure(home):
    for name in TREASURE:
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_text("mine")
    return home


def put_back(home, archives):
    """As it was before any example, with nothing but the treasure."""
    for folder in (home / "models").iterdir():
        if folder.name != "other":
            shutil.rmtree(folder)
    shutil.rmtree(archives, ignore_errors=True)
    archives.mkdir()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(stem=names, folder=st.none() | names)
@example(stem="..", folder=None)
@example(stem=".", folder=None)
@example(stem="", folder=None)
@example(stem=" ", folder=None)
@example(stem="con", folder=None)
@example(stem="a\nb", folder=None)
@example(stem="x" * 250, folder=None)
@example(stem="a", folder="..")
@example(stem="a", folder="con")
@example(stem="other", folder=None)
def test_whatever_an_archive_is_called_only_a_folder_of_its_own_is_made(
    stem, folder, treasure, tmp_path, watched
):
    archives = tmp_path / "archives"
    put_back(treasure, archives)
    given_file = os.path.join(archives, f"{stem}.zip")
    inner = "" if folder is None else f"{folder}/"
    try:
        with zipfile.ZipFile(given_file, "w") as target:
            target.writestr(f"{inner}am/final.mdl", "new")
    except (OSError, ValueError):
        return
    before = tree(tmp_path)
    refusal = watched(install, given_file)
    after = tree(tmp_path)
    changed = {name for name in before.keys() | after.keys() if before.get(name) != after.get(name)}
    if refusal:
        assert not changed
        return
    tops = {name.split("/")[2] for name in changed if name.startswith("home/models/")}
    assert len(tops) == 1
    (top,) = tops
    assert changed <= {f"home/models/{top}{rest}" for rest in ("", "/am", "/am/final.mdl")}
    assert top in (stem, folder)
    assert find() == treasure / "models" / top or top == "other"
    assert set(top) <= set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-")
    if top == "other":
        (treasure / "models/other/am/final.mdl").write_text("mine")


@pytest.mark.parametrize("name", ["...zip", "..zip", ".zip", " .zip", "con.zip", "a\nb.zip"])
@pytest.mark.parametrize("how", ["--from", "--fetch"])
def test_the_command_refuses_in_one_line(name, how, treasure, tmp_path, caddie):
    with zipfile.ZipFile(tmp_path / name, "w") as target:
        target.writestr("am/final.mdl", "new")
    before = tree(tmp_path)
    where = [str(tmp_path / name)] if how == "--from" else ["--address", (tmp_path / name).as_uri()]
    code, out, err = caddie("voice", "model", how, *where, "--yes")
    assert (code, out) == (2, "")
    # What stands before it follows the bytes unpacked.
    last = err.splitlines()[-1]
    assert last.startswith("caddie: ")
    assert "is no name to keep it under" in last
    assert tree(tmp_path) == before
