"""The commands on their own applications: what they print, write, ask and refuse."""

import json
import tomllib
from pathlib import Path

import pytest
import typer
from click.testing import Result
from typer.testing import CliRunner

from caddie.bag import load_bag
from caddie.bag.file import previous
from caddie.cli import bag as bag_commands
from caddie.cli import card as card_command
from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.range.csv_import import import_csv

SESSION = str(shipped("demo_bag/range_session.csv"))

app = typer.Typer()
app.add_typer(bag_commands.app, name="bag")
app.command("card")(card_command.card)


def caddie(*words: str, typed: str | None = None) -> Result:
    result = CliRunner().invoke(app, words, input=typed)
    if result.exception and not isinstance(result.exception, SystemExit | CaddieError):
        raise result.exception
    return result


def one_object(result: Result) -> dict[str, object]:
    lines = result.stdout.strip().splitlines()
    assert len(lines) == 1
    return dict(json.loads(lines[0]))


def files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_show_prints_the_matrix_and_the_findings(bag_path: Path) -> None:
    result = caddie("bag", "show", "--bag", str(bag_path))
    assert result.exit_code == 0
    assert "Rowan Fenwick: carry ± spread [interval of the mean] balls, yards" in result.stdout
    assert "65 ± 3 [64-66] 30" in result.stdout
    assert "hole of 15 yards between 52 full (103) and PW full (118)" in result.stdout
    shown = one_object(caddie("bag", "show", "--json"))
    assert shown["player"] == "Rowan Fenwick"
    assert {"club", "swing", "carry_m", "low_m", "high_m", "shots"} <= set(shown["cells"][0])  # type: ignore[index]


def test_show_draws_and_falls_back_to_the_demo_bag(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "nobody"))
    result = caddie("bag", "show", "--picture", str(tmp_path / "bag.svg"))
    assert "this is the demo bag" in result.stderr
    assert (tmp_path / "bag.svg").read_text().startswith("<svg")


def test_check_lists_every_problem_and_ends_with_two(bag_path: Path) -> None:
    good = caddie("bag", "check")
    assert (good.exit_code, good.stdout) == (0, f"{bag_path}: sound, 8 clubs and 23 carries\n")
    text = (
        bag_path.read_text()
        .replace("handicap = 14", "handicap = 140")
        .replace("loft_deg = 60", "lofd_deg = 60")
    )
    bag_path.write_text(text)
    bad = caddie("bag", "check")
    assert bad.exit_code == 2
    assert bad.stdout.replace(f"{bag_path}: ", "").splitlines() == [
        "line 7, column 1: player.handicap: must be at most 54.0, found 140",
        "line 49, column 1: club 60: loft_deg: is missing; add it",
        "line 53, column 1: club 60: lofd_deg: is no field of the bag file; did you mean 'loft_deg'?",
    ]
    told = caddie("bag", "check", "--json")
    assert told.exit_code == 2
    assert [problem["line"] for problem in one_object(told)["problems"]] == [7, 49, 53]  # type: ignore[attr-defined]
    assert bag_path.read_text() == text


def test_import_shows_asks_and_keeps(bag_path: Path) -> None:
    before = files(bag_path.parent)
    declined = caddie("bag", "import", SESSION, typed="n\n")
    assert "carry: 'carry (yd)' in yards (heading)" in declined.stdout
    assert "56 chest: 12 balls" in declined.stdout
    assert "Keep 100 balls in" in declined.stderr
    assert files(bag_path.parent) == before
    nobody = caddie("bag", "import", SESSION, typed="")
    assert "add --yes" in str(nobody.exception)
    assert files(bag_path.parent) == before
    kept = one_object(caddie("bag", "import", SESSION, "--yes", "--json"))
    assert kept["shots"] == 100
    assert kept["written"] == str(bag_path.parent / "sessions" / "2026-05-02_range_session.csv")
    bag = load_bag(bag_path)
    again = import_csv(Path(str(kept["written"])), bag).session
    assert [shot.carry_m for shot in again.shots] == pytest.approx(
        [shot.carry_m for shot in import_csv(Path(SESSION), bag).session.shots], abs=1e-3
    )
    twice = caddie("bag", "import", SESSION, "--yes")
    assert "kept already" in twice.stderr


def test_rejected_rows_are_put_aside_beside_the_bag(bag_path: Path, tmp_path: Path) -> None:
    table = tmp_path / "radar.csv"
    table.write_text("Club;Carry\n56;61,5\nDriver;200\nSW;63\n", encoding="utf-8")
    result = caddie("bag", "import", str(table), "--swing", "half", "--units", "yards", "--yes")
    assert "line 3 rejected: club 'Driver' is not in the bag" in result.stdout
    aside = bag_path.parent / "radar.csv.rejected.csv"
    assert aside.read_text() == "line,reason,Club,Carry\n3,club 'Driver' is not in the bag,Driver,200\n"
    mapped = caddie(
        "bag", "import", str(table), "--swing", "full", "--units", "metres", "--called", "driver=PW",
        "--column", "carry=Carry", "--temperature", "5", "--yes", "--json",
    )  # fmt: skip
    assert one_object(mapped)["shots"] == 3


