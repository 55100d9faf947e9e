"""Every command line that a reader can copy, from the documents and from the help, is run as it is typed."""

import os
import re
import shlex
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
import typer

from caddie.cli import app
from caddie.log.export import read_lines
from caddie.log.store import Log

ROOT = Path(__file__).parents[1]
DOCUMENTS = (ROOT / "README.md", ROOT / "DEVELOPERS.md")
BLOCK = re.compile(r"```console\n(.*?)```", re.S)
EXAMPLE = re.compile(r"(?:^|: )(caddie [^:]+?)\.?$")

SOUND = "needs a microphone and a loudspeaker; tests/voice talks through virtual ones"
NOT_RUN_HERE = {
    "python3 -m venv .venv": "makes the environment that the tests run in",
    "pip install '.[ears]'": "installs what is tested here",
    "pip install '.[test]'": "installs what is tested here",
    "python -m pytest": "runs this test",
    "bash .ci/run": "runs this test",
    "python tests/bench": "takes twenty minutes; tests/test_bench.py runs its smallest part",
    "caddie talk --voice": SOUND,
    "caddie talk --push": SOUND,
    "caddie practice range --voice": SOUND,
    "caddie voice check": SOUND,
    "caddie voice try": SOUND,
    "caddie page": "serves until it is ended; tests/page runs it with a browser",
    "caddie page --lan": "serves until it is ended; tests/page/test_lan.py lets a phone in",
    "caddie voice model --fetch": "uses the network; tests/voice/test_model.py fetches from a local server",
}
"""The only lines that are not run, and why; a ``caddie`` line among them must at least be understood."""

TYPED = {
    "caddie talk": "forty out\nfairway\nwhat about the gap wedge?\nready\nfinished eight feet past\nbye\n",
    "caddie bag new": "yards\nAsh\n20\nright\n60 56 52 46 9i\n56 half 60, PW full 105\nshort\nchip\ny\n",
    "caddie practice range": "y\nsixty-three, left\nthin\nscratch that\nfinish\n",
    "caddie practice rehearse": "six feet short\nholed it\nstop\n",
    "caddie practice drill": "in\nmissed\nin\nstop\n",
    "caddie practice game": "six feet short\nfour feet past\nstop\n",
}
"""What is typed into the commands that talk; all others are told yes."""
NOTED = "caddie notes import demo_bag/marram_links.toml --yes"
BEFORE = {
    "caddie bag fit": "caddie bag import session.csv --yes",
    "caddie notes course --out course.html": NOTED,
    "caddie notes export --out course.toml": NOTED,
}
"""What must have been done first."""
FILES_WRITTEN = (".svg", ".wav", ".pdf", ".html", ".csv", ".toml")


def without_comment(line: str) -> str:
    return line.split(" #")[0].strip()


def documented() -> list[str]:
    """Each command of the documents' console blocks, without the environment's folder in front."""
    return [
        part.strip().removeprefix(".venv/bin/")
        for document in DOCUMENTS
        for block in BLOCK.findall(document.read_text(encoding="utf-8"))
        for line in block.splitlines()
        for part in without_comment(line).split(" && ")
        if part
    ]


def leaves(command=None, words=("caddie",)):
    """Every command that does something, with the words that call it."""
    command = command or typer.main.get_command(app)
    if getattr(command, "invoke_without_command", True):
        yield " ".join(words), command
    for name, each in getattr(command, "commands", {}).items():
        yield from leaves(each, (*words, name))


def example_of(command) -> str | None:
    paragraphs = [" ".join(part.split()) for part in (command.help or "").split("\n\n")]
    return next((found[1] for part in paragraphs if (found := EXAMPLE.search(part))), None)


HELP_EXAMPLES = {called: example_of(command) for called, command in leaves()}
LINES = sorted({*documented(), *filter(None, HELP_EXAMPLES.values())} - NOT_RUN_HERE.keys())


@pytest.mark.parametrize("called", HELP_EXAMPLES)
def test_the_help_of_every_command_has_an_example_of_it(called):
    example = HELP_EXAMPLES[called]
    assert example, f"{called} --help shows no example"
    assert example.startswith(called)


def zipped_model(path: Path) -> None:
    """The files of a Vosk model by name, which is all that installing one looks at."""
    with zipfile.ZipFile(path, "w") as archive:
        for name in ("am/final.mdl", "conf/mfcc.conf"):
            archive.writestr(f"small-en/{name}", b"x")


@pytest.fixture
def folder(tmp_path, monkeypatch, recogniser_files):
    """A player's folder and data directory, with every file that the examples name."""
    home, place = tmp_path / "home", tmp_path / "folder"
    shutil.copytree(recogniser_files, home, copy_function=os.link)
    place.mkdir()
    monkeypatch.chdir(place)
    monkeypatch.setenv("CADDIE_HOME", str(home))
    demo = ROOT / "demo_bag"
    for target in (home / "bag.toml", place / "mine.toml"):
        shutil.copy(demo / "bag.toml", target)
    shutil.copytree(demo, place / "demo_bag")
    shutil.copy(demo / "range_session.csv", place / "session.csv")
    shutil.copy(demo / "seventy_yards.wav", place / "shot.wav")
    with Log(home / "log.sqlite3") as log:
        log.add_all(read_lines(demo / "round.jsonl"))
    zipped_model(place / "model.zip")
    return place


def typed_into(words: list[str]) -> str:
    line = " ".join(words)
    return next((typed for start, typed in TYPED.items() if line.startswith(start)), "y\ny\n")


@pytest.mark.parametrize("line", LINES)
def test_the_line_does_what_it_says(line, folder, caddie):
    words = shlex.split(line)
    assert words[0] == "caddie", f"neither run nor listed with a reason: {line}"
    if line in BEFORE:
        assert caddie(*shlex.split(BEFORE[line])[1:]).code == 0
    ended = caddie(*words[1:], typed=typed_into(words))
    assert ended.code in (0, 1), ended.err
    assert ended.out.strip()
    for unwanted in ("Traceback", "should not happen", "caddie: "):
        assert unwanted not in ended.out + ended.err
    for word in words[2:]:
        if word.endswith(FILES_WRITTEN):
            assert (folder / word).stat().st_size > 0, f"{word} was not written"


@pytest.mark.parametrize("line", [line for line in NOT_RUN_HERE if line.startswith("caddie ")])
def test_a_line_that_is_not_run_is_at_least_understood(line):
    words = shlex.split(line)[1:]
    command = typer.main.get_command(app)
    while words and hasattr(command, "commands") and words[0] in command.commands:
        command = command.commands[words.pop(0)]
    command.make_context(line, words)


def test_every_line_that_is_not_run_stands_in_a_document():
    assert NOT_RUN_HERE.keys() <= set(documented()) | set(HELP_EXAMPLES.values())


def test_the_options_named_in_the_documents_exist():
    known = {"--help", "--install-completion"} | {
        option for _, command in leaves() for each in command.params for option in each.opts
    }
    bench = [sys.executable, str(ROOT / "tests" / "bench"), "--help"]
    known |= set(re.findall(r"--[a-z]+", subprocess.run(bench, capture_output=True, text=True).stdout))
    for document in DOCUMENTS:
        text = document.read_text(encoding="utf-8").split("## Commands")[0]
        for option in re.findall(r"`(?:caddie [^`]*)?(--[a-z-]+)", text):
            assert option in known, f"{document.name} names {option}"
