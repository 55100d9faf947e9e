"""Laws of a note: what is told again changes nothing, what is settled contradicts nothing, what is said stays said."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caddie.notes.clash import contradictions
from caddie.notes.fill import filled
from caddie.notes.learn import facts_told, learned, settled, where_trouble_ends
from caddie.notes.models import HoleNote, Trouble, Usual
from caddie.situation import (
    Fall,
    Firmness,
    Green,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Situation,
)
from caddie.talk.laid_over import merged
from caddie.units import YARD_M, Unit
from caddie.words import understand

DAY, BEFORE = date(2026, 5, 2), date(2026, 4, 11)
troubles = st.lists(
    st.builds(
        Trouble,
        kind=st.sampled_from([HazardKind.BUNKER, HazardKind.WATER, HazardKind.TIER]),
        side=st.none() | st.sampled_from(Side),
        before_green_m=st.none() | st.integers(1, 20).map(float),
    ),
    max_size=4,
    unique_by=lambda each: (each.kind, each.side),
).map(tuple)
notes = st.builds(
    HoleNote,
    number=st.just(4),
    depth_m=st.none() | st.integers(12, 45).map(float),
    height_m=st.none() | st.integers(-10, 10).map(float),
    fall=st.none() | st.sampled_from([Fall.TOWARD, Fall.AWAY]),
    side_fall=st.none() | st.sampled_from([Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT]),
    trouble=troubles,
    firmness=st.none() | st.sampled_from(Firmness),
    firmness_on=st.sampled_from([DAY, BEFORE]),
)
shots = st.builds(
    Situation,
    pin_m=st.none() | st.integers(5, 100).map(float),
    lie=st.none() | st.sampled_from(Lie),
    pin_position=st.none() | st.sampled_from(PinPosition),
    room_m=st.none() | st.integers(2, 20).map(float),
    elevation_m=st.none() | st.integers(-5, 5).map(float),
    hazards=st.lists(
        st.builds(
            Hazard, kind=st.sampled_from([HazardKind.BUNKER, HazardKind.WATER]), side=st.sampled_from(Side)
        ),
        max_size=2,
        unique_by=lambda each: (each.kind, each.side),
    ).map(tuple),
    green=st.builds(
        Green,
        fall=st.none() | st.sampled_from(Fall),
        stimp_ft=st.none() | st.just(9.0),
        firmness=st.none() | st.sampled_from(Firmness),
    ),
)
usuals = st.builds(Usual, stimp_ft=st.none() | st.just(11.0), firmness=st.none() | st.sampled_from(Firmness))


@given(note=notes)
def test_what_is_told_again_changes_nothing(note: HoleNote) -> None:
    told = note.model_copy(update={"firmness": None, "firmness_on": None})
    assert contradictions(note, told) == ()
    assert learned(note, told, DAY) == note


@given(note=notes, told=notes)
def test_what_is_settled_contradicts_nothing(note: HoleNote, told: HoleNote) -> None:
    now = settled(note, told, "now", DAY)
    assert contradictions(now, told) == ()
    assert {(each.kind, each.side) for each in told.trouble} <= {
        (each.kind, each.side) for each in now.trouble
    }
    before = settled(note, told, "before", DAY)
    assert {(each.kind, each.side) for each in note.trouble} <= {
        (each.kind, each.side) for each in before.trouble
    }
    for clash in contradictions(note, told):
        if not clash.field.startswith("trouble."):
            assert getattr(before, clash.field) == getattr(note, clash.field)
            assert getattr(now, clash.field) == getattr(told, clash.field)


@given(note=notes, usual=usuals, said=shots)
def test_what_was_said_stays_said(note: HoleNote, usual: Usual, said: Situation) -> None:
    added = filled(note, usual, said, said, DAY)
    after = merged(said, added.situation)
    for name in ("pin_m", "front_m", "lie", "pin_position", "elevation_m", "room_m"):
        if getattr(said, name) is not None:
            assert getattr(after, name) == getattr(said, name)
    for name in ("stimp_ft", "firmness"):
        if getattr(said.green, name) is not None:
            assert getattr(after.green, name) == getattr(said.green, name)
    if said.green.fall is not None:
        assert said.green.fall in (after.green.fall, after.green.side_fall)
    assert set(said.hazards) <= set(after.hazards)
    # What is filled once is filled the same again.
    again = filled(note, usual, Situation(), after, DAY)
    assert merged(after, again.situation) == after


@given(note=notes, said=shots)
def test_beside_the_green_nothing_with_a_side_is_taken(note: HoleNote, said: Situation) -> None:
    near = said.model_copy(update={"lie": Lie.FRINGE})
    added = filled(note, Usual(), near, near, DAY).situation
    assert added == Situation(green=Green(firmness=added.green.firmness))


def test_firm_of_another_day_is_not_firm_today() -> None:
    note = HoleNote(number=4, firmness=Firmness.FIRM, firmness_on=BEFORE)
    said = Situation(pin_m=60.0)
    assert filled(note, Usual(), said, said, DAY).situation.green.firmness is None
    assert filled(note, Usual(), said, said, BEFORE).situation.green.firmness is Firmness.FIRM


@pytest.mark.parametrize(
    ("text", "side", "yards"),
    [
        ("bunker six yards before the green", Side.SHORT, 6),
        ("water twelve yards short of the green", Side.SHORT, 12),
        ("bunker left", Side.LEFT, None),
    ],
)
def test_how_far_trouble_ends_before_the_green_is_kept(text: str, side: Side, yards: float | None) -> None:
    ends = where_trouble_ends(text, Unit.YARDS, YARD_M)
    (trouble,) = facts_told("home", 4, understand(text).situation, ends=ends).trouble
    assert trouble.side is side
    assert trouble.before_green_m == (None if yards is None else pytest.approx(yards * YARD_M, abs=0.01))


def test_the_carry_over_trouble_before_the_green_follows_from_the_flag() -> None:
    """Seventy yards to a back flag of a 28-yard green: 23 yards of green, so 47 to the front, 41 over the sand."""
    trouble = Trouble(kind=HazardKind.BUNKER, side=Side.SHORT, before_green_m=6 * YARD_M)
    note = HoleNote(number=4, depth_m=28 * YARD_M, trouble=(trouble,))
    said = Situation(pin_m=70 * YARD_M, pin_position=PinPosition.BACK)
    added = filled(note, Usual(), said, said, DAY).situation
    assert added.room_m == pytest.approx(23 * YARD_M, abs=0.01)
    assert added.hazards[0].carry_m == pytest.approx(41 * YARD_M, abs=0.01)
