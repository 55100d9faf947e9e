"""Names come from files: what looks like a table's markup is printed as it is, and breaks nothing."""

import ast
import json
import re
from pathlib import Path

import pytest

from caddie.bag.file import own_bag
from caddie.log.shot import Shot
from caddie.log.store import Log
from caddie.places import shipped

COMMANDS = Path(__file__).parents[2] / "caddie" / "cli"
NAMES = ["[/]", "[red]x", "[link=a]b", "[bold", ":flag:"]
CARRIES_YD = (60, 62, 63, 61, 64, 66)


@pytest.fixture(params=NAMES)
def name(request, caddie):
    """What the player, the sand wedge and the shortest swing are called in bag, session and log."""
    text = shipped("demo_bag/bag.toml").read_text(encoding="utf-8")
    for plain in ('name = "Rowan Fenwick"', 'id = "56"', 'name = "hip"'):
        assert plain in text
        key = plain.partition(" = ")[0]
        text = text.replace(plain, f"{key} = '{request.param}'")
    own_bag().parent.mkdir(parents=True)
    own_bag().write_text(re.sub(r"^hip =", f"'{request.param}' =", text, flags=re.M), encoding="utf-8")
    with Log() as log:
        log.add(Shot(player=request.param, club=request.param, swing=request.param, sentence=request.param))
    return request.param


@pytest.fixture
def told(caddie):
    """What a command prints, its lines joined; it must neither fail nor be refused."""

    def printed(*words, typed=""):
        ended = caddie(*words, typed=typed)
        assert "should not happen" not in ended.err
        assert ended.code == 0, ended.err
        return " ".join((ended.out + ended.err).split())

    return printed


def test_the_carries(name, told):
    shown = told("bag", "show")
    assert f"{name}: carry" in shown
    assert f"│ {name} (56°)" in shown
    assert f"┃ {name} ┃" in shown
    assert "[64-66]" in shown, "the interval of a mean stands in brackets of its own"


def test_a_session_imported_and_fitted(name, told, tmp_path):
    rows = "".join(f"{name},{name},{carry}\n" for carry in CARRIES_YD)
    (tmp_path / "balls.csv").write_text(f"club,swing,carry (yd)\n{rows}")
    assert f"{name} {name}: 6 balls" in told("bag", "import", str(tmp_path / "balls.csv"), "--yes")
    assert f"{name} {name}" in told("bag", "fit", "--yes")


def test_the_check_of_the_file(name, told):
    assert "sound, 8 clubs" in told("bag", "check")


def test_a_problem_of_the_file(name, told, caddie):
    text = own_bag().read_text(encoding="utf-8")
    own_bag().write_text(text.replace("carry = 24,", "carry = -24,"), encoding="utf-8")
    ended = caddie("bag", "check")
    assert ended.code == 2
    assert name in ended.out
    assert "should not happen" not in ended.err


def test_the_log_and_the_report(name, told, tmp_path):
    assert told("log", "show").count(name) == 4
    assert f"the report on {name}" in told("report", "--out", str(tmp_path / "report.html"))


@pytest.mark.parametrize("kind", ["html", "pdf"])
def test_the_card(name, told, tmp_path, kind):
    assert f"{name}: 7 clubs" in told("card", str(tmp_path / f"card.{kind}"), "--yes")


def test_a_bucket_of_balls(name, told):
    heard = told("practice", "range", "--clubs", name, "--balls", "8", "--yes", typed="")
    assert f"{name} chest, {name} shoulder" in heard


def test_a_game(name, told):
    assert f"{name} zero, B zero" in told(
        "practice",
        "game",
        "nearest",
        "--no-log",
        "--player",
        name,
        "--player",
        "B",
        typed="six feet short\n" * 18,
    )


def test_an_answer(name, told):
    assert f"Shot: {name}" in told("ask", "sixty-five yards, fairway")
    found = json.loads(told("ask", "sixty-five yards, fairway", "--json"))
    assert found["advice"]["club"] == name


def test_only_the_literal_console_prints_tables():
    """Source: the files themselves; a console of rich's own reads names as markup."""
    made = [
        file.name
        for file in sorted(COMMANDS.glob("*.py"))
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and ast.unparse(node.func).endswith("Console")
    ]
    assert made == ["screen.py"]
