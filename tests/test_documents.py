"""What the documents show is compared with what is really printed, drawn and there.

``CADDIE_UPDATE_DOCUMENTS=1 python -m pytest tests/test_documents.py`` writes the real output into them. A line of
three dots stands for lines left out; ``> `` begins what is typed.
"""

import contextlib
import doctest
import io
import os
import re
import shlex
import sys
from pathlib import Path

import pytest
import typer

from caddie.cli import app, run
from caddie.cli.demo import DEMO_ANSWERS

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
DEVELOPERS = ROOT / "DEVELOPERS.md"
PICTURE = ROOT / "demo_bag" / "shot.svg"
UPDATING = bool(os.environ.get("CADDIE_UPDATE_DOCUMENTS"))
COMMANDS = ROOT / "caddie" / "cli" / "COMMANDS.md"
EVIDENCE = ROOT / "tests" / "published" / "README.md"
MOST_LINES_OF_THE_GUIDE = 150
SHOWN = re.compile(
    r"```console\n(?P<command>[^\n]+)\n```\n\n(?P<between>[^\n`]+\n\n)?```text\n(?P<output>.*?)```", re.S
)
LEFT_OUT = "..."
PROMPT = "> "
COLUMNS = "110"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


class Keyboard(io.StringIO):
    """A person's typing, which a terminal echoes."""

    def isatty(self) -> bool:
        return True

    def readline(self, *size: int) -> str:
        line = super().readline(*size)
        sys.stdout.write(line)
        return line


class Notebook(doctest.DocTestRunner):
    """Runs a page and keeps what came out otherwise than shown, each with the line before it."""

    def __init__(self) -> None:
        super().__init__()
        self.differences: list[tuple[str, str]] = []

    def report_failure(self, out, test, example, got):
        last = example.source.splitlines()[-1]
        self.differences.append((f"{last}\n{example.want}", f"{last}\n{got}"))

    def report_unexpected_exception(self, out, test, example, exc_info):
        raise exc_info[1]


def caddie_words(command: str) -> list[str]:
    """The words after ``caddie`` in a shell line; the parts before it set up the environment."""
    return shlex.split(command.split("&&")[-1], comments=True)[1:]


def printed(command: str, typed: list[str], monkeypatch) -> str:
    """Everything the command prints, as a terminal shows it, but for the line that the README tells of once."""
    monkeypatch.setattr(sys, "argv", ["caddie", *caddie_words(command)])
    monkeypatch.setattr(
        sys, "stdin", Keyboard("".join(f"{line}\n" for line in typed)) if typed else io.StringIO()
    )
    screen = io.StringIO()
    with contextlib.redirect_stdout(screen), contextlib.redirect_stderr(screen), pytest.raises(SystemExit):
        run()
    return re.sub(r" +\n", "\n", screen.getvalue().replace(f"{DEMO_ANSWERS}\n", ""))


def turns_of(text: str) -> list[str]:
    """The text cut before every line that was typed."""
    return re.split(rf"(?m)^(?={PROMPT})", text)


def abridged(shown: str, real: str) -> str:
    """The real output with those lines left out that the document leaves out."""
    lines, whole = shown.splitlines(), real.splitlines()
    if LEFT_OUT not in lines:
        return real
    place = lines.index(LEFT_OUT)
    after = len(lines) - place - 1
    kept = [*whole[:place], LEFT_OUT, *whole[len(whole) - after :]]
    return "".join(f"{line}\n" for line in kept)


def test_the_readme_shows_what_its_commands_print(monkeypatch, tmp_path):
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    monkeypatch.setenv("COLUMNS", COLUMNS)
    text = README.read_text(encoding="utf-8")
    shown = [found.groupdict() for found in SHOWN.finditer(text)]
    assert len(shown) >= 4
    for each in shown:
        output = each["output"]
        typed = [line.removeprefix(PROMPT) for line in output.splitlines() if line.startswith(PROMPT)]
        real = printed(each["command"], typed, monkeypatch)
        pairs = zip(turns_of(output), turns_of(real), strict=True)
        real = "".join(abridged(part, real_part) for part, real_part in pairs)
        if UPDATING:
            text = text.replace(f"```text\n{output}```", f"```text\n{real}```", 1)
            README.write_text(text, encoding="utf-8")
        else:
            assert output == real, f"README shows another output for: {each['command']}"


def test_the_readme_shows_the_picture_of_its_first_command(monkeypatch, tmp_path):
    """Numbers may differ by a pixel: the last digit of a sum is the processor's."""
    text = README.read_text(encoding="utf-8")
    assert f"]({PICTURE.relative_to(ROOT).as_posix()})" in text
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    command = SHOWN.search(text)["command"]
    printed(f"{command} --picture {shlex.quote(str(tmp_path / 'shot.svg'))}", [], monkeypatch)
    real = (tmp_path / "shot.svg").read_text(encoding="utf-8")
    if UPDATING:
        PICTURE.write_text(real, encoding="utf-8")
    kept = PICTURE.read_text(encoding="utf-8")
    assert NUMBER.sub("#", kept) == NUMBER.sub("#", real)
    assert [float(number) for number in NUMBER.findall(kept)] == pytest.approx(
        [float(number) for number in NUMBER.findall(real)], abs=1.0
    )


