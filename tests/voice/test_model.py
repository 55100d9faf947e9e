import errno
import io
import os
import stat
import struct
import zipfile
from pathlib import Path

import pytest
from model_archives import GOOD, archive, treasures, tree

from caddie.errors import CaddieError
from caddie.voice import model


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


def test_a_model_is_installed_and_found(tmp_path: Path, home: Path) -> None:
    assert model.find() is None
    steps: list[tuple[int, int | None]] = []
    installed = model.install(archive(tmp_path / "m.zip", GOOD), lambda *step: steps.append(step))
    assert installed == home / "models" / "small-en"
    assert (installed / "am/final.mdl").read_bytes() == GOOD["small-en/am/final.mdl"]
    assert model.find() == installed
    assert steps[-1] == (sum(map(len, GOOD.values())),) * 2
    assert model.install(archive(tmp_path / "m.zip", GOOD)) == installed
    assert [path.name for path in (home / "models").iterdir()] == ["small-en"]


def test_an_archive_without_a_folder_is_named_after_its_file(tmp_path: Path) -> None:
    installed = model.install(archive(tmp_path / "tiny.zip", {"am/final.mdl": b"x", "README": b"y"}))
    assert installed.name == "tiny"
    assert model.find() == installed


def test_a_folder_given_is_used_or_refused(tmp_path: Path) -> None:
    (tmp_path / "outer/inner/am").mkdir(parents=True)
    (tmp_path / "outer/inner/am/final.mdl").touch()
    assert model.find(tmp_path / "outer") == tmp_path / "outer/inner"
    with pytest.raises(CaddieError, match="no Vosk model in this folder"):
        model.find(tmp_path / "home")


FLAT = {"am/final.mdl": b"x", "README": b"y"}
"""A model without a folder of its own, so that it is named after its archive."""

HOSTILE_NAMES = [
    "...zip", "..zip", ".zip", " .zip", "....zip", "con.zip", "NUL.zip", "aux.tar.zip", "com1.zip", "a\nb.zip",
    "\x1b[2J.zip", "x" * 200 + ".zip", "~.zip", "a .zip", ".hidden.zip", "..", "a:b.zip", "\u202e.zip", "*.zip",
]  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE_NAMES)
def test_an_archive_with_a_hostile_name_is_refused_and_removes_nothing(
    tmp_path: Path, home: Path, name: str
) -> None:
    before = treasures(home)
    given = archive(tmp_path / "m.zip", FLAT)
    if name != "..":
        given = given.rename(tmp_path / name)
    else:
        given = archive(tmp_path / "m.zip", {f"{name}/{file}": content for file, content in FLAT.items()})
    with pytest.raises(CaddieError) as refused:
        model.install(given)
    assert "\n" not in str(refused.value)
    assert tree(home) == before
    assert [path.name for path in (home / "models").iterdir()] == ["other"]


@pytest.mark.parametrize("name", ["con", ".hidden", "a b", "x" * 101, "small ", "aux.d"])
def test_a_folder_in_an_archive_with_no_safe_name_is_refused(tmp_path: Path, home: Path, name: str) -> None:
    before = treasures(home)
    with pytest.raises(CaddieError, match="no name to keep it under"):
        model.install(archive(tmp_path / "m.zip", {f"{name}/am/final.mdl": b"x"}))
    assert tree(home) == before


def test_a_hostile_name_does_no_harm_where_it_is_not_used(tmp_path: Path, home: Path) -> None:
    before = treasures(home)
    installed = model.install(archive(tmp_path / "...zip", GOOD))
    assert installed == home / "models" / "small-en"
    assert before.items() <= tree(home).items()


@pytest.mark.parametrize("kind", ["file", "link to a folder", "link to nowhere"])
def test_a_model_takes_the_place_of_folders_only(tmp_path: Path, home: Path, kind: str) -> None:
    before = treasures(home)
    place = home / "models" / "small-en"
    if kind == "file":
        place.write_text("mine")
    else:
        place.symlink_to("other" if kind == "link to a folder" else "nowhere")
    with pytest.raises(CaddieError, match="where a folder belongs"):
        model.install(archive(tmp_path / "m.zip", GOOD))
    assert place.is_symlink() or place.read_text() == "mine"
    assert before.items() <= tree(home).items()


