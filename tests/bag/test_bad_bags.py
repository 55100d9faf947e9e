"""Each bad bag file is refused in one line with file, line and column, and nothing is changed."""

from pathlib import Path

import pytest

from caddie.bag import load_bag
from caddie.bag.file import bag_problems
from caddie.bag.positions import field_positions, nearest_position
from caddie.errors import CaddieError

# (what stands in the demo bag, what is put there, the text whose place is named, the complaint)
SLIPS = [
    ("handicap = 14", "handicap = 99", "handicap", "player.handicap: must be at most 54.0, found 99"),
    ("handicap = 14", "handicap = true", "handicap", "player.handicap: must be"),
    ("schema = 1\n", "schema = 7\n", "schema", "schema: must be at most 1, found 7: install a newer caddie"),
    ('risk = "even"', 'rsik = "even"', "rsik", "did you mean 'risk'?"),
    ('"yards"', '"furlongs"', "distances_in", "player.distances_in: must be 'yards' or 'metres'"),
    (
        "hip = {carry = 19, sd = 2.4, shots = 24",
        "hip = {carry = 19, sd = -2.4, shots = 24",
        "sd = -2.4",
        "club 60: carries.hip.sd: must be above 0 yards, found -2.4",
    ),
    (
        "hip = {carry = 19, sd = 2.4, shots = 24",
        'hip = {carry = "x", sd = 2.4, shots = 24',
        'carry = "x"',
        "club 60: carries.hip.carry: must be a number, found 'x'",
    ),
    (
        "full = {carry = 70, sd = 6.1, shots = 16",
        "full = {carry = 470, sd = 6.1, shots = 16",
        "carry = 470",
        "club 60: carries.full.carry: must be at most 273.4 yards, found 470",
    ),
    (
        "full = {carry = 70, sd = 6.1, shots = 16",
        "full = {carry = 50, sd = 6.1, shots = 16",
        "full = {carry = 50",
        "club 60: full must carry farther than shoulder",
    ),
    (
        "full = {carry = 70, sd = 6.1, shots = 16",
        "fuel = {carry = 70, sd = 6.1, shots = 16",
        "fuel",
        "swing 'fuel' is none of hip, chest, shoulder, full",
    ),
    (
        "full = {carry = 70, sd = 6.1, shots = 16",
        "full = {carry = 70, sd = 6.1",
        "full = {carry = 70",
        "club 60: carries.full.shots: is missing; add it, for example shots = 12",
    ),
    (
        "[clubs.carries]\nhip = {carry = 24",
        "[clubs.splash]\nhip = {carry = 9, sd = -2, shots = 3}\n[clubs.carries]\nhip = {carry = 24",
        "sd = -2,",
        "club 56: splash.hip.sd: must be above 0 yards, found -2",
    ),
    (
        "[clubs.carries]\nhip = {carry = 24",
        "[clubs.splash]\nhip = {carry = 9, shots = 3}\n[clubs.carries]\nhip = {carry = 24",
        "hip = {carry = 9",
        "club 56: splash.hip.sd: is missing; add it, for example sd = 3",
    ),
    (
        "[clubs.carries]\nhip = {carry = 24",
        "[clubs.splash]\nhp = {carry = 9, sd = 2, shots = 3}\n[clubs.carries]\nhip = {carry = 24",
        "hp = ",
        "splash.hp: swing 'hp' is none of hip, chest, shoulder, full",
    ),
    (
        "[clubs.carries]\nhip = {carry = 24",
        "[clubs.splash]\nhip = {carry = 9, sd = 2, shots = 3}\nfull = {carry = 8, sd = 2, shots = 3}\n"
        "[clubs.carries]\nhip = {carry = 24",
        "full = {carry = 8",
        "club 56: splash.full: full must carry farther than hip",
    ),
    (
        'kind = "putter"\nloft_deg = 3',
        'kind = "putter"\nloft_deg = 3\n[clubs.splash]\nhip = {carry = 9, sd = 2, shots = 3}',
        "[clubs.splash]\nhip",
        "club putter: splash: needs carries from grass beside it",
    ),
    ('name = "sand wedge"', "name = 5", "name = 5", "club 56: name: must be a valid string"),
    ('id = "56"', 'id = "60"', 'id = "60"\nname = "sand', "two clubs have the same id '60'"),
    (
        "loft_deg = 56",
        "loft_deg = 560",
        "loft_deg = 560",
        "club 56: loft_deg: must be at most 72.0, found 560",
    ),
    ("loft_deg = 56\n", "", '[[clubs]]\nid = "56"', "club 56: loft_deg: is missing; add it"),
    ("share = 0.5\n", "share = 5\n", "share = 5", "swing chest: share: must be at most 1.0, found 5"),
    ("pitch = 0.7", "pich = 0.7", "pich", "trust.pich: must be 'putt'"),
    ("[player]", "[player", "\nname = ", "not valid TOML"),
]