def reference() -> str:
    """What every command says of itself, in the order of the command line."""
    root = typer.main.get_command(app)
    pages = []

    def describe(command, words):
        context = command.make_context(" ".join(words), ["--help-not-asked"], resilient_parsing=True)
        pages.append(command.get_help(context))
        for name, inner in getattr(command, "commands", {}).items():
            describe(inner, [*words, name])

    describe(root, ["caddie"])
    return "\n\n".join(f"```text\n{page.rstrip()}\n```" for page in pages)


def test_the_command_reference_is_what_help_prints(monkeypatch):
    monkeypatch.setenv("COLUMNS", "100")
    text = COMMANDS.read_text(encoding="utf-8")
    real = f"{text.split('```')[0]}{reference()}\n"
    if UPDATING:
        COMMANDS.write_text(real, encoding="utf-8")
    else:
        assert text == real


@pytest.mark.parametrize(("document", "least"), [(README, 10), (DEVELOPERS, 5)], ids=["README", "DEVELOPERS"])
def test_the_examples_in_python_run(document, least):
    text = document.read_text(encoding="utf-8")
    blocks = re.findall(r"```python\n(.*?)```", text, re.S)
    page = doctest.DocTestParser().get_doctest("\n".join(blocks), {}, document.name, str(document), 0)
    assert len(page.examples) >= least
    runner = Notebook()
    runner.run(page)
    if UPDATING:
        for want, got in runner.differences:
            text = text.replace(want, got, 1)
        document.write_text(text, encoding="utf-8")
    else:
        assert not runner.differences


def test_the_readme_has_one_command_to_run_and_one_to_test():
    text = README.read_text(encoding="utf-8")
    setups = [line for line in text.splitlines() if line.startswith("python3 -m venv")]
    assert len(setups) == 2
    assert '.venv/bin/caddie ask "' in setups[0]
    assert setups[1].endswith(".venv/bin/python -m pytest")
    checks = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert setups[1] in checks, "the checks call the README's test command"


def named_paths(text: str) -> list[tuple[str, list[Path]]]:
    """Every path in backticks or links, and the folders it may be told from: a table's row tells from its room."""
    found = []
    for line in text.splitlines():
        room = re.match(r"\| `(\w+)/`", line)
        places = [ROOT, ROOT / "caddie", EVIDENCE.parent, *([ROOT / "caddie" / room[1]] if room else [])]
        words = [word for span in re.findall(r"`([^`]+)`", line) for word in span.split()]
        words += re.findall(r"\]\(([^):]+)\)", line)
        paths = [word for word in words if re.fullmatch(r"[\w./*-]*(/[\w.*-]*|\.(py|toml|csv|md))", word)]
        found += [(path, places) for path in paths if not path.startswith((".venv", "--"))]
    return found


@pytest.mark.parametrize(
    "document", [README, DEVELOPERS, EVIDENCE], ids=lambda path: str(path.relative_to(ROOT))
)
def test_every_path_in_the_documents_exists(document):
    paths = named_paths(document.read_text(encoding="utf-8"))
    assert paths
    for path, places in paths:
        assert any(list(place.glob(path)) for place in places), f"{document.name} names {path}"


def test_the_table_of_rooms_names_every_room():
    table = DEVELOPERS.read_text(encoding="utf-8").split("| room |")[1].split("\n\n")[0]
    named = {
        name.rstrip("/")
        for row in table.splitlines()
        for name in re.findall(r"`([\w./]+)`", row.split("|")[1])
    }
    there = {path.name for path in (ROOT / "caddie").iterdir() if path.suffix == ".py" or path.is_dir()}
    assert named == there - {"__init__.py", "__main__.py", "__pycache__", "shipped"}


def test_the_guide_can_be_read_in_one_sitting():
    assert len(DEVELOPERS.read_text(encoding="utf-8").splitlines()) <= MOST_LINES_OF_THE_GUIDE


def told(name: str) -> str:
    """A file's name as a test may write it, with one word left to a variable: ``ball_{name}_bearman.csv``."""
    words = name.removesuffix(".csv").split("_")
    ways = [[*words[:at], r"\{\w+\}", *words[at + 1 :]] for at in range(len(words))]
    return "|".join("_".join(way) + r"\.csv" for way in [words, *ways])


def test_every_file_of_published_data_is_read_by_a_test_and_keeps_its_source():
    tests = [path.read_text(encoding="utf-8") for path in (ROOT / "tests").rglob("test_*.py")]
    for path in sorted(EVIDENCE.parent.glob("*.csv")):
        assert any(re.search(told(path.name), test) for test in tests), f"no test reads {path.name}"
        first = path.read_text(encoding="utf-8").splitlines()[0]
        assert first.startswith("#"), f"{path.name} does not say where it comes from"
