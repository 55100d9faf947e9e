import random
from pathlib import Path

import pytest
from processor_time import timed

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.range.columns import Column, read_heading
from caddie.range.csv_import import UnsaidError, Wishes, import_csv, import_text
from caddie.range.csv_table import decimal_mark
from caddie.range.shots import Session, session_text
from caddie.situation import Strike
from caddie.units import SpeedUnit, Unit

YARD_M = 0.9144

PLAIN = "club,swing,carry (yd),side (yd),ball speed (mph)\n56,half,63.5,-2.5,60\nPW,full,117,4,80\n"
SAME_SHOTS = {
    "comma": PLAIN,
    "semicolons and decimal commas": (
        "club;swing;carry (yd);side (yd);ball speed (mph)\n56;half;63,5;-2,5;60,0\nPW;full;117;4;80\n"
    ),
    "tabs": PLAIN.replace(",", "\t"),
    "bars and blank lines": "\n\n" + PLAIN.replace(",", "|").replace("\n", "\n\n   \n"),
    "byte order mark": "\ufeff" + PLAIN,
    "quoted decimal commas": (
        'club,swing,carry (yd),side (yd),ball speed (mph)\n56,half,"63,5","-2,5",60\nPW,full,117,4,80\n'
    ),
    "units in a line of their own": (
        "Club,Swing,Carry,Offline,Ball Speed\n,,[yds],[yds],[mph]\n56,half,63.5,-2.5,60\nPW,full,117,4,80\n"
    ),
    "units in the cells": (
        "club,swing,carry (m),side (m),ball speed (m/s)\n"
        "56,half,63.5 yds,2.5 yds L,60 mph\nPW,full,117yd,4yd R,80mph\n"
    ),
    "sides by letter": (
        "club,swing,carry (yd),side (yd),ball speed (mph)\n56,half,63.5,L2.5,60\nPW,full,117,4 R,80\n"
    ),
    "camel case, underscores and lines before the headings": (
        "Player: Rowan\nDate;02.05.2026\n\n"
        "ClubName,swing_length,CarryDistance_yd,Side-Carry [yd],BallSpeed(mph),Smash\n"
        "Sand Wedge,1/2,63.5,-2.5,60,1.1\npitching wedge,100%,117,4,80,1.2\n"
    ),
    "other columns between": (
        "No,Time,club,swing,Club Speed (mph),ball speed (mph),Total (yd),carry (yd),"
        "Apex (ft),side (yd),Side Spin\n"
        "1,10:02,56°,chest,50,60,66,63.5,60,-2.5,200\n2,10:03,pw,full swing,70,80,120,117,80,4,-100\n"
    ),
    "averages at the end": PLAIN + "Average,,90,1,70\nStd Dev,,27,3,10\n",
}


MOST_TIMES = 42
"""How often as long as the plain work of processor_time.py; 21 was measured."""