@pytest.mark.parametrize(
    ("content", "options", "complaint"),
    [
        ("Club;Carry\n56;61,5\n", [], "no heading says swing; say it with --swing"),
        ("Club;Carry\n56;61,5\n", ["--swing", "half"], "in which unit is 'Carry'? say --units"),
        ("Club;Carry\n56;61,5\n", ["--swing", "no"], "--swing no: is none of hip"),
        ("Club;Carry\nX;61,5\n", ["--swing", "half", "--units", "yards"], "line 2, column 1: club 'X'"),
        ("Club;Carry\n56;61,5\n", ["--column", "carry"], "--column carry: write it as NAME=VALUE"),
        ("Club;Carry\n56;61,5\n", ["--column", "apex=Carry"], "--column apex: is none of club"),
        ("Club;Carry\n56;61,5\n", ["--temperature", "99"], "--temperature must be -20 to 50"),
        ("a;b\n1;2\n", [], "line 1, column 1: no heading says carry"),
        ("", [], "is empty"),
    ],
)
def test_bad_tables_are_refused_and_nothing_changes(
    bag_path: Path, content: str, options: list[str], complaint: str
) -> None:
    table = bag_path.parent / "x.csv"
    table.write_text(content, encoding="utf-8")
    before = files(bag_path.parent)
    result = caddie("bag", "import", str(table), "--yes", *options)
    assert isinstance(result.exception, CaddieError)
    assert complaint in str(result.exception)
    assert "\n" not in str(result.exception)
    assert files(bag_path.parent) == before


def test_fit_writes_the_bag_and_keeps_the_one_before(bag_path: Path) -> None:
    before = bag_path.read_text()
    empty = caddie("bag", "fit", "--yes")
    assert "no session is kept beside" in str(empty.exception)
    assert bag_path.read_text() == before
    declined = caddie("bag", "fit", SESSION, typed="n\n")
    assert "Nothing written." in declined.stdout
    assert bag_path.read_text() == before
    done = one_object(caddie("bag", "fit", SESSION, "--yes", "--json"))
    assert done["bag_written"] == str(bag_path)
    assert previous(bag_path).read_text() == before
    written = bag_path.read_text()
    assert written.startswith("# The bag of Rowan Fenwick, an invented player")
    cell = tomllib.loads(written)["clubs"][1]["carries"]["chest"]
    assert 62 < cell["carry"] < 68
    assert load_bag(bag_path).strikes
    bad = caddie("bag", "fit", SESSION, "--estimates", "some", "--yes")
    assert "--estimates some: say none, wedges or all" in str(bad.exception)


def test_import_and_fit_in_one_go(bag_path: Path) -> None:
    result = one_object(caddie("bag", "import", SESSION, "--fit", "--yes", "--json"))
    assert result["written"]
    assert result["bag_written"] == str(bag_path)


def test_a_bad_row_in_a_session_stops_the_fit(bag_path: Path) -> None:
    table = bag_path.parent / "x.csv"
    table.write_text("club,swing,carry (yd)\n56,half,60\n56,half,x\n")
    before = bag_path.read_text()
    result = caddie("bag", "fit", str(table), "--yes")
    assert "line 3, column 1: carry 'x' is no number" in str(result.exception)
    assert bag_path.read_text() == before


def test_new_talks_and_writes(bag_path: Path) -> None:
    bag_path.unlink()
    replies = "yards\nRobin\nx\n12\nback\n14\n\n60 56 52\n56 half 65\n\n\ny\n"
    result = caddie("bag", "new", typed=replies)
    assert result.exit_code == 0, result.stderr
    assert "say a number, for example 14" in result.stderr
    made = load_bag(bag_path)
    assert (made.player.name, made.player.handicap) == ("Robin", 14)
    assert made.clubs[1].carries[1].shots == 3


def test_new_declined_or_cut_off_writes_nothing(bag_path: Path) -> None:
    before = files(bag_path.parent)
    assert "Nothing written." in caddie("bag", "new", typed="\n" * 8 + "n\n").stdout
    assert "cut off" in str(caddie("bag", "new", typed="yards\n").exception)
    assert files(bag_path.parent) == before
    made = one_object(caddie("bag", "new", "--yes", "--json", typed="\n" * 8))
    assert made["written"] == str(bag_path)
    assert previous(bag_path).exists()


def test_card_as_html_and_pdf(bag_path: Path, tmp_path: Path) -> None:
    page = tmp_path / "card.html"
    result = caddie("card", str(page), "--yes")
    assert "Made before the round on" in result.stdout
    assert "65 ± 3" in page.read_text(encoding="utf-8")
    made = one_object(caddie("card", str(tmp_path / "card.pdf"), "--yes", "--json"))
    assert made["written"] == str(tmp_path / "card.pdf")
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF-")
    page.write_text("mine")
    declined = caddie("card", str(page), typed="n\n")
    assert "card.html is there already: replace it by the card?" in declined.stderr
    assert "stays as it is, nothing is written" in str(declined.exception)
    assert page.read_text() == "mine"
    assert "end the name in .html or .pdf" in str(caddie("card", "card.doc").exception)


def test_writing_needs_a_bag_of_ones_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    named = ["bag", "import", SESSION, "--bag", str(tmp_path / "no.toml"), "--yes"]
    for words in (named, ["bag", "fit", SESSION, "--yes"]):
        assert "make one with 'caddie bag new'" in str(caddie(*words).exception)
    assert not list(tmp_path.iterdir())
