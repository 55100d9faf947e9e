"""The expected language, worked out when sentences are first listened for and kept in the cache folder."""

import hashlib
import io
import zipfile
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

import numpy as np

from caddie.errors import CaddieError
from caddie.keeping import guarded, write_atomically
from caddie.places import home
from caddie.voice.neural.general import COMMON_WORDS, General
from caddie.voice.neural.language import Language
from caddie.voice.neural.ngrams import ORDER, WordModel

# Raised when the way of working out changes, so that older files are not used.
_BUILD = 1
_KEPT = 8
"""Files that stay when a new one is written."""


def language_of(sentences: Sequence[str]) -> Language:
    """The language of these sentences, from the cache or else worked out and kept there.

    Where the cache cannot be written it is worked out each time.

    Raises:
        CaddieError: if pocketsphinx, whose wheel has the general English, is not installed.
    """
    path = guarded(home() / "cache") / f"language-{_digest(sentences)}.npz"
    found = _read(path)
    if found is None:
        expected, general = WordModel.of(sentences), General()
        with suppress(OSError, CaddieError):
            _write(path, expected, general)
        return Language(expected, general)
    return Language(*found)


def _digest(sentences: Sequence[str]) -> str:
    parts = [str(_BUILD), str(ORDER), str(COMMON_WORDS), *sorted(sentences)]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:24]


def _read(path: Path) -> tuple[WordModel, General] | None:
    """What was kept; None when there is nothing or it is damaged (the archive has checksums)."""
    try:
        with np.load(path, allow_pickle=False) as archive:
            arrays = dict(archive)
        words, common = arrays.pop("words").tolist(), arrays.pop("common").tolist()
        return WordModel.from_arrays(arrays, words), General(common, arrays["common_chances"])
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        return None


def _write(path: Path, expected: WordModel, general: General) -> None:
    packed = io.BytesIO()
    arrays: dict[str, Any] = {
        "words": np.array(expected.words),
        "common": np.array(general.words),
        "common_chances": general.chances,
        **expected.arrays(),
    }
    np.savez(packed, **arrays)
    write_atomically(path, packed.getvalue())
    kept = sorted(path.parent.glob("language-*.npz"), key=lambda file: file.stat().st_mtime, reverse=True)
    for old in kept[_KEPT:]:
        old.unlink()
