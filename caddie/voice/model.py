"""Vosk models: finding one, fetching its archive, installing it safely. The only code that uses a network."""

import contextlib
import errno
import hashlib
import lzma
import os
import re
import stat
import urllib.error
import urllib.request
import zipfile
import zlib
from collections.abc import Callable
from http.client import HTTPException, HTTPMessage
from pathlib import Path, PurePosixPath
from typing import IO
from urllib.parse import SplitResult, unquote, urlsplit

from caddie import places
from caddie.errors import CaddieError
from caddie.folders import checked_name, replace_folder, workshop
from caddie.keeping import make_folder, open_private, refused

Progress = Callable[[int, int | None], None]
"""Called with the bytes so far and, where known, in all."""

LARGEST_MODEL_BYTES = 4 * 1024**3
LARGEST_RATIO = 200
MOST_FILES = 2000

_CHUNK_BYTES = 1 << 16
_BROKEN_ARCHIVE = (
    zipfile.BadZipFile,
    zipfile.LargeZipFile,
    zlib.error,
    lzma.LZMAError,
    EOFError,
    NotImplementedError,
    RuntimeError,
    ValueError,
)
_NO_ANSWER = (OSError, HTTPException, ValueError)
_THIS_MACHINE = re.compile(r"(localhost|127\.0\.0\.1|\[::1\])(:[0-9]*)?", re.IGNORECASE | re.ASCII)
_MARKS = ("am/final.mdl", "final.mdl")
_SILENCE_S = 20.0


def models_directory() -> Path:
    """Where installed models live."""
    return places.home() / "models"


def is_model(folder: Path) -> bool:
    """Whether a folder holds a Vosk model."""
    return any((folder / mark).is_file() for mark in _MARKS)


def find(model_dir: str | Path | None = None) -> Path | None:
    """The model to use: the folder given, or the newest one in the data directory, or None.

    Raises:
        CaddieError: if the folder given holds no model.
    """
    if model_dir is not None:
        given = Path(os.path.expanduser(model_dir))
        inner = [given, *sorted(path for path in given.glob("*") if path.is_dir())]
        for folder in inner:
            if is_model(folder):
                return folder
        raise CaddieError(f"{given}: no Vosk model in this folder: it should hold am/final.mdl")
    with contextlib.suppress(OSError):
        # A folder still being unpacked, or left so by a kill, begins with a dot.
        shown = [path for path in models_directory().iterdir() if not path.name.startswith(".")]
        found = [path for path in shown if path.is_dir() and is_model(path)]
        return max(found, key=lambda path: path.stat().st_mtime, default=None)
    return None


def install(archive: str | Path, progress: Progress | None = None) -> Path:
    """Unpack a model's ZIP archive into the data directory.

    Nothing outside a fresh folder is written, and the folder is moved into place only when complete; a model of
    the same name that was there before goes when that is done, and stays when it fails.

    Args:
        archive: the ZIP file.
        progress: told of the bytes unpacked.

    Returns:
        The installed folder.

    Raises:
        CaddieError: if the file is no ZIP, is unsafe (absolute or upward paths, links, more bytes than it
            declares or than is sensible), holds no model, gives it no safe name, or the disk refuses.
    """
    file = Path(os.path.expanduser(archive))
    if not os.path.isfile(file):
        raise CaddieError(f"{file}: no such file: give the model's ZIP archive")
    target_root = models_directory()
    try:
        with workshop(target_root) as work:
            with zipfile.ZipFile(file) as source:
                _unpack(source, file, work, progress)
            roots = [work, *sorted(path for path in work.glob("*") if path.is_dir())]
            root = next((folder for folder in roots if is_model(folder)), None)
            if root is None:
                raise CaddieError(f"{file}: holds no Vosk model (no am/final.mdl): choose another archive")
            target = target_root / checked_name(file.stem if root == work else root.name, file)
            replace_folder(target, root)
    except _BROKEN_ARCHIVE as error:
        raise CaddieError(f"{file}: not a sound ZIP archive ({str(error)[:120]}): fetch it again") from error
    except OSError as error:
        raise CaddieError(refused(target_root, f"{file} cannot be installed here", error)) from error
    return target


def _unpack(source: zipfile.ZipFile, file: Path, into: Path, progress: Progress | None) -> None:
    members = source.infolist()
    if len(members) > MOST_FILES:
        raise CaddieError(f"{file}: unsafe archive: {len(members)} files in it, a model has far fewer")
    declared = sum(member.file_size for member in members)
    limit = min(LARGEST_MODEL_BYTES, max(file.stat().st_size, 1) * LARGEST_RATIO)
    if declared > limit:
        raise CaddieError(f"{file}: unsafe archive: it claims to unpack to {declared / 1e6:.0f} MB")
    written = 0
    for member in members:
        path = _safe_path(member, file)
        target = into.joinpath(*path.parts)
        if member.is_dir():
            make_folder(target)
            continue
        make_folder(target.parent)
        size = 0
        with source.open(member) as packed, open(target, "xb", opener=open_private) as plain:
            while chunk := packed.read(_CHUNK_BYTES):
                size += len(chunk)
                written += len(chunk)
                if size > member.file_size or written > limit:
                    raise CaddieError(f"{file}: unsafe archive: {member.filename} is longer than it declares")
                plain.write(chunk)
                if progress is not None:
                    progress(written, declared)


def _safe_path(member: zipfile.ZipInfo, file: Path) -> PurePosixPath:
    name = member.filename.replace("\\", "/")
    path = PurePosixPath(name)
    mode = member.external_attr >> 16
    odd_kind = stat.S_IFMT(mode) not in (0, stat.S_IFREG, stat.S_IFDIR)
    if path.is_absolute() or ".." in path.parts or ":" in name or "\0" in name or odd_kind or not path.parts:
        raise CaddieError(f"{file}: unsafe archive: it holds {member.filename!r}: choose another archive")
    return path


