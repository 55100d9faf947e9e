"""Every option that a message tells to use exists on the command that prints it."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import typer

from caddie.cli.app import app

CADDIE = Path(__file__).parents[2] / "caddie"
OPTION = re.compile(r"(?<![\w-])--[a-z][a-z0-9-]*")
COMMAND = re.compile(r"caddie ((?:[a-z]+ ?)+)[^`'()]*$")
"""A command named before the option, in the same pair of quotes or brackets."""

READS_A_BAG = (
    "ask", "understand", "hear", "talk", "card", "report", "log teach", "bag show", "bag check", "bag fit",
    "bag import", "bag new", "practice range", "practice next", "practice rehearse", "practice game",
    "practice drill",
)  # fmt: skip
OPENS_A_LOG = (
    "talk", "report", "log show", "log undo", "log export", "log teach", "log forget", "practice next",
    "practice rehearse", "practice game", "practice drill",
)  # fmt: skip
ASKS_FIRST = (
    "bag new", "bag import", "bag fit", "card", "report", "practice range", "voice model", "log undo",
    "log export", "log teach", "log forget",
)  # fmt: skip
WRITES_A_FILE = ("ask", "hear", "bag show", "card", "report", "log export")
PRINTED_BY = {
    "cli/voice_trial.py": ("voice try",),
    "log/migrations.py": OPENS_A_LOG,
    "log/store.py": OPENS_A_LOG,
    "bag/file.py": READS_A_BAG,
    "range/csv_import.py": ("bag import",),
    "range/start_bag.py": ("bag import",),
    "page/server.py": ("page",),
    "page/certificate.py": ("page",),
    "log/opening.py": OPENS_A_LOG,
    "range/journal.py": ("practice range",),
    "cli/bag_import.py": ("bag import",),
    "cli/output.py": WRITES_A_FILE,
    "voice/model.py": ("voice model",),
    "voice/check.py": ("voice check",),
    "voice/choose_ears.py": ("hear", "talk", "voice check"),
    "range/bucket.py": ("practice range",),
    "cli/consent.py": ASKS_FIRST,
    "cli/practice_range.py": ("practice range",),
    "cli/bag.py:_own": ("bag import", "bag fit"),
    "cli/bag.py:_conditions": ("bag import",),
    "cli/bag.py:_columns": ("bag import",),
}
"""The commands that print what a file, or a function of it, says; a command's own function needs no entry."""


def leaves(command, words=()):
    if getattr(command, "invoke_without_command", True):
        yield " ".join(words), command
    for name, each in getattr(command, "commands", {}).items():
        yield from leaves(each, (*words, name))


LEAVES = dict(leaves(typer.main.get_command(app)))
OPTIONS = {
    words: {opt for each in one.params for opt in each.opts} | {"--help"} for words, one in LEAVES.items()
}
COMMAND_OF = {(one.callback.__module__, one.callback.__name__): words for words, one in LEAVES.items()}


def literals(node: ast.AST, function: str = "") -> Iterator[tuple[str, str]]:
    """Each text of a file that can be printed, with the function it stands in; no docstring, no option's name."""
    for child in ast.iter_child_nodes(node):
        inside = function or (child.name if isinstance(child, ast.FunctionDef) else "")
        if isinstance(child, ast.Expr) and isinstance(child.value, ast.Constant):
            continue
        if isinstance(child, ast.JoinedStr):
            parts = [part.value if isinstance(part, ast.Constant) else "X" for part in child.values]
            yield "".join(parts), inside
        elif (
            isinstance(child, ast.Constant)
            and isinstance(child.value, str)
            and not OPTION.fullmatch(child.value)
        ):
            yield child.value, inside
        yield from literals(child, inside)


def named(text: str) -> Iterator[tuple[str | None, str]]:
    """Each option of a text with the command it is named on, or None where it stands alone."""
    for found in OPTION.finditer(text):
        before = COMMAND.search(text[: found.start()])
        words = before[1].split() if before else []
        command = next((" ".join(words[:n]) for n in (2, 1) if " ".join(words[:n]) in OPTIONS), None)
        yield command, found[0]


def messages() -> list[tuple[str, str, str]]:
    """File and function, option and command, once for each command that can print the message."""
    found = set()
    for path in sorted(CADDIE.rglob("*.py")):
        file = path.relative_to(CADDIE).as_posix()
        module = "caddie." + file.removesuffix(".py").replace("/", ".")
        for text, function in literals(ast.parse(path.read_text(encoding="utf-8"))):
            own = COMMAND_OF.get((module, function))
            place = f"{file}:{function}"
            printers = PRINTED_BY.get(place) or PRINTED_BY.get(file) or ((own,) if own else ("unknown",))
            for command, option in named(text):
                if option != "--help":
                    found |= {(place, option, each) for each in ((command,) if command else printers)}
    return sorted(found)


@pytest.mark.parametrize(("place", "option", "command"), messages())
def test_it_exists_on_every_command_that_prints_it(place, option, command):
    assert command in OPTIONS, f"{place} names {option}: say which commands print it, or name one with it"
    assert option in OPTIONS[command]


def test_messages_are_found():
    assert len(messages()) > 60
    assert ("voice/choose_ears.py:_started", "--fetch", "voice model") in messages()
    assert set(named("run `caddie voice check`, or use --quiet")) == {(None, "--quiet")}
    assert set(named("as with `caddie talk --quiet`")) == {("talk", "--quiet")}
    assert set(named("caddie bag import FILE --column carry=HEADING")) == {("bag import", "--column")}


def test_a_foreign_table_given_to_the_fit_is_sent_to_the_import(caddie, tmp_path):
    """`bag fit` has no option that says a club, a swing or a unit."""
    (tmp_path / "balls.csv").write_text("club,carry\n56,61\n")
    (tmp_path / "home").mkdir()
    caddie("bag", "new", "--yes", typed="yards\nAsh\n20\nright\n60 56 52\n\n\n\n")
    ended = caddie("bag", "fit", str(tmp_path / "balls.csv"))
    assert ended.code == 2
    assert "caddie bag import" in ended.err
    assert not OPTION.search(ended.err)
