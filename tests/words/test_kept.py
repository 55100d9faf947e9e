"""What is worked out from the grammar, as kept between two runs."""

import zlib
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from caddie.words import kept as keeping
from caddie.words.grammar import grammar
from caddie.words.kept import kept
from caddie.words.patterns import patterns
from caddie.words.phrases import Net, net
from caddie.words.reduction import reducer

Made = dict[str, list[list[str]]]
SMALL: Made = {"rough": [["deep rough"], ["wet rough"]], "flag": [["to the flag"]]}
"""As nested as what is kept, and made at once."""


def whole_net() -> Net:
    return net(patterns(grammar(), reducer()))


def made() -> Made:
    return deepcopy(SMALL)


def never() -> Any:
    raise AssertionError("made again although it was kept")


def files(home: Path) -> list[Path]:
    return sorted((home / "cache").iterdir())


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    reducer()
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    return tmp_path


def test_what_is_kept_is_what_was_made(home: Path) -> None:
    first = kept("patterns", whole_net)
    assert len(files(home)) == 1
    assert kept("patterns", never) == first == whole_net()
    assert {entry for ended in first["ends"] for entry in ended} <= set(range(len(grammar().entries)))


@pytest.mark.parametrize("spoiled", ["", "{", "[]", '{"it": 3}', "0\n{}", "\udc80", "x\n"])
def test_a_spoiled_file_is_made_again(home: Path, spoiled: str) -> None:
    whole = kept("patterns", made)
    (file,) = files(home)
    file.write_bytes(spoiled.encode("utf-8", "surrogateescape"))
    assert kept("patterns", made) == whole
    assert kept("patterns", never) == whole


def test_one_changed_letter_is_noticed(home: Path) -> None:
    whole = kept("patterns", made)
    (file,) = files(home)
    content = file.read_bytes()
    file.write_bytes(content.replace(b"rough", b"tough", 1))
    assert kept("patterns", made) == whole
    assert file.read_bytes() == content


def test_a_file_of_another_program_is_made_again(home: Path) -> None:
    whole = kept("patterns", made)
    (file,) = files(home)
    file.write_bytes(b"%d\n{" % zlib.crc32(b"{"))
    assert kept("patterns", made) == whole


def test_older_files_make_way_and_those_of_the_same_grammar_stay(home: Path) -> None:
    (home / "cache").mkdir()
    for name in ("words-patterns-0.json", "words-lexicon-0.json"):
        (home / "cache" / name).write_text("{}", encoding="utf-8")
    kept("lexicon", lambda: {"facts": ["rough"]})
    kept("patterns", made)
    assert [file.name.split("-")[1] for file in files(home)] == ["lexicon", "patterns"]
    assert not any(file.stem.endswith("-0") for file in files(home))


def test_no_folder_to_write_to_does_no_harm(home: Path) -> None:
    (home / "cache").write_text("a file where the folder should be", encoding="utf-8")
    assert kept("patterns", made) == made()


def test_a_changed_grammar_is_read_anew(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept("patterns", made)
    monkeypatch.setattr(keeping, "_digest", lambda: "changed")
    assert kept("patterns", lambda: {"new": {}}) == {"new": {}}
    assert len(files(home)) == 1
