"""Splashes out of sand as first-class carries: estimated, imported, fitted, shown and printed."""

from datetime import datetime
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from typer.testing import CliRunner

from caddie.bag import Bag, Carry, Conditions, Family, load_bag
from caddie.bag.sand import splash_cells, with_splash_estimates
from caddie.bag.slips import bag_notes
from caddie.cli import app
from caddie.range import fit_grid
from caddie.range.card import card_html, card_of
from caddie.range.card_pdf import card_pdf
from caddie.range.csv_import import Wishes, import_text
from caddie.range.fit import estimate_carries, fit_carries, with_fit
from caddie.range.gapping import GapKind, findings, spans
from caddie.range.new_bag import Answers, bag_from
from caddie.range.shots import RangeBall, Session, session_text
from caddie.reply.bag_picture import bag_picture
from caddie.situation import Strike
from caddie.talk.new_bag import answered

YARD_M = 0.9144
SPLASHED_YARDS = {"hip": 7.0, "chest": 12.0, "full": 20.0}
TABLE = """club,swing,lie,carry (yd)
56,chest,bunker,14
56,chest,fairway,65
60,full,Sand,15
PW,full,mat,118
"""


def sandy(bag: Bag, yards: dict[str, float], club: str = "56", shots: int = 20) -> Bag:
    cells = tuple(
        Carry(swing=swing, carry_m=carry * YARD_M, sd_m=2.0, shots=shots) for swing, carry in yards.items()
    )
    clubs = tuple(each.with_cells(cells, sand=True) if each.id == club else each for each in bag.clubs)
    return bag.model_copy(update={"clubs": clubs})


def hit(club: str, swing: str, yards: np.ndarray, sand: bool = True) -> tuple[RangeBall, ...]:
    return tuple(RangeBall(club=club, swing=swing, carry_m=float(each) * YARD_M, sand=sand) for each in yards)


def test_estimates_are_about_a_third_of_the_grass_carry_and_follow_what_was_measured(bag: Bag) -> None:
    matrix = splash_cells(bag)
    for club in bag.clubs:
        for grass, sand in zip(club.carries, matrix.get(club.id, ()), strict=True):
            assert not sand.measured
            assert 0.15 * grass.carry_m < sand.carry_m < 0.42 * grass.carry_m
    full = splash_cells(sandy(bag, {"full": 15.0}))
    known = {cell.swing: cell for cell in full["56"]}
    assert known["full"].shots == 20
    assert all(one.carry_m < other.carry_m for one, other in pairwise(full["56"]))
    # The other clubs splash at the share of the speed that this one shows.
    assert all(weak.carry_m < usual.carry_m for weak, usual in zip(full["60"], matrix["60"], strict=True))


def test_a_table_says_which_balls_lay_in_sand(bag: Bag) -> None:
    read = import_text(TABLE, "x.csv", bag)
    assert [(shot.club, shot.sand) for shot in read.session.shots] == [
        ("56", True), ("56", False), ("60", True), ("PW", False),
    ]  # fmt: skip
    again = import_text(session_text(read.session), "kept.csv", bag)
    assert [shot.model_copy(update={"line": None}) for shot in again.session.shots] == [
        shot.model_copy(update={"line": None}) for shot in read.session.shots
    ]


def test_rough_says_nothing_of_a_swing_a_sole_angle_is_no_lie_and_all_rows_may_be_of_sand(bag: Bag) -> None:
    rough = import_text("club,swing,lie,carry (yd)\n56,chest,rough,50\n56,chest,,65\n", "x.csv", bag)
    assert "'rough' is neither fairway nor bunker" in rough.rejected[0].reason
    assert len(rough.session.shots) == 1
    angles = import_text("club,swing,lie,carry (yd)\n56,chest,63.5,65\n", "x.csv", bag)
    assert not angles.session.shots[0].sand
    plain = import_text("club,swing,carry (yd)\n56,chest,14\n", "x.csv", bag, Wishes(sand=True))
    assert plain.session.shots[0].sand


