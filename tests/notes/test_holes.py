"""A hole's note, to its file and back."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.notes.holes import HEADER, holes_sheet, notes_in, read_hole, written_hole
from caddie.notes.models import HoleNote, Today, Trouble
from caddie.notes.notebook import Notebook
from caddie.notes.sheet import folder, problems
from caddie.situation import Fall, Firmness, HazardKind, Side
from caddie.units import YARD_M, Unit

DELL = HoleNote(
    course="Marram Links",
    number=4,
    name="Dell",
    depth_m=28 * YARD_M,
    side_fall=Fall.LEFT_TO_RIGHT,
    trouble=(Trouble(kind=HazardKind.BUNKER, side=Side.SHORT, before_green_m=5 * YARD_M),),
    firmness=Firmness.FIRM,
    firmness_on=date(2026, 5, 2),
    noted=date(2026, 5, 2),
)
"""An invented hole."""


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    return tmp_path


def read(text: str) -> HoleNote:
    (entry,) = holes_sheet().read_text(text)
    assert not entry.problem
    return entry.value


lengths_m = st.integers(400, 6000).map(lambda cm: cm / 100)
notes = st.builds(
    HoleNote,
    course=st.text("abc \"'\\#=[]äß", min_size=1, max_size=20).filter(str.strip),
    number=st.integers(1, 36),
    name=st.none() | st.just("the Dell"),
    depth_m=st.none() | lengths_m,
    height_m=st.none() | st.integers(-3000, 3000).map(lambda cm: cm / 100),
    fall=st.none() | st.sampled_from([Fall.TOWARD, Fall.AWAY]),
    side_slope=st.none() | st.just(0.03),
    trouble=st.lists(
        st.builds(
            Trouble,
            kind=st.sampled_from(HazardKind),
            side=st.none() | st.sampled_from(Side),
            before_green_m=st.none() | lengths_m,
        ),
        max_size=3,
    ).map(tuple),
    firmness=st.none() | st.sampled_from(Firmness),
    noted=st.none() | st.dates(),
)


@given(note=notes, unit=st.sampled_from([Unit.YARDS, Unit.METRES]))
def test_what_is_written_reads_back_to_a_centimetre(note: HoleNote, unit: Unit) -> None:
    found = read(written_hole(note, unit))
    length = {"depth_m", "height_m", "trouble"}
    assert found.model_dump(exclude=length) == note.model_dump(exclude=length)
    for name in ("depth_m", "height_m"):
        assert getattr(found, name) == pytest.approx(getattr(note, name), abs=0.01)
    assert [(each.kind, each.side) for each in found.trouble] == [
        (each.kind, each.side) for each in note.trouble
    ]


@given(note=notes, other=notes)
def test_an_entry_that_is_edited_says_the_new_note(note: HoleNote, other: HoleNote) -> None:
    before = written_hole(note, Unit.YARDS)
    assert read(written_hole(other, Unit.YARDS, before)) == read(written_hole(other, Unit.YARDS))


def test_comments_stay_when_a_hole_is_told_more() -> None:
    text = '# the hard one\n[[hole]]\ncourse = "Marram Links"\nnumber = 4  # par three\ndepth_yards = 26\n'
    changed = written_hole(DELL, Unit.YARDS, text)
    assert "# the hard one" in changed and "# par three" in changed
    assert "depth_yards = 28\n" in changed


def test_a_hole_is_kept_for_the_player_alone_and_found_again(home) -> None:
    sheet = holes_sheet()
    sheet.put(DELL.key, written_hole(DELL, Unit.YARDS))
    assert notes_in(sheet.entries()) == [pytest.approx(DELL)] or notes_in(sheet.entries())[0].key == DELL.key
    assert sheet.text().startswith(HEADER)
    assert all(path.stat().st_mode & 0o077 == 0 for path in (folder(), *folder().iterdir()))


@pytest.mark.parametrize(
    ("damage", "told"),
    [
        ('depth_yards = "deep"', "depth_yards must be a number"),
        ("depth_yards = 28\ndepth_metres = 25", "depth is given in yards and in metres"),
        ("depth_yards = ", "is no valid TOML"),
        ("number = 99", "is no valid TOML"),
        ('fall = "sideways"', "fall"),
        ('trouble = ["bunker"]', "trouble must be a list of tables"),
        ('colour = "green"', "colour"),
        ("[[other]]\nx = 1", "holds something beside one hole"),
    ],
)
def test_a_damaged_hole_is_named_with_its_line_and_the_rest_go_on(home, damage: str, told: str) -> None:
    sheet = holes_sheet()
    hole = '[[hole]]\ncourse = "Marram Links"\nnumber = {}\n{}\n\n'
    folder().mkdir()
    sheet.path.write_text(HEADER + hole.format(3, "") + hole.format(4, damage) + hole.format(5, ""))
    entries = sheet.entries()
    assert [each.number for each in notes_in(entries)] == [3, 5]
    (line,) = problems(sheet, entries)
    assert told in line and "\n" not in line
    assert f"line {HEADER.count(chr(10)) + 6}:" in line
    # What cannot be read stays where it is when another hole is told.
    sheet.put(DELL.key, written_hole(DELL, Unit.YARDS))
    assert hole.format(4, damage) in sheet.text()


def test_a_hole_that_is_there_twice_counts_once(home) -> None:
    sheet = holes_sheet()
    entry = "[[hole]]\nnumber = 4\n"
    folder().mkdir()
    sheet.path.write_text(entry + entry.replace("4", "4\ndepth_yards = 20"))
    assert [each.depth_m for each in notes_in(sheet.entries())] == [None]
    assert "twice" in problems(sheet, sheet.entries())[0]


def test_a_change_is_undone_by_entry_and_by_file(home) -> None:
    sheet = holes_sheet()
    first = sheet.put(DELL.key, written_hole(DELL, Unit.YARDS))
    other = DELL.model_copy(update={"number": 5})
    sheet.put(other.key, written_hole(other, Unit.YARDS))
    assert sheet.take_back(first)
    assert [each.number for each in notes_in(sheet.entries())] == [5]
    assert not sheet.take_back(first)
    assert sheet.step_back()
    assert [each.number for each in notes_in(sheet.entries())] == [4, 5]


def test_what_is_erased_is_in_no_file(home) -> None:
    sheet = holes_sheet()
    sheet.put(DELL.key, written_hole(DELL, Unit.YARDS))
    sheet.put(("x", "9"), '[[hole]]\ncourse = "x"\nnumber = 9\n')
    assert sheet.erase(DELL.key)
    assert not any(b"Marram" in path.read_bytes() for path in folder().iterdir())
    sheet.erase_all()
    assert [path.name for path in folder().iterdir()] == [".lock"]


def test_a_length_is_read_in_any_unit() -> None:
    for key, value in (("depth_yards", 28), ("depth_feet", 84), ("depth_metres", 25.6032)):
        assert read_hole({"hole": [{"number": 1, key: value}]})[1].depth_m == pytest.approx(28 * YARD_M)


def test_a_hole_noted_in_competition_is_kept_as_it_was_before_the_round(home) -> None:
    day = date(2026, 5, 2)
    note = HoleNote(course="Marram Links", number=4, depth_m=25.6, trouble=(Trouble(kind=HazardKind.BUNKER),))
    before = (note, HoleNote(number=5, height_m=-3.0))
    book = Notebook(day=day)
    book.keep_today(Today(day=day, hole=4, before_round=before))
    again = Notebook(day=day).notes
    assert [each.key for each in again.today.before_round] == [each.key for each in before]
    assert again.today.before_round[0].trouble == note.trouble
    assert again.today.before_round[0].depth_m == pytest.approx(note.depth_m, abs=0.01)
    assert not again.problems
    assert Notebook(day=date(2026, 5, 3)).notes.today.before_round == ()
    book.keep_hole(note)
    assert book.erase_hole("Marram Links", 4)
    assert "bunker" not in "".join(path.read_text() for path in (home / "notes").iterdir() if path.is_file())
