import os
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caddie.bag import (
    Bag,
    Carry,
    Club,
    ClubKind,
    Conditions,
    Family,
    Handed,
    Miss,
    Player,
    Risk,
    StrikeCount,
    load_bag,
    save_bag,
)
from caddie.bag.file import bag_content, previous, read_bag
from caddie.bag.migrations import migrate
from caddie.bag.models import STANDARD_SWINGS
from caddie.bag.writing import edited_text, fresh_text
from caddie.errors import CaddieError
from caddie.units import Unit

# What stands in a file is a tenth of a thousandth of a yard away from the bag at most.
FILE_ACCURACY_M = 1.1e-5

text = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), min_size=1, max_size=12)
positive = st.floats(0.05, 59, allow_subnormal=False)


@st.composite
def cells(draw: st.DrawFn) -> tuple[Carry, ...]:
    swings = [swing.name for swing in STANDARD_SWINGS if draw(st.booleans())]
    carry, cells = draw(st.floats(1, 40)), []
    for swing in swings:
        cells.append(
            Carry(
                swing=swing,
                carry_m=carry,
                sd_m=draw(positive),
                shots=draw(st.integers(0, 200)),
                side_sd_m=draw(st.none() | positive),
                spin_rpm=draw(st.none() | st.integers(0, 14000)),
                launch_deg=draw(st.none() | st.floats(1, 79)),
            )
        )
        carry += draw(st.floats(0.1, 40))
    return tuple(cells)


@st.composite
def clubs(draw: st.DrawFn, name: str) -> Club:
    carries = draw(cells())
    return Club(
        id=name,
        name=draw(text),
        kind=draw(st.sampled_from(ClubKind)),
        loft_deg=draw(st.floats(0, 72)),
        bounce_deg=draw(st.none() | st.floats(0, 20)),
        said=tuple(draw(st.lists(text, max_size=2))),
        carries=carries,
        splash=draw(cells()) if carries else (),
    )


@st.composite
def bags(draw: st.DrawFn) -> Bag:
    names = draw(st.lists(text, min_size=1, max_size=4, unique_by=str.lower))
    strikes = draw(st.dictionaries(st.sampled_from(Family), st.integers(0, 9), max_size=2))
    return Bag(
        player=Player(
            name=draw(text),
            handicap=draw(st.floats(-8, 54)),
            handed=draw(st.sampled_from(Handed)),
            distances_in=draw(st.sampled_from([Unit.YARDS, Unit.METRES])),
            usual_misses=tuple(draw(st.lists(st.sampled_from(Miss), max_size=3))),
            risk=draw(st.sampled_from(Risk)),
        ),
        measured_in=Conditions(temperature_c=draw(st.floats(-20, 50))),
        today=draw(st.none() | st.builds(Conditions, altitude_m=st.floats(-400, 4500))),
        clubs=tuple(draw(clubs(name)) for name in names),
        trust=draw(st.dictionaries(st.sampled_from(Family), st.floats(0, 1), max_size=3)),
        strikes={family: StrikeCount(shots=9, heavy=heavy) for family, heavy in strikes.items()},
    )