def test_balls_from_sand_are_fitted_apart_and_only_measured_splashes_are_written(bag: Bag) -> None:
    rng = np.random.default_rng(5)
    shots = hit("56", "chest", rng.normal(12.0, 2.0, 25)) + hit("56", "chest", rng.normal(65, 3, 10), False)
    session = Session(shots=shots)
    after = with_fit(bag, fit_carries([session], bag, sand=True), estimates="all")
    club = after.club_called("56")
    assert club is not None
    (cell,) = club.splash
    # Expected were 16 yards; 25 balls about 12 leave little of that.
    assert cell.carry_m / YARD_M == pytest.approx(12.0, abs=0.8)
    assert (cell.swing, cell.shots) == ("chest", pytest.approx(25, abs=2))
    assert club.carries == bag.club_called("56").carries  # type: ignore[union-attr]
    assert after.strikes[Family.SPLASH].shots == 25
    assert Family.PITCH not in after.strikes
    grass = fit_carries([session], bag).cell("56", "chest")
    assert grass is not None
    assert grass.carry_m / YARD_M == pytest.approx(65, abs=2)
    again = with_fit(after, fit_carries([session], after, sand=True))
    assert again.club_called("56").splash[0].carry_m == pytest.approx(cell.carry_m)  # type: ignore[union-attr]


def test_few_splashes_are_drawn_to_what_is_expected_and_many_are_not(
    bag: Bag, monkeypatch: pytest.MonkeyPatch
) -> None:
    # What is expected of the one bag is worked out once for all trials.
    known = cache(lambda text: splash_cells(Bag.model_validate_json(text)))
    monkeypatch.setattr(fit_grid, "splash_cells", lambda each: known(each.model_dump_json()))
    expected = estimate_carries(bag, sand=True).cell("56", "full")
    assert expected is not None and expected.shots == 0
    rng = np.random.default_rng(8)
    truth = 0.7 * expected.carry_m / YARD_M
    errors: dict[int, list[float]] = {3: [], 30: []}
    covered = 0
    for count in errors:
        for _ in range(40):
            session = Session(shots=hit("56", "full", np.maximum(rng.normal(truth, 3.0, count), 1.0)))
            cell = fit_carries([session], bag, sand=True).cell("56", "full")
            assert cell is not None
            errors[count].append(cell.carry_m / YARD_M - truth)
            covered += cell.carry_low_m <= truth * YARD_M <= cell.carry_high_m
    assert np.mean(errors[3]) > 0.3 > abs(np.mean(errors[30])) - 0.2
    assert np.std(errors[3]) < 3.0 / np.sqrt(3)
    # The intervals hold although the player is far from what is expected: 80 trials, 95 % asked.
    assert covered >= 70


def test_the_sessions_air_is_taken_out_of_splashes(bag: Bag) -> None:
    shots = hit("56", "full", np.array([20.0, 21.0, 22.0, 20.5, 21.5]))
    here = fit_carries([Session(shots=shots)], bag, sand=True).cell("56", "full")
    high = Session(shots=shots, conditions=Conditions(temperature_c=30, altitude_m=2500))
    thin = fit_carries([high], bag, sand=True).cell("56", "full")
    assert here is not None and thin is not None
    # Slow and short flights owe the air little.
    assert 0.96 * here.carry_m < thin.carry_m < here.carry_m


def test_gapping_knows_splashes(bag: Bag) -> None:
    wanting = [each for each in findings(bag) if each.sand]
    assert [each.kind for each in wanting] == [GapKind.UNMEASURED]
    assert "no bunker splash is measured: hit some with the 56" in wanting[0].text
    few = sandy(bag, {"chest": 13.0}, shots=3)
    (unsure,) = [each for each in findings(few) if each.sand]
    assert unsure.kind is GapKind.UNSURE
    assert unsure.text.startswith("56 chest out of sand (13) is known to ± ")
    # Grass figures do not see the sand, nor sand those of grass.
    assert spans(few) == spans(bag)
    assert [span.sand for span in spans(few, sand=True)] == [True]
    odd = sandy(bag, {"chest": 65.0})
    assert any("splash.chest: carries as far out of sand as from grass" in note for note in bag_notes(odd))
    assert not any("splash" in note for note in bag_notes(sandy(bag, {"chest": 13.0})))