@pytest.mark.parametrize(("there", "put", "at", "complaint"), SLIPS)
def test_a_slip_is_told_with_its_line_and_column(
    bag_path: Path, there: str, put: str, at: str, complaint: str
) -> None:
    text = bag_path.read_text(encoding="utf-8")
    assert there in text
    bad = text.replace(there, put, 1)
    bag_path.write_text(bad, encoding="utf-8")
    with pytest.raises(CaddieError) as caught:
        load_bag(bag_path)
    said = str(caught.value)
    assert "\n" not in said
    assert complaint in said
    place = bad.index(at)
    line = bad.count("\n", 0, place) + 1
    column = place - bad.rfind("\n", 0, place)
    if "TOML" in complaint:
        line, column = 5, 8
    assert f"bag.toml: line {line}, column {column}: " in said
    assert bag_path.read_text(encoding="utf-8") == bad


def test_all_problems_are_listed_in_the_order_of_the_file(bag_path: Path) -> None:
    text = bag_path.read_text(encoding="utf-8")
    for there, put in (
        ("handicap = 14", "handicap = 99"),
        ("loft_deg = 56", "loft_deg = 560"),
        ("shots = 16, side_sd = 4.1", "shots = -1, side_sd = 4.1"),
        ("hip = {carry = 28", "hip = {carryy = 28"),
    ):
        text = text.replace(there, put, 1)
    bag_path.write_text(text, encoding="utf-8")
    problems = bag_problems(bag_path)
    assert [problem.where for problem in problems] == [
        "player.handicap",
        "club 60: carries.full.shots",
        "club 56: loft_deg",
        "club 52: carries.hip.carry",
        "club 52: carries.hip.carryy",
    ]
    assert all(problem.line and problem.column for problem in problems)
    with pytest.raises(CaddieError, match="4 more problems after it"):
        load_bag(bag_path)


def test_a_file_that_is_no_text_and_one_that_is_not_there(tmp_path: Path) -> None:
    path = tmp_path / "bag.toml"
    with pytest.raises(CaddieError, match="no such bag file; give its path with --bag"):
        load_bag(path)
    path.write_bytes(b'schema = 1\n[player]\nname = "\xff\xfe"\n')
    with pytest.raises(CaddieError, match="line 3: is not UTF-8 text"):
        load_bag(path)
    path.write_text("")
    with pytest.raises(CaddieError, match="line 1, column 1: schema: is missing; write 'schema = 1'"):
        load_bag(path)


def test_places_of_tables_keys_and_inline_keys() -> None:
    text = 'a = 1 # x = 2\n"odd key" = 3\nb.c = 4\nlong = """\nnot = 1\n"""\n[[t]]\n'
    text += "d = {e = 1, f = 2}\n[t.u]\ng = 5\n[[t]]\n"
    found = field_positions(text)
    assert found[("odd key",)] == (2, 1)
    assert found[("b", "c")] == (3, 1)
    assert found[("t", 0, "d", "f")] == (8, 13)
    assert found[("t", 0, "u", "g")] == (10, 1)
    assert found[("t", 1)] == (11, 1)
    assert ("not",) not in found
    assert nearest_position(found, ("t", 0, "u", "absent")) == (9, 1)
    assert nearest_position(found, ("absent",)) is None