def close(one: object, other: object) -> bool:
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(close(one[key], other[key]) for key in one)
    if isinstance(one, list | tuple) and isinstance(other, list | tuple):
        return len(one) == len(other) and all(map(close, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return one == pytest.approx(other, abs=FILE_ACCURACY_M)
    return one == other


@given(bags())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_written_bag_reads_back_as_it_was(bag: Bag) -> None:
    again = read_bag(tomllib.loads(fresh_text(bag)))
    assert close(again.model_dump(), bag.model_dump())


@given(bags(), bags())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_bag_can_be_edited_into_any_other(before: Bag, after: Bag) -> None:
    again = read_bag(tomllib.loads(edited_text(fresh_text(before), after)))
    assert close(again.model_dump(), after.model_dump())


def test_saving_without_a_change_leaves_every_byte(bag_path: Path) -> None:
    before = bag_path.read_bytes()
    save_bag(load_bag(bag_path), bag_path)
    assert bag_path.read_bytes() == before
    assert not previous(bag_path).exists()


def test_windows_line_ends_and_byte_order_mark_are_read(bag_path: Path) -> None:
    bag = load_bag(bag_path)
    bag_path.write_bytes(b"\xef\xbb\xbf" + bag_path.read_bytes().replace(b"\n", b"\r\n"))
    assert load_bag(bag_path) == bag


def test_one_changed_carry_changes_one_line_and_the_old_file_is_kept(bag_path: Path) -> None:
    before = bag_path.read_text(encoding="utf-8")
    bag = load_bag(bag_path)
    cells = bag.clubs[1].carries
    moved = cells[1].model_copy(update={"carry_m": 66.5 * 0.9144})
    club = bag.clubs[1].model_copy(update={"carries": (cells[0], moved, *cells[2:])})
    save_bag(bag.model_copy(update={"clubs": (bag.clubs[0], club, *bag.clubs[2:])}), bag_path)
    old, new = before.splitlines(), bag_path.read_text(encoding="utf-8").splitlines()
    assert len(old) == len(new)
    changed = [(one, other) for one, other in zip(old, new, strict=True) if one != other]
    assert changed == [
        (
            "chest = {carry = 65, sd = 3.2, shots = 30, side_sd = 2.3}",
            "chest = {carry = 66.5, sd = 3.2, shots = 30, side_sd = 2.3}",
        )
    ]
    assert previous(bag_path).read_text(encoding="utf-8") == before


def test_splash_carries_are_read_in_the_players_unit_and_written_below_the_carries(bag_path: Path) -> None:
    before = bag_path.read_text(encoding="utf-8")
    last = "full = {carry = 92, sd = 5.6, shots = 18, side_sd = 4.2}\n"
    table = (
        "[clubs.splash]\nfull = {carry = 24, sd = 3, shots = 9}\nchest = {carry = 14, sd = 2, shots = 9}\n"
    )
    assert last in before
    bag_path.write_text(before.replace(last, last + table), encoding="utf-8")
    bag = load_bag(bag_path)
    assert [(cell.swing, cell.carry_m, cell.shots) for cell in bag.clubs[1].splash] == [
        ("chest", pytest.approx(14 * 0.9144), 9),
        ("full", pytest.approx(24 * 0.9144), 9),
    ]
    assert [club.id for club in bag.clubs if club.splash] == ["56"]
    bag_path.write_text(before, encoding="utf-8")
    save_bag(bag, bag_path)
    written = bag_path.read_text(encoding="utf-8")
    assert load_bag(bag_path) == bag
    assert (
        written.index(last) < written.index("[clubs.splash]\nchest = {carry = 14, sd") < written.index('"52"')
    )
    for line in before.splitlines():
        assert line in written


def test_comments_survive_a_removed_an_added_and_a_moved_club(bag_path: Path) -> None:
    bag = load_bag(bag_path)
    extra = Club(id="58", name="spare", kind=ClubKind.WEDGE, loft_deg=58)
    after = bag.model_copy(update={"clubs": (bag.clubs[2], extra, *bag.clubs[3:])})
    save_bag(after, bag_path)
    written = bag_path.read_text(encoding="utf-8")
    assert load_bag(bag_path) == after
    for comment in (line for line in previous(bag_path).read_text().splitlines() if line.startswith("#")):
        assert comment in written


def test_defaults_that_nobody_wrote_are_not_written(tmp_path: Path) -> None:
    path = tmp_path / "bag.toml"
    path.write_text('schema = 1\n[[clubs]] # mine\nid = "56"\nname = "sand"\nkind = "wedge"\nloft_deg = 56\n')
    bag = load_bag(path)
    save_bag(bag.model_copy(update={"player": bag.player.model_copy(update={"handicap": 9.0})}), path)
    written = path.read_text()
    assert "handicap = 9" in written
    assert "# mine" in written
    assert "pace_m" not in written


def test_a_refused_write_leaves_the_old_file(bag_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = bag_path.read_bytes()
    bag = load_bag(bag_path)

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(CaddieError, match=r"cannot be written \(No space left on device\)"):
        save_bag(bag.model_copy(update={"clubs": bag.clubs[:2]}), bag_path)
    assert bag_path.read_bytes() == before
    assert sorted(each.name for each in bag_path.parent.iterdir()) == ["bag.toml"]


def test_migrations_run_in_order_and_keep_comments() -> None:
    import tomlkit

    def rename(content: object) -> None:
        content["player"]["name"] = content["player"].pop("called")  # type: ignore[index]

    def shout(content: object) -> None:
        content["player"]["name"] = content["player"]["name"].upper()  # type: ignore[index]

    document = tomlkit.parse('schema = 1 # first\n[player] # who\ncalled = "rowan"\n')
    assert migrate(document, (rename, shout)) == 1
    assert tomlkit.dumps(document) == 'schema = 3 # first\n[player] # who\nname = "ROWAN"\n'
    half_way = {"schema": 2, "player": {"name": "rowan"}}
    assert migrate(half_way, (rename, shout)) == 2
    assert half_way == {"schema": 3, "player": {"name": "ROWAN"}}


def test_a_newer_file_is_refused_with_what_to_do() -> None:
    with pytest.raises(ValueError, match="schema: must be at most 1, found 2: install a newer caddie"):
        migrate({"schema": 2})


def test_the_file_form_is_the_inverse_of_reading(bag: Bag) -> None:
    assert read_bag(bag_content(bag)) == bag