def test_card_and_picture_carry_the_sand(bag: Bag) -> None:
    measured = sandy(bag, SPLASHED_YARDS)
    card = card_of(measured, datetime(2026, 5, 2, 7, 30))
    row = card.rows[-1]
    assert (row.name, row.cells) == ("56 sand", ("7 ± 2", "12 ± 2", None, "20 ± 2"))
    assert "Sand rows: splashes out of a bunker." in card.legend
    assert "Sand rows" not in card_of(bag, datetime(2026, 5, 2, 7, 30)).legend
    assert "56 sand" in card_html(card)
    assert card_pdf(card).startswith(b"%PDF")
    drawn = bag_picture(measured)
    assert "56 chest out of sand: 12 yards" in drawn
    assert "out of sand" not in bag_picture(bag)


def test_a_new_bag_takes_a_splash_told_from_memory() -> None:
    answers = answered(Answers(), "yards")
    for reply in ("Ash Marlow", "20", "right", "56 52 PW", "56 half 60, bunker 56 full 18, PW full 110"):
        answers = answered(answers, reply)
    bag = bag_from(answers)
    wedge = bag.club_called("56")
    assert wedge is not None
    assert [(cell.swing, cell.shots) for cell in wedge.splash] == [("full", 3)]
    assert wedge.splash[0].carry_m == pytest.approx(18 * YARD_M)
    grass = next(cell for cell in wedge.carries if cell.swing == "chest")
    assert grass.shots == 3
    # A splash told of a club without a carry from grass stands beside its estimates.
    other = answered(Answers(distances_in="yards", name="x", handicap=9, handed="right"), "60 PW")
    told = bag_from(answered(other, "60 full from the sand 14"))
    assert told.club_called("60").splash[0].shots == 3  # type: ignore[union-attr]


def test_a_sand_wedge_is_a_club_and_not_a_place() -> None:
    answers = Answers(distances_in="yards", name="x", handicap=9, handed="right")
    answers = answered(answers, "SW PW")
    told = answered(answers, "sand wedge half 60, splash sand wedge full 19")
    assert [(each.club, each.sand) for each in told.carries or ()] == [("SW", False), ("SW", True)]


def test_the_command_line_imports_fits_and_shows_splashes(bag_path: Path, tmp_path: Path) -> None:
    rng = np.random.default_rng(2)
    rows = "".join(f"56,chest,{yards:.1f}\n" for yards in rng.normal(13, 1.5, 20))
    table = tmp_path / "splashes.csv"
    table.write_text("club,swing,carry (yd)\n" + rows, encoding="utf-8")
    runner = CliRunner()
    taken = runner.invoke(app, ["bag", "import", str(table), "--sand", "--fit", "--yes"])
    assert taken.exit_code == 0, taken.output
    assert "56 chest out of sand: 20 balls" in taken.output
    assert "Splashes in yards" in taken.output
    club = load_bag(bag_path).club_called("56")
    assert club is not None
    assert club.splash[0].carry_m / YARD_M == pytest.approx(13, abs=1)
    shown = runner.invoke(app, ["bag", "show"])
    assert "56 sand (56°)" in shown.output
    assert "no bunker splash" not in shown.output
    checked = runner.invoke(app, ["bag", "check"])
    assert "1 out of sand" in checked.output


def test_the_estimates_spread_is_sands(bag: Bag) -> None:
    whole = with_splash_estimates(bag).club_called("56")
    assert whole is not None
    from caddie.bag.curve import SAND_SPREAD, expected_spread_m

    for cell in whole.splash:
        prior = float(expected_spread_m(cell.carry_m, bag.player.handicap)[0])
        assert cell.sd_m == pytest.approx(SAND_SPREAD * prior)


def test_a_mishit_in_sand_needs_no_carry(bag: Bag) -> None:
    shots = hit("56", "chest", np.array([12.0, 13.0, 11.5, 12.5, 13.5, 12.2]))
    lost = RangeBall(club="56", swing="chest", strike=Strike.HEAVY, sand=True)
    fit = fit_carries([Session(shots=(*shots, lost))], bag, sand=True)
    assert fit.strikes.heavy == 1
    assert fit.strikes.shots == 7