def test_a_failed_install_leaves_the_model_that_was_there(
    tmp_path: Path, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    installed = model.install(archive(tmp_path / "m.zip", GOOD))
    before = tree(home)
    rename = os.rename

    def full(source: Path, target: Path) -> None:
        if ".caddie-begun-" in str(source):
            raise OSError(errno.ENOSPC, "No space left on device")
        rename(source, target)

    monkeypatch.setattr(os, "rename", full)
    with pytest.raises(CaddieError, match="No space left on device"):
        model.install(archive(tmp_path / "n.zip", {**GOOD, "small-en/more": b"more"}))
    assert tree(home) == before
    assert model.find() == installed


def test_a_model_half_unpacked_is_not_found_and_goes_at_the_next_install(tmp_path: Path, home: Path) -> None:
    left = home / "models" / ".caddie-begun-0" / "am"
    left.mkdir(parents=True)
    (left / "final.mdl").touch()
    assert model.find() is None
    model.install(archive(tmp_path / "m.zip", GOOD))
    assert [path.name for path in (home / "models").iterdir()] == ["small-en"]


@pytest.mark.parametrize(
    "name",
    ["../evil", "small-en/../../evil", "/etc/evil", "C:\\evil", "..\\evil", "small-en\\..\\..\\evil", "a:b"],
)
def test_paths_that_lead_elsewhere_are_refused(tmp_path: Path, home: Path, name: str) -> None:
    with pytest.raises(CaddieError, match="unsafe archive"):
        model.install(archive(tmp_path / "m.zip", {**GOOD, name: b"evil"}))
    assert not list(tmp_path.rglob("*evil*"))
    assert list((home / "models").iterdir()) == []


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFIFO, stat.S_IFCHR])
def test_links_and_devices_are_refused(tmp_path: Path, home: Path, kind: int) -> None:
    with zipfile.ZipFile(tmp_path / "m.zip", "w") as target:
        member = zipfile.ZipInfo("small-en/link")
        member.external_attr = (kind | 0o777) << 16
        target.writestr(member, "/etc/passwd")
        for name, content in GOOD.items():
            target.writestr(name, content)
    with pytest.raises(CaddieError, match="unsafe archive"):
        model.install(tmp_path / "m.zip")
    assert list((home / "models").iterdir()) == []


def test_a_bomb_that_declares_itself_is_refused(tmp_path: Path) -> None:
    bomb = archive(tmp_path / "m.zip", {**GOOD, "small-en/zeros": bytes(60_000_000)})
    with pytest.raises(CaddieError, match="claims to unpack to 60 MB"):
        model.install(bomb)


def test_a_bomb_that_lies_about_its_size_is_refused(tmp_path: Path, home: Path) -> None:
    honest = archive(tmp_path / "m.zip", {**GOOD, "small-en/zeros": bytes(3_000_000)}).read_bytes()
    lie = honest.replace(struct.pack("<I", 3_000_000), struct.pack("<I", 1000))
    assert lie != honest
    (tmp_path / "m.zip").write_bytes(lie)
    with pytest.raises(CaddieError):
        model.install(tmp_path / "m.zip")
    written = [path for path in home.rglob("*") if path.is_file()]
    assert sum(path.stat().st_size for path in written) < 10_000


def test_too_many_files_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(model, "MOST_FILES", 10)
    with pytest.raises(CaddieError, match="unsafe archive"):
        model.install(archive(tmp_path / "m.zip", {f"small-en/{n}": b"" for n in range(11)}))


def broken_archives() -> list[bytes]:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as target:
        target.writestr("small-en/am/final.mdl", bytes(range(256)) * 40)
    whole = buffer.getvalue()
    flipped = bytearray(whole)
    flipped[60] ^= 0xFF
    return [b"", b"PK\x03\x04", b"no zip at all", whole[: len(whole) // 2], bytes(flipped)]


@pytest.mark.parametrize("content", broken_archives())
def test_broken_archives_are_told_and_leave_nothing(tmp_path: Path, home: Path, content: bytes) -> None:
    (tmp_path / "m.zip").write_bytes(content)
    with pytest.raises(CaddieError, match=r"m\.zip"):
        model.install(tmp_path / "m.zip")
    assert list((home / "models").iterdir()) == []


def test_an_archive_of_something_else_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CaddieError, match="holds no Vosk model"):
        model.install(archive(tmp_path / "m.zip", {"photo.jpg": b"x"}))
    with pytest.raises(CaddieError, match="no such file"):
        model.install(tmp_path / "none.zip")
