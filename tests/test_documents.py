"""The documents' commands are run and their printed output compared.

``CADDIE_UPDATE_DOCUMENTS=1 python -m pytest tests/test_documents.py`` writes the real output into them.
"""

import io
import os
import re
import shlex
import sys
from pathlib import Path

import pytest
import typer

from caddie.cli import app, run

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
DEVELOPERS = ROOT / "DEVELOPERS.md"
REFERENCE_BEGINS = "<!-- commands: written by tests/test_documents.py -->"
REFERENCE_ENDS = "<!-- end of commands -->"
SHOWN = re.compile(
    r"```console\n(?P<command>[^\n]+)\n```\n\n(?P<between>[^\n`]+\n\n)?```text\n(?P<output>.*?)```", re.S
)


def shown(document: Path) -> list[tuple[str, str]]:
    return [
        (found["command"], found["output"]) for found in SHOWN.finditer(document.read_text(encoding="utf-8"))
    ]


def caddie_words(command: str) -> list[str]:
    """The words after ``caddie`` in a shell line; the parts before it set up the environment."""
    return shlex.split(command.split("&&")[-1])[1:]


def printed(command: str, monkeypatch, capsys) -> str:
    monkeypatch.setattr(sys, "argv", ["caddie", *caddie_words(command)])
    monkeypatch.setattr(sys, "stdin", io.StringIO(""))
    with pytest.raises(SystemExit):
        run()
    out, err = capsys.readouterr()
    return out + err


def test_the_readme_shows_what_its_commands_print(monkeypatch, capsys, tmp_path):
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    text = README.read_text(encoding="utf-8")
    pairs = shown(README)
    assert pairs, "the first command and its output must be in the README"
    for command, output in pairs:
        real = printed(command, monkeypatch, capsys)
        if os.environ.get("CADDIE_UPDATE_DOCUMENTS"):
            text = text.replace(f"```text\n{output}```", f"```text\n{real}```", 1)
            README.write_text(text, encoding="utf-8")
        else:
            assert output == real, f"README shows another output for: {command}"


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
    text = DEVELOPERS.read_text(encoding="utf-8")
    before, _, after = text.partition(REFERENCE_BEGINS)
    assert after, "the contributor guide must hold the command reference"
    _, mark, rest = after.partition(REFERENCE_ENDS)
    real = f"{before}{REFERENCE_BEGINS}\n{reference()}\n{mark}{rest}"
    if os.environ.get("CADDIE_UPDATE_DOCUMENTS"):
        DEVELOPERS.write_text(real, encoding="utf-8")
    else:
        assert text == real


def test_every_command_shows_one_example():
    for page in re.findall(r"```text\n(Usage: .*?)```", reference(), re.S):
        if "Commands:" not in page:
            assert re.search(r"caddie\s+\w+", page.split("\n", 1)[1]), (
                f"no example in: {page.splitlines()[0]}"
            )


def test_the_readme_examples_in_python_run(capsys):
    blocks = re.findall(r"```python\n(.*?)```", README.read_text(encoding="utf-8"), re.S)
    assert blocks
    for block in blocks:
        exec(compile(block, "README.md", "exec"), {})
    assert capsys.readouterr().out.startswith("56 chest")


def test_the_readme_has_one_command_to_run_and_one_to_test():
    text = README.read_text(encoding="utf-8")
    setups = [line for line in text.splitlines() if line.startswith("python3 -m venv")]
    assert len(setups) == 2
    assert '.venv/bin/caddie ask "' in setups[0]
    assert setups[1].endswith(".venv/bin/python -m pytest")
    checks = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert setups[1] in checks, "the checks call the README's test command"
