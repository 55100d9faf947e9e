"""The ways of saying everything, as kept between two runs."""

from pathlib import Path

import pytest

from caddie.words.grammar import grammar
from caddie.words.patterns import Patterns, kept, patterns
from caddie.words.reduction import reducer


def made() -> Patterns:
    return patterns(grammar(), reducer())


def never() -> Patterns:
    raise AssertionError("made again although it was kept")


def files(home: Path) -> list[Path]:
    return sorted((home / "cache").iterdir())


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    return tmp_path


def test_what_is_kept_is_what_was_made(home: Path) -> None:
    first = kept(made)
    assert len(files(home)) == 1
    assert kept(never) == first == made()
    assert {index for entries in first.values() for index in entries} <= set(range(len(grammar().entries)))


@pytest.mark.parametrize("spoiled", ["", "{", "[]", "{}", '{"it": 3}', '{"it": {"x": ["it"]}}', "\udc80"])
def test_a_spoiled_file_is_made_again(home: Path, spoiled: str) -> None:
    whole = kept(made)
    (file,) = files(home)
    file.write_bytes(spoiled.encode("utf-8", "surrogateescape"))
    assert kept(made) == whole
    assert kept(never) == whole


def test_an_older_file_makes_way(home: Path) -> None:
    (home / "cache").mkdir()
    (home / "cache" / "words-0.json").write_text("{}", encoding="utf-8")
    kept(made)
    assert [file.name for file in files(home)] != ["words-0.json"]
    assert len(files(home)) == 1


def test_no_folder_to_write_to_does_no_harm(home: Path) -> None:
    (home / "cache").write_text("a file where the folder should be", encoding="utf-8")
    assert kept(made) == made()