def fetch(
    address: str,
    sha256: str | None = None,
    progress: Progress | None = None,
    timeout_s: float = _SILENCE_S,
) -> Path:
    """Fetch a model's archive over the network, going on where an earlier try broke off.

    Args:
        address: https address of the ZIP archive (file: addresses work too).
        sha256: its checksum where known, in hexadecimal.
        progress: told of the bytes fetched.
        timeout_s: longest silence of the network [s].

    Returns:
        The archive's place in the data directory, complete; `install` takes it from there.

    Raises:
        CaddieError: if there is no network, the server refuses, the file is too large, or the checksum is
            another one.
    """
    if not _is_safe(address):
        raise CaddieError(f"{address}: not a safe address: give one that begins with https://")
    name = PurePosixPath(unquote(urlsplit(address).path).replace("\\", "/")).name
    if not name.endswith(".zip"):
        raise CaddieError(f"{address}: not the address of a ZIP archive")
    complete = models_directory() / checked_name(name, address)
    part = complete.with_name(name + ".part")
    for place in (complete, part):
        if os.path.lexists(place) and (place.is_symlink() or not place.is_file()):
            raise CaddieError(f"{place}: is no ordinary file; remove it, and fetch again")
    try:
        make_folder(complete.parent)
        _fetch_rest(address, part, progress, timeout_s)
    except urllib.error.HTTPError as error:
        raise CaddieError(f"{address}: the server answers {error.code} {error.reason}: check it") from error
    except _NO_ANSWER as error:
        if _is_of_disk(error, part):
            raise CaddieError(refused(part, "cannot be written", error)) from error
        raise CaddieError(
            f"{address}: no network or no answer; run the same command again to go on where it stopped, "
            "or fetch the ZIP elsewhere and give it with --from"
        ) from error
    if sha256 is not None and _checksum(part) != sha256.lower():
        part.unlink()
        raise CaddieError(f"{address}: what arrived has another checksum and was thrown away: fetch it again")
    os.replace(part, complete)
    return complete


def _is_of_disk(error: Exception, part: Path) -> bool:
    """Whether it was not the network: no room, or a place above the file or the file itself that refuses."""
    if not isinstance(error, OSError):
        return False
    own = error.filename is not None and part.is_relative_to(str(error.filename))
    return own or error.errno == errno.ENOSPC


def _is_safe(address: str) -> bool:
    """Whether what comes from there can be changed by nobody on the way: https, this machine, or a file on it.

    The host is compared whole: ``http://localhost.some.where`` and ``http://localhost@some.where`` are others'.
    """
    if not address.isprintable() or "\\" in address:
        return False
    try:
        parts = urlsplit(address)
        _ = parts.port
    except ValueError:
        return False
    if "@" in parts.netloc:
        return False
    if parts.scheme == "file":
        return parts.netloc in ("", "localhost")
    return (parts.scheme == "https" and bool(parts.hostname)) or _is_this_machine(parts)


def _is_this_machine(parts: SplitResult) -> bool:
    # Not `hostname`: that of "[::1].some.where" is "::1" in older versions of Python.
    return parts.scheme == "http" and _THIS_MACHINE.fullmatch(parts.netloc) is not None


class _SafeRedirects(urllib.request.HTTPRedirectHandler):
    """Follows a server that sends on to https, or from this machine to this machine, and no other."""

    def redirect_request(
        self,
        req: urllib.request.Request,
        fp: IO[bytes],
        code: int,
        msg: str,
        headers: HTTPMessage,
        newurl: str,
    ) -> urllib.request.Request | None:
        allowed = ("https",) if req.type == "https" else ("https", "http")
        if not _is_safe(newurl) or urlsplit(newurl).scheme not in allowed:
            fp.close()
            raise CaddieError(
                f"{req.full_url}: sends on to {newurl}, which is not a safe address: give another address"
            )
        return super().redirect_request(req, fp, code, msg, headers, newurl)


def _opener(address: str) -> urllib.request.OpenerDirector:
    if _is_this_machine(urlsplit(address)):
        # A proxy would take the request off this machine.
        return urllib.request.build_opener(_SafeRedirects, urllib.request.ProxyHandler({}))
    return urllib.request.build_opener(_SafeRedirects)


def _fetch_rest(address: str, part: Path, progress: Progress | None, timeout_s: float) -> None:
    have = part.stat().st_size if part.exists() else 0
    request = urllib.request.Request(address, headers={"Range": f"bytes={have}-"} if have else {})
    try:
        reply = _opener(address).open(request, timeout=timeout_s)
    except urllib.error.HTTPError as error:
        error.close()
        if error.code == 416 and have:
            return
        raise
    with reply:
        resumed = getattr(reply, "status", None) == 206
        if not resumed:
            have = 0
        length = reply.headers.get("Content-Length")
        total = have + int(length) if length else None
        if (total or 0) > LARGEST_MODEL_BYTES:
            raise CaddieError(f"{address}: {(total or 0) / 1e9:.1f} GB is too large for a model")
        with open(part, "ab" if resumed else "wb", opener=open_private) as target:
            while chunk := reply.read(_CHUNK_BYTES):
                target.write(chunk)
                have += len(chunk)
                if have > LARGEST_MODEL_BYTES:
                    raise CaddieError(f"{address}: too large for a model")
                if progress is not None:
                    progress(have, total)
        if total is not None and have < total:
            raise ConnectionError("the connection broke off")


def _checksum(file: Path) -> str:
    with file.open("rb") as source:
        return hashlib.file_digest(source, "sha256").hexdigest()
