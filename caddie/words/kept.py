"""What is worked out from the grammar files, kept in the cache folder: a later start need not do it again."""

import hashlib
import json
import zlib
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import TypeVar

from caddie.errors import CaddieError
from caddie.keeping import write_atomically
from caddie.places import NoHomeError, home, shipped

T = TypeVar("T")


def kept(name: str, make: Callable[[], T]) -> T:
    """What ``make`` makes of the shipped grammar, from the cache or else made and kept there.

    The file is named by a digest of the grammar and of the code that reads it, so that a change of either
    makes a new one; without a folder to write to, it is made each time.

    Args:
        name: what it is called in the cache.
        make: makes something that JSON gives back as it was.
    """
    try:
        path = home() / "cache" / f"words-{name}-{_digest()}.json"
    except NoHomeError:
        return make()
    with suppress(OSError, ValueError):
        total, _, text = path.read_bytes().partition(b"\n")
        if int(total) == zlib.crc32(text):
            found: T = json.loads(text)
            return found
    made = make()
    with suppress(OSError, CaddieError):
        _keep(path, json.dumps(made).encode())
    return made


def kept_index(
    name: str, written: Sequence[str], words_of: Callable[[str], Iterable[str]]
) -> dict[str, list[int]]:
    """The numbers of what is written by each of its words, kept so that little of it is read at the next start.

    Args:
        name: what it is called in the cache.
        written: in order.
        words_of: the words that one of them is looked up by.
    """

    def indexed() -> dict[str, list[int]]:
        index: dict[str, list[int]] = {}
        for number, each in enumerate(written):
            for word in sorted(words_of(each)):
                index.setdefault(word, []).append(number)
        return index

    return kept(name, indexed)


def _keep(path: Path, text: bytes) -> None:
    write_atomically(path, b"%d\n%s" % (zlib.crc32(text), text))
    for old in path.parent.glob("words-*.json"):
        if not old.stem.endswith(_digest()):
            old.unlink()


@lru_cache(maxsize=1)
def _digest() -> str:
    digest = hashlib.sha256()
    for file in _sources():
        digest.update(file.read_bytes())
    return digest.hexdigest()[:24]


def _sources() -> Iterable[Path]:
    yield from sorted(shipped("grammars/en").glob("*.toml"))
    yield from sorted(Path(__file__).parent.glob("*.py"))
