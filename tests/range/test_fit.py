import numpy as np
import pytest

from caddie.bag import Bag, Carry, Club, ClubKind, Conditions, Family, Player
from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.range.csv_import import import_csv
from caddie.range.fit import estimate_carries, fit_carries, with_fit
from caddie.range.shots import RangeBall, Session
from caddie.situation import Strike

YARD_M = 0.9144


@pytest.fixture
def session(bag: Bag) -> Session:
    return import_csv(shipped("demo_bag/range_session.csv"), bag).session


def test_the_demo_session_agrees_with_the_demo_bag(bag: Bag, session: Session) -> None:
    fit = fit_carries([session], bag)
    fitted = [cell for cell in fit.cells if cell.from_sessions]
    assert len(session.shots) == 100
    assert len(fitted) == 9
    for cell in fitted:
        held = next(c for c in bag.club_called(cell.club).carries if c.swing == cell.swing)  # type: ignore[union-attr]
        assert cell.carry_low_m <= held.carry_m <= cell.carry_high_m
        assert cell.sd_low_m <= held.sd_m <= cell.sd_high_m
    assert fit.strikes.shots == 100
    assert 5 <= fit.strikes.heavy + fit.strikes.thin <= 15


def test_a_bag_without_carries_is_filled_by_one_session(bag: Bag, session: Session) -> None:
    bare = bag.model_copy(
        update={"clubs": tuple(club.model_copy(update={"carries": ()}) for club in bag.clubs)}
    )
    filled = with_fit(bare, fit_carries([session], bare), estimates="wedges")
    for club in filled.clubs:
        shots = [cell.shots for cell in club.carries]
        if club.id in ("60", "56", "52"):
            assert [cell.swing for cell in club.carries] == ["hip", "chest", "shoulder", "full"]
            assert shots[0] == 0
            assert min(shots[1:]) >= 7
        elif club.kind is ClubKind.WEDGE:
            assert shots == [0, 0, 0, 0]
        else:
            assert shots == []
    assert filled.strikes[Family.PITCH].shots == 100
    everything = with_fit(bare, fit_carries([session], bare), estimates="all")
    assert all(club.carries for club in everything.clubs if club.kind is not ClubKind.PUTTER)
    none = with_fit(bare, fit_carries([session], bare), estimates="none")
    assert all(cell.measured for club in none.clubs for cell in club.carries)


def test_fitting_again_changes_nothing(bag: Bag, session: Session) -> None:
    once = with_fit(bag, fit_carries([session], bag), estimates="all")
    twice = with_fit(once, fit_carries([session], once), estimates="all")
    for one, other in zip(once.clubs, twice.clubs, strict=True):
        for cell, again in zip(one.carries, other.carries, strict=True):
            assert again.carry_m == pytest.approx(cell.carry_m, abs=0.2)
            assert again.shots == cell.shots


def test_cells_without_a_ball_in_the_session_stay(bag: Bag, session: Session) -> None:
    after = with_fit(bag, fit_carries([session], bag))
    for before, now in zip(bag.clubs, after.clubs, strict=True):
        kept = {cell.swing: cell for cell in now.carries}
        for cell in before.carries:
            if cell.swing == "hip" or before.id not in ("60", "56", "52"):
                assert kept[cell.swing] == cell


def test_order_of_the_balls_does_not_matter(bag: Bag, session: Session) -> None:
    turned = session.model_copy(update={"shots": session.shots[::-1]})
    one, other = fit_carries([session], bag), fit_carries([turned], bag)
    for cell, again in zip(one.cells, other.cells, strict=True):
        assert again.carry_m == pytest.approx(cell.carry_m, rel=1e-9)


def test_estimates_rise_with_the_swing_and_fall_with_loft(bag: Bag, session: Session) -> None:
    fit = fit_carries([session], bag)
    swings = [swing.name for swing in bag.swings]
    clubs = sorted((c for c in bag.clubs if c.kind is not ClubKind.PUTTER), key=lambda club: -club.loft_deg)
    table = np.array([[fit.cell(club.id, swing).carry_m for swing in swings] for club in clubs])  # type: ignore[union-attr]
    assert (np.diff(table, axis=1) > 0).all()
    assert (np.diff(table, axis=0) > -1e-4).all()


