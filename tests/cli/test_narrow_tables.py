"""Tables in a terminal of any width: every number is there whole."""

import re
from types import SimpleNamespace

import pytest
from rich.console import Console

from caddie.bag import load_bag
from caddie.cli import bag_tables, practice_range, screen
from caddie.places import shipped
from caddie.range.csv_import import import_csv
from caddie.range.fit import fit_carries

NUMBER = re.compile(r"\d+(?:[.-]\d+)*")


@pytest.fixture
def printed(monkeypatch, capsys):
    """What is printed in a terminal so wide."""

    def print_in(width, act):
        console = Console(
            markup=False, emoji=False, highlight=False, width=width, force_terminal=True, color_system=None
        )
        monkeypatch.setattr(screen, "literal_console", lambda **_: console)
        act()
        return capsys.readouterr().out

    return print_in


def numbers(text):
    return sorted(NUMBER.findall(re.sub(r"[^\x00-\x7f]", " ", text)))


def matrix():
    bag_tables.print_table(load_bag())


def fit():
    bag = load_bag()
    session = import_csv(shipped("demo_bag/range_session.csv"), bag).session
    bag_tables.print_fit(fit_carries([session], bag), bag)


@pytest.mark.parametrize("act", [matrix, fit])
@pytest.mark.parametrize("width", [20, 30, 40, 50, 60, 70, 80, 90])
def test_no_number_is_cut(width, act, printed):
    narrow, wide = printed(width, act), printed(130, act)
    assert "…" not in narrow
    assert numbers(narrow) == numbers(wide)
    if width >= 30:
        assert all(len(line) <= width for line in narrow.splitlines()[:-1])


@pytest.mark.parametrize("width", [20, 40, 60, 130])
def test_the_count_of_a_range_session_is_whole(width, printed):
    summary = SimpleNamespace(used=12, balls=100, known=3, cells=range(9))

    def act():
        practice_range._bar(screen.literal_console(), summary)

    told = " ".join(printed(width, act).split())
    assert told.endswith("12 of 100 balls, 3 of 9 carries known")
