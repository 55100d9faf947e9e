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

from caddie.cli import run

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
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
