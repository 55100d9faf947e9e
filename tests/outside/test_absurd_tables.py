"""CSV in every shape: odd numbers, marks, encodings, sizes."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caddie.range.csv_import import Wishes, import_csv
from caddie.range.sessions import read_session
from caddie.range.start_bag import clubs_in

HEADINGS = "club,swing,carry (yd),side (yd),ball speed (mph),launch,spin,strike,note"
FIELDS = HEADINGS.count(",") + 1
ROW = "56,chest,64.1,-2.0,,,,,"
CELLS = st.one_of(
    st.sampled_from(
        ["nan", "inf", "1e400", "9" * 5000, "-0", "0x10", "１２", "७०", "½", "1_000", "--5", "'", ",", "."]
    ),
    st.sampled_from(
        [
            "1" + " " * 50_000 + "!",
            "(" * 50_000,
            "L" + "1" * 50_000,
            "a" * 131_071,
            "\x1b[2J",
            "=1+1",
            "5 L",
        ]
    ),
    st.sampled_from(["56", "chest", "64", "64,5", "1.064,5", "average", "thin", "12 yd", "3 m", "80 mph"]),
    st.text(max_size=20),
)


def read(path, bag):
    import_csv(path, bag, Wishes(club="56", swing="chest", length_unit="yards", speed_unit="mph"))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(
    rows=st.lists(st.lists(CELLS, min_size=1, max_size=FIELDS + 1), max_size=4),
    mark=st.sampled_from([*",;|\t:^\x01"]),
    quote=st.sampled_from(['"', "'", ""]),
    end=st.sampled_from(["\n", "\r\n", "\r", "\x85", "\x0b", "\u2028", "\n\n"]),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-32", "cp037", "cp1252"]),
    odd_end=st.sampled_from([b"", b"\x01", b"\x00\xd8", b"\x00", b'"', b"\xff"]),
)
def test_any_cells_in_any_encoding(rows, mark, quote, end, encoding, odd_end, bag, tmp_path, watched):
    lines = [
        HEADINGS.replace(",", mark),
        *(mark.join(f"{quote}{cell}{quote}" for cell in row) for row in rows),
    ]
    path = tmp_path / "table.csv"
    path.write_bytes(end.join(lines).encode(encoding, "replace") + odd_end)
    watched(read, path, bag)
    watched(read_session, path, bag)


SHAPES = {
    "an open quote": f'{HEADINGS}\n"' + f"{ROW}\n" * 20_000,
    "quotes over lines": f"{HEADINGS}\n" + '"a\nb",chest,1\n' * 40_000,
    "odd quotes over lines": f"{HEADINGS}\n" + '56,"che\nst",64\n' * 20_000 + '"',
    "many rows": f"{HEADINGS}\n" + f"{ROW}\n" * 50_000,
    "more rows than are taken": f"{HEADINGS}\n" + f"{ROW}\n" * 200_000,
    "unknown clubs": f"{HEADINGS}\n" + "".join(f"c{n},chest,64\n" for n in range(30_000)),
    "unknown swings": f"{HEADINGS}\n" + "".join(f"56,s{n},64\n" for n in range(30_000)),
    "thousands of columns": ",".join(["carry (yd)"] * 9000) + "\n" + "1," * 9000,
    "wide rows": f"{HEADINGS}\n" + ("a," * 60_000 + "\n") * 90,
    "commas": "," * 11_000_000,
    "line ends": "\n" * 11_000_000,
    "a cell of a million": f"{HEADINGS}\n{ROW}" + "x" * 1_000_000,
    "one long line": "a" * 11_000_000,
    "brackets": "carry " + "(" * 90_000 + "\n1\n",
    "a fact of spaces": "# a" + " " * 90_000 + f"\n{HEADINGS}\n{ROW}\n",
    "absurd air": f"# temperature_c: 1e999\n# altitude_m: {'9' * 5000}\n{HEADINGS}\n{ROW}\n",
    "a hostile date": f"# date: ../../etc\x1b[2J\n{HEADINGS}\n{ROW}\n",
    "nothing": "",
    "spaces": " " * 1_000_000,
    "larger than is read": "a,b\n" * 4_000_000,
}


@pytest.mark.parametrize("text", SHAPES.values(), ids=SHAPES)
def test_any_shape(text, bag, tmp_path, watched):
    path = tmp_path / "table.csv"
    path.write_text(text, encoding="utf-8", newline="")
    watched(read, path, bag)
    watched(read_session, path, bag)


@pytest.mark.parametrize(
    "names",
    [
        [f"club {number}" for number in range(50_000)],
        [f"{'5' * (number % 90_000)}6" for number in range(1000, 90_000, 1000)],
        [f"{43 + number / 1000:.3f}" for number in range(20_000)],
    ],
    ids=["many names", "long names", "many lofts"],
)
def test_an_absurd_table_starts_no_bag_and_takes_no_time(names, tmp_path, watched):
    table = tmp_path / "t.csv"
    table.write_text("club,swing,carry (yd)\n" + "".join(f"{name},full,60\n" for name in names))
    assert "no club in it is understood" in watched(clubs_in, table.read_text(), table.name, Wishes())
