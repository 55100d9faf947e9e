"""A table of shots starts a bag: which clubs it names, with which lofts, and how those are marked."""

import json
import tomllib
from pathlib import Path

import pytest

from caddie.bag import load_bag
from caddie.bag.file import own_bag
from caddie.bag.models import ClubKind
from caddie.range.start_bag import named_club
from caddie.units import Unit

TABLE = """Club,Swing,Carry (m),Loft
PW,full,105,
P-Wedge,half,78,
56°,half,58,
56 deg,half,60,
Sand Wedge,full,82,54
sw,half,55,54
7 Iron,full,140,
My old one,half,50,60
Driver,full,210,10.5
Average,,90,
"""


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "session.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("name", "loft_deg", "club", "loft", "known"),
    [
        # The usual lofts of a set: common practice, no source.
        ("pw", None, "PW", 46, False),
        ("pitching wedge", None, "PW", 46, False),
        ("sw", 54.0, "SW", 54, True),
        ("sw 54", None, "SW", 54, True),
        ("54° sand wedge", None, "SW", 54, True),
        ("56", None, "56", 56, True),
        ("56 deg", None, "56", 56, True),
        ("wedge 56", None, "56", 56, True),
        ("9 iron", None, "9i", 41, False),
        ("i9", 40.0, "9i", 40, True),
        ("my old one", 60.0, "my old one", 60, True),
    ],
)
def test_a_club_by_its_name(name: str, loft_deg: float | None, club: str, loft: float, known: bool) -> None:
    found = named_club(name, loft_deg)
    assert found is not None
    assert (found.club.id, found.club.loft_deg, found.loft_known) == (club, loft, known)
    assert name in found.club.names()
    assert found.club.kind is (ClubKind.IRON if "9" in name else ClubKind.WEDGE)


@pytest.mark.parametrize("name", ["driver", "my old one", "99", "3 wood", "1 iron", "x" * 500, "=cmd()"])
def test_what_is_no_club_of_the_short_game(name: str) -> None:
    assert named_club(name, 10.5 if name == "driver" else None) is None


def test_a_table_starts_the_bag_and_the_caddie_answers_from_it(caddie, table: Path) -> None:
    done = caddie("bag", "import", str(table), "--yes")
    assert done.code == 0, done.err
    assert "PW: loft 46° (an estimate: the usual one)" in done.out
    assert "56: loft 56°\n" in done.out
    assert "line 10 rejected: club 'Driver' is not in the bag" in done.out
    bag = load_bag(own_bag())
    assert bag.player.distances_in is Unit.METRES
    assert [club.id for club in bag.clubs] == ["my old one", "56", "SW", "PW", "7i", "putter"]
    cells = {(club.id, cell.swing): cell.shots for club in bag.clubs for cell in club.carries if cell.shots}
    assert cells == {
        ("PW", "full"): 1, ("56", "chest"): 2, ("SW", "chest"): 1, ("SW", "full"): 1, ("7i", "full"): 1,
        ("my old one", "chest"): 1,
    }  # fmt: skip
    remarks = [line for line in own_bag().read_text().splitlines() if "loft_deg" in line]
    assert [("estimate" in line) for line in remarks] == [False, False, False, True, True, False]
    asked = caddie("ask", "sixty metres, fairway", "--json")
    assert json.loads(asked.out)["advice"]["club"] in ("56", "SW", "my old one")
    assert caddie("bag", "check").code == 0
    again = caddie("bag", "import", str(table), "--yes")
    assert "kept already" in again.err
    assert caddie("bag", "fit", "--yes").code == 0


def test_the_remark_on_an_estimated_loft_outlives_a_change_of_the_bag(caddie, table: Path) -> None:
    caddie("bag", "import", str(table), "--yes")
    more = table.with_name("more.csv")
    more.write_text("club,swing,carry (m)\n" + "PW,full,111\n" * 9)
    assert json.loads(caddie("bag", "import", str(more), "--fit", "--yes", "--json").out)["bag_written"]
    assert "loft_deg = 46 # estimate: usual for a PW" in own_bag().read_text()


def test_a_loft_that_the_table_does_not_say_is_asked_for(caddie, table: Path) -> None:
    done = caddie("bag", "import", str(table), typed="flat\n45,5°\n\ny\n")
    assert done.code == 0, done.err
    assert done.err.count("Loft of your PW in degrees?") == 2
    assert "say a number from 14 to 72" in done.err
    lofts = {club["id"]: club["loft_deg"] for club in tomllib.loads(own_bag().read_text())["clubs"]}
    assert (lofts["PW"], lofts["7i"]) == (45.5, 33)
    assert own_bag().read_text().count("# estimate") == 1


@pytest.mark.parametrize("typed", ["", "46\n", "46\n33\n", "46\n33\nn\n"])
def test_nothing_is_written_unless_the_player_agrees(caddie, table: Path, typed: str) -> None:
    done = caddie("bag", "import", str(table), typed=typed)
    assert done.code == 2 or "Nothing written." in done.out
    assert not own_bag().parent.exists()


def test_one_object_says_what_was_started(caddie, table: Path) -> None:
    told = json.loads(caddie("bag", "import", str(table), "--yes", "--json").out)["bag_started"]
    assert told["bag"] == str(own_bag())
    assert {"id": "PW", "loft_deg": 46.0, "loft_estimated": True} in told["clubs"]
    assert {"id": "SW", "loft_deg": 54.0, "loft_estimated": False} in told["clubs"]


def test_lofts_that_differ_from_ball_to_ball_are_not_the_clubs(caddie, table: Path) -> None:
    table.write_text("club,swing,carry (yd),loft\nPW,full,110,41\nPW,full,115,47\n")
    caddie("bag", "import", str(table), "--yes")
    assert load_bag(own_bag()).clubs[0].loft_deg == 46


def test_splashes_alone_start_a_bag_too(caddie, table: Path) -> None:
    table.write_text("carry (yd),swing\n" + "12,chest\n14,chest\n15,chest\n")
    assert "say it with --club" in caddie("bag", "import", str(table), "--sand", "--yes").err
    assert caddie("bag", "import", str(table), "--sand", "--club", "58", "--yes").code == 0
    (wedge, _) = load_bag(own_bag()).clubs
    assert (wedge.id, wedge.splash[0].shots, {cell.shots for cell in wedge.carries}) == ("58", 3, {0})


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("Driver,full,230\n", "no club in it is understood ('driver')"),
        ("PW,full,none\n", "no row gives a shot"),
        (
            "".join(f"club {n},full,{n},{n}\n" for n in range(43, 72)) + "60.5,full,9\n60.6,full,9\n",
            "31 clubs",
        ),
    ],
)
def test_a_table_that_makes_no_bag_is_refused_in_one_line(caddie, table: Path, rows: str, told: str) -> None:
    table.write_text(f"club,swing,carry (yd),loft\n{rows}")
    done = caddie("bag", "import", str(table), "--yes")
    assert (done.code, len(done.err.splitlines())) == (2, 1)
    assert told in done.err
    assert not own_bag().parent.exists()