@pytest.mark.parametrize("text", SAME_SHOTS.values(), ids=SAME_SHOTS.keys())
def test_the_same_shots_in_any_dress(text: str, bag: Bag) -> None:
    shots = import_text(text, "x.csv", bag).session.shots
    assert [(shot.club, shot.swing) for shot in shots] == [("56", "chest"), ("PW", "full")]
    assert [shot.carry_m for shot in shots] == pytest.approx([63.5 * YARD_M, 117 * YARD_M])
    assert [shot.side_m for shot in shots] == pytest.approx([-2.5 * YARD_M, 4 * YARD_M])
    assert [shot.ball_speed_m_s for shot in shots] == pytest.approx([60 * 0.44704, 80 * 0.44704])


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings(encoding: str, bag: Bag, tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    path.write_bytes(PLAIN.replace("56,", "56°,").encode(encoding))
    assert len(import_csv(path, bag).session.shots) == 2


def test_what_was_understood_is_told(bag: Bag) -> None:
    read = import_text(SAME_SHOTS["other columns between"], "x.csv", bag)
    told = {use.column: (use.heading, use.unit, use.unit_from) for use in read.columns}
    assert told[Column.CARRY] == ("carry (yd)", "yards", "heading")
    assert told[Column.BALL_SPEED] == ("ball speed (mph)", "mph", "heading")
    assert read.unused == ("No", "Time", "Club Speed (mph)", "Apex (ft)", "Side Spin")
    assert (read.delimiter, read.decimal, read.heading_line) == (",", ".", 1)
    assert read.counts() == {("56", "chest", False): 1, ("PW", "full", False): 1}


def test_bad_rows_are_kept_aside_with_line_and_reason(bag: Bag) -> None:
    text = (
        "club,swing,carry (yd),strike,note\n"
        "56,half,63,,\n"
        "driver,full,230,,\n"
        "\n"
        "56,half,,,\n"
        "56,sideways,60,,\n"
        "56,half,sixty,,\n"
        "56,half,6300,,\n"
        "56,half,,thin,no number read\n"
        "56,half,61,a bit low,\n"
        "56\n"
    )
    read = import_text(text, "x.csv", bag)
    assert [(row.line, row.reason) for row in read.rejected] == [
        (3, "club 'driver' is not in the bag"),
        (5, "no carry"),
        (6, "swing 'sideways' is none of the bag's"),
        (7, "carry 'sixty' is no number"),
        (8, "carry 6300 is outside 0 to 350 m"),
        (11, "no swing length"),
    ]
    assert [shot.line for shot in read.session.shots] == [2, 9, 10]
    assert read.session.shots[1].strike is Strike.THIN
    assert read.session.shots[1].carry_m is None
    assert read.session.shots[2].note == "a bit low"


def test_what_the_table_leaves_open_is_asked(bag: Bag) -> None:
    with pytest.raises(UnsaidError, match="no heading says club; say it with --club") as unsaid:
        import_text("carry (yd)\n60\n", "x.csv", bag)
    assert unsaid.value.wish == "club"
    with pytest.raises(UnsaidError, match="no heading says swing; say it with --swing, one of hip"):
        import_text("club,carry (yd)\n56,60\n", "x.csv", bag)
    with pytest.raises(UnsaidError, match="in which unit is 'Carry'") as unsaid:
        import_text("club,swing,Carry\n56,half,60\n", "x.csv", bag)
    assert unsaid.value.wish == "length_unit"
    with pytest.raises(UnsaidError, match="in which unit is 'Ball Speed'"):
        import_text("club,swing,carry (m),Ball Speed\n56,half,60,30\n", "x.csv", bag)
    wishes = Wishes(club="sw", swing="half", length_unit=Unit.METRES, speed_unit=SpeedUnit.KMH)
    shot = import_text("Carry;Ball Speed\n60,5;108\n", "x.csv", bag, wishes).session.shots[0]
    assert (shot.club, shot.swing, shot.carry_m, shot.ball_speed_m_s) == (
        "56",
        "chest",
        60.5,
        pytest.approx(30),
    )


def test_columns_and_clubs_by_wish(bag: Bag) -> None:
    wishes = Wishes(columns={Column.CARRY: "D2"}, clubs={"magic": "56"}, length_unit=Unit.YARDS)
    read = import_text("club,swing,D1,D2\nMagic,full,1,92\n", "x.csv", bag, wishes)
    assert read.session.shots[0].carry_m == pytest.approx(92 * YARD_M)
    with pytest.raises(CaddieError, match="no column is headed 'D9'; the headings are"):
        import_text("club,swing,D1,D2\n56,full,1,92\n", "x.csv", bag, Wishes(columns={Column.CARRY: "D9"}))


@pytest.mark.parametrize(
    ("content", "complaint"),
    [
        (b"", "is empty"),
        (b"\x00\x01\x02PK", "is no text file"),
        (b"club,swing,height\n56,half,3\n", "line 1, column 1: no heading says carry"),
        (
            b'club,swing,carry (yd)\n56,half,60\n56,half,"61\n56,half,62\n',
            "x.csv: line 3, column 9: a quotation mark is opened and not closed",
        ),
    ],
)
def test_files_that_are_no_shot_table(content: bytes, complaint: str, bag: Bag, tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    path.write_bytes(content)
    with pytest.raises(CaddieError, match=complaint):
        import_csv(path, bag)
    with pytest.raises(CaddieError, match="no such file"):
        import_csv(tmp_path / "absent.csv", bag)


@pytest.mark.parametrize(
    ("cells", "mark"),
    [
        (["63.5", "7,250"], "."),
        (["63,5", "7.250"], ","),
        (["63,5"], ","),
        (["7,250", "6,800"], "."),
        (["1.234,5"], ","),
        (["1,234.5"], "."),
        (["63", "70"], "."),
    ],
)
def test_decimal_mark(cells: list[str], mark: str) -> None:
    assert decimal_mark(cells) == mark


@pytest.mark.parametrize(
    ("heading", "words", "unit"),
    [
        ("Carry (yds)", "carry", "yds"),
        ("carry_distance_m", "carry distance", "m"),
        ("Launch Angle [°]", "launch angle", "°"),
        ("BallSpeed km/h", "ball speed", "km/h"),
        ("Carry (flat)", "carry flat", None),
        ("Spin Rate, rpm", "spin rate", "rpm"),
    ],
)
def test_headings(heading: str, words: str, unit: str | None) -> None:
    assert (read_heading(heading).words, read_heading(heading).unit) == (words, unit)


def test_a_session_file_reads_back_as_it_was(bag: Bag) -> None:
    read = import_csv(shipped("demo_bag/range_session.csv"), bag)
    session = read.session
    again = import_text(session_text(session, Unit.METRES), "again.csv", bag).session
    assert again.conditions == session.conditions
    assert again.date == "2026-05-02"
    for one, other in zip(again.shots, session.shots, strict=True):
        assert one.model_dump(exclude={"line", "carry_m", "side_m"}) == other.model_dump(
            exclude={"line", "carry_m", "side_m"}
        )
        assert one.carry_m == pytest.approx(other.carry_m, abs=1e-3)
        assert one.side_m == pytest.approx(other.side_m, abs=1e-3)
    assert import_text(session_text(Session(), Unit.YARDS), "none.csv", bag).session.shots == ()


def test_air_of_a_session_out_of_bounds_is_refused(bag: Bag) -> None:
    with pytest.raises(CaddieError, match=r"temperature_c must be -20 to 50 .* found temperature_c: 99"):
        import_text("# temperature_c: 99\n" + PLAIN, "x.csv", bag)


def big_table(rows: int) -> str:
    rng = random.Random(1)
    lines = ["Shot;Club;Swing;Carry [yd];Total [yd];Side [yd];Ball Speed [mph];Launch Angle;Spin Rate;Note"]
    for index in range(rows):
        carry, side = rng.gauss(65, 3), rng.gauss(0, 3)
        numbers = f"{carry:.1f};{carry + 3:.1f};{side:.1f};61.3;32.1".replace(".", ",")
        lines.append(f"{index};56°;half;{numbers};7.250;")
    return "\n".join(lines)


def test_a_hundred_thousand_rows_are_read_quickly(bag: Bag, tmp_path: Path) -> None:
    path = tmp_path / "big.csv"
    path.write_text(big_table(100_000), encoding="utf-8")
    read, times = timed(lambda: import_csv(path, bag), enough=MOST_TIMES)
    assert times < MOST_TIMES
    assert len(read.session.shots) == 100_000
    assert not read.rejected
    assert read.session.shots[0].spin_rpm == 7250
