import functools
import hashlib
import http.server
import io
import stat
import struct
import threading
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from caddie.errors import CaddieError
from caddie.voice import model

GOOD = {"small-en/am/final.mdl": b"model" * 1000, "small-en/conf/mfcc.conf": b"--rate=16000\n"}


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


def archive(path: Path, files: dict[str, bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as target:
        for name, content in files.items():
            target.writestr(name, content)
    return path


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


class Server(http.server.SimpleHTTPRequestHandler):
    """Serves one file, in part where asked, and breaks off in the middle when told to."""

    content = b""
    break_after: int | None = None
    ranges: list[str | None] = []

    def do_GET(self) -> None:
        asked = self.headers.get("Range")
        type(self).ranges.append(asked)
        if self.path == "/missing.zip":
            self.send_error(404)
            return
        start = int(asked.removeprefix("bytes=").removesuffix("-")) if asked else 0
        if start >= len(self.content):
            self.send_error(416)
            return
        body = self.content[start:]
        self.send_response(206 if start else 200)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        cut, type(self).break_after = self.break_after, None
        self.wfile.write(body if cut is None else body[:cut])

    def log_message(self, *_: object) -> None:
        pass


@pytest.fixture
def server() -> Iterator[str]:
    Server.content, Server.break_after, Server.ranges = bytes(range(256)) * 2000, None, []
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Server)) as one:
        thread = threading.Thread(target=one.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{one.server_port}"
        one.shutdown()
        thread.join()


def test_fetching_reports_progress_and_checks_the_sum(server: str, home: Path) -> None:
    steps: list[tuple[int, int | None]] = []
    checksum = hashlib.sha256(Server.content).hexdigest().upper()
    got = model.fetch(f"{server}/small-en.zip", checksum, lambda *step: steps.append(step))
    assert got == home / "models" / "small-en.zip"
    assert got.read_bytes() == Server.content
    assert steps[-1] == (len(Server.content), len(Server.content))
    assert len(steps) > 3


def test_a_broken_connection_is_told_and_gone_on_with(server: str) -> None:
    Server.break_after = 200_000
    with pytest.raises(CaddieError, match="run the same command again"):
        model.fetch(f"{server}/small-en.zip")
    got = model.fetch(f"{server}/small-en.zip", hashlib.sha256(Server.content).hexdigest())
    assert got.read_bytes() == Server.content
    assert Server.ranges == [None, "bytes=200000-"]


def test_a_wrong_checksum_throws_the_file_away(server: str, home: Path) -> None:
    with pytest.raises(CaddieError, match="another checksum"):
        model.fetch(f"{server}/small-en.zip", "0" * 64)
    assert list((home / "models").iterdir()) == []


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("{server}/missing.zip", "404"),
        ("http://127.0.0.1:9/small-en.zip", "no network or no answer"),
        ("ftp://somewhere/small-en.zip", "not a safe address"),
        ("http://somewhere/small-en.zip", "not a safe address"),
        ("{server}/page.html", "not the address of a ZIP"),
    ],
)
def test_what_cannot_be_fetched_is_told_in_one_line(server: str, address: str, told: str) -> None:
    with pytest.raises(CaddieError, match=told) as caught:
        model.fetch(address.format(server=server))
    assert "\n" not in str(caught.value)
