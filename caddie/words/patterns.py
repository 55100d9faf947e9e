"""Every way of saying every entry, reduced to pieces: made from the grammar once, then kept in the cache folder."""

import hashlib
import json
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path

from caddie.errors import CaddieError
from caddie.keeping import write_atomically
from caddie.places import NoHomeError, home, shipped
from caddie.words.grammar import Grammar
from caddie.words.reduction import Reducer

Patterns = dict[str, dict[int, list[str]]]
"""By first piece, then by entry: the pieces of each way to say it, joined by blanks."""

_BARE = frozenset({"", "#", "it", "to", "of", "i"})
"""Templates made of passed-over words alone say nothing."""


def patterns(words: Grammar, reduce: Reducer) -> Patterns:
    """The patterns of a grammar, in the order of its entries."""
    found: dict[str, dict[int, set[str]]] = {}
    for index, entry in enumerate(words.entries):
        for node in entry.say:
            for pattern in reduce.patterns(node, whole=entry.whole):
                if (said := " ".join(pattern)) not in _BARE:
                    found.setdefault(pattern[0], {}).setdefault(index, set()).add(said)
    return {
        first: {index: sorted(said) for index, said in entries.items()} for first, entries in found.items()
    }


def kept(make: Callable[[], Patterns]) -> Patterns:
    """The patterns of the shipped grammar from the cache, or else made and kept there.

    The file is named by a digest of the grammar and of the code that reads it, so that a change of either
    makes a new one; without a folder to write to, they are made each time.
    """
    try:
        path = home() / "cache" / f"words-{_digest(_sources())}.json"
    except NoHomeError:
        return make()
    with suppress(OSError, ValueError, TypeError, AttributeError):
        read = json.loads(path.read_text(encoding="utf-8"))
        if found := {
            first: {int(index): list(ways) for index, ways in entries.items()}
            for first, entries in read.items()
        }:
            return found
    made = make()
    with suppress(OSError, CaddieError):
        write_atomically(path, json.dumps(made))
        for old in path.parent.glob("words-*.json"):
            if old != path:
                old.unlink()
    return made


def _sources() -> Iterable[Path]:
    yield from sorted(shipped("grammars/en").glob("*.toml"))
    yield from sorted(Path(__file__).parent.glob("*.py"))


def _digest(files: Iterable[Path]) -> str:
    digest = hashlib.sha256()
    for file in files:
        digest.update(file.read_bytes())
    return digest.hexdigest()[:24]
