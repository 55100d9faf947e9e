"""What the page shows names no command of the terminal: every line that a room can say is collected and looked at."""

import ast
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from typer.main import get_command

import caddie
from caddie.cli.app import app
from caddie.errors import CaddieError
from caddie.page.at_hand import at_hand
from caddie.page.practice_view import NOTHING_TO_MEASURE

ROOT = Path(caddie.__file__).parent
COMMANDS = sorted(get_command(app).commands)
COMMAND = re.compile(rf"caddie (?:{'|'.join(COMMANDS)})\b")
NOT_SHOWN = {
    "page/devices.py": "said where devices are listed and removed: in the terminal",
    "page/certificate.py": "names of the certificate's issuer",
    "practice/begin.py": "asked for the terminal or for the page; the page asks for its own",
}


def literals(tree):
    """Texts of a module that are no docstring; what is filled in stands as FILE."""
    documents = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    inside = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield "".join(
                part.value if isinstance(part, ast.Constant) and isinstance(part.value, str) else "FILE"
                for part in node.values
            )
        elif isinstance(node, ast.Constant) and id(node) not in documents | inside:
            yield str(node.value)


def messages():
    for path in sorted(ROOT.rglob("*.py")):
        name = path.relative_to(ROOT).as_posix()
        if name.startswith("cli/") or name == "page/at_hand.py" or name in NOT_SHOWN:
            continue
        for text in literals(ast.parse(path.read_text(encoding="utf-8"))):
            if COMMAND.search(text) or " with --" in text:
                yield pytest.param(name, text, id=f"{name}: {text[:40]}")


FOUND = list(messages())


def test_there_are_messages_that_name_commands():
    assert len(COMMANDS) > 8 and len(FOUND) > 10


@pytest.mark.parametrize(("name", "text"), FOUND)
def test_a_line_of_another_room_is_said_for_the_page(name, text):
    assert not name.startswith("page/"), "the page's own lines name what is tapped"
    said = at_hand(text)
    assert not re.search(r"\bcaddie \w+|`|--\w", said), said


@pytest.mark.parametrize("path", sorted((ROOT / "page" / "static").glob("*.js")), ids=lambda path: path.name)
def test_the_pages_scripts_name_no_command(path):
    assert not COMMAND.search(path.read_text(encoding="utf-8"))


def test_what_names_no_command_is_left_as_it_is():
    text = 'caddie, seventy yards; "stop" ends it (see line 3)'
    assert at_hand(text) == text


def test_an_error_comes_to_the_page_in_its_words(browser, monkeypatch):
    def refused(*_):
        raise CaddieError("the bag has no measured carry: add one, or run 'caddie bag new'")

    monkeypatch.setattr("caddie.page.talk_view.TalkView.say", refused)
    said = browser.post("/api/say", {"id": "", "text": "seventy yards"}).json()["error"]
    assert said == "the bag has no measured carry: add one, or tap “Bag: a table of your shots”"


def test_where_there_is_no_bag_the_page_says_what_to_tap(browser, home):
    (home / "bag.toml").unlink()
    assert isinstance(browser.client, TestClient)
    seen = [browser.get(path).text for path in ("/api/bag", "/api/practice", "/api/shots", "/api/notes")]
    assert not COMMAND.search(" ".join(seen))
    assert "tap Bag" in NOTHING_TO_MEASURE