def test_the_air_of_the_session_is_taken_out(bag: Bag, session: Session) -> None:
    cold = session.model_copy(update={"conditions": Conditions(temperature_c=0, altitude_m=60)})
    usual, corrected = fit_carries([session], bag), fit_carries([cold], bag)
    cell, moved = usual.cell("56", "full"), corrected.cell("56", "full")
    assert cell is not None
    assert moved is not None
    # The same balls in colder air are worth more in the bag's: about 2 % for 17 degrees.
    assert 1.005 < moved.carry_m / cell.carry_m < 1.05
    unsaid = session.model_copy(update={"conditions": None})
    assert (
        fit_carries([unsaid], bag).cells
        == fit_carries([session.model_copy(update={"conditions": bag.measured_in})], bag).cells
    )


def test_adding_counts_the_balls_of_the_bag_too(bag: Bag) -> None:
    few = Session(shots=tuple(RangeBall(club="56", swing="chest", carry_m=c * YARD_M) for c in (70, 71, 69)))
    replaced = fit_carries([few], bag).cell("56", "chest")
    added = fit_carries([few], bag, add=True).cell("56", "chest")
    assert replaced is not None
    assert added is not None
    assert (replaced.shots, added.shots) == (3, 33)
    assert abs(added.carry_m / YARD_M - 65.45) < 0.6
    assert replaced.carry_m > added.carry_m


def test_topped_and_unmeasured_mishits_count_but_move_nothing(bag: Bag, session: Session) -> None:
    extra = (
        RangeBall(club="56", swing="chest", strike=Strike.THIN),
        RangeBall(club="56", swing="chest", strike=Strike.TOPPED, carry_m=5),
        RangeBall(club="56", swing="chest", strike=Strike.SHANK),
    )
    before = fit_carries([session], bag)
    after = fit_carries([session.model_copy(update={"shots": session.shots + extra})], bag)
    one, other = before.cell("56", "chest"), after.cell("56", "chest")
    assert one is not None
    assert other is not None
    assert other.carry_m == pytest.approx(one.carry_m)
    assert (other.thin, other.odd) == (one.thin + 1, one.odd + 2)
    assert after.strikes.shots == before.strikes.shots + 3


def test_a_cell_of_mishits_alone_is_an_estimate(bag: Bag) -> None:
    shots = tuple(RangeBall(club="60", swing="full", carry_m=20, strike=Strike.HEAVY) for _ in range(4))
    shots += tuple(RangeBall(club="56", swing="full", carry_m=84) for _ in range(4))
    cell = fit_carries([Session(shots=shots)], bag).cell("60", "full")
    assert cell is not None
    assert cell.heavy == 4
    assert cell.carry_m > 50


def test_radar_columns_reach_the_bag(bag: Bag) -> None:
    shots = tuple(
        RangeBall(
            club="56", swing="full", carry_m=84 + i, ball_speed_m_s=34 + i, launch_deg=31, spin_rpm=9000 + i
        )
        for i in (-1, 0, 1)
    )
    after = with_fit(bag, fit_carries([Session(shots=shots)], bag))
    cell = after.club_called("56").carries[-1]  # type: ignore[union-attr]
    assert (cell.ball_speed_m_s, cell.launch_deg, cell.spin_rpm) == (34, 31, 9000)


def test_sides_make_a_side_spread(bag: Bag, session: Session) -> None:
    fit = fit_carries([session], bag)
    for cell in fit.cells:
        if cell.from_sessions:
            held = next(c for c in bag.club_called(cell.club).carries if c.swing == cell.swing)  # type: ignore[union-attr]
            assert cell.side_sd_m == pytest.approx(held.side_sd_m, rel=0.5)
    no_sides = session.model_copy(
        update={"shots": tuple(shot.model_copy(update={"side_m": None}) for shot in session.shots)}
    )
    assert fit_carries([no_sides], bag).cells[1].side_sd_m is None


def test_nothing_to_fit_says_what_to_do(bag: Bag) -> None:
    with pytest.raises(CaddieError, match="no shots to fit: import a table or hit a range session first"):
        fit_carries([Session()], bag)


def test_an_estimate_without_any_ball(bag: Bag) -> None:
    told = Carry(swing="full", carry_m=100, sd_m=6, shots=3)
    club = Club(id="56", name="sand wedge", kind=ClubKind.WEDGE, loft_deg=56, carries=(told,))
    other = Club(id="50", name="gap wedge", kind=ClubKind.WEDGE, loft_deg=50)
    fit = estimate_carries(Bag(player=Player(handicap=5), clubs=(club, other)))
    full, half, next_full = fit.cell("56", "full"), fit.cell("56", "chest"), fit.cell("50", "full")
    assert full is not None
    assert half is not None
    assert next_full is not None
    assert 92 < full.carry_m < 101
    assert 0.55 < half.carry_m / full.carry_m < 0.75
    assert next_full.carry_m > full.carry_m
    assert (half.shots, next_full.shots) == (0, 0)
