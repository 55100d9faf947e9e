"""What becomes of each fact at each step, cell by cell, and what is news of what is told."""

from typing import Any

import pytest

from caddie.situation import (
    Borrow,
    BorrowUnit,
    Fall,
    Firmness,
    Grain,
    Green,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Sand,
    Side,
    Sitting,
    Situation,
    Stance,
    Wind,
    WindFrom,
    WindKnownBy,
)
from caddie.talk.lasts import Of, Step, carried_on, facts_of, fate, news_of, owner

SHORT_BUNKER = Hazard(kind=HazardKind.BUNKER, side=Side.SHORT, carry_m=45.0)
BUNKER_RIGHT = Hazard(kind=HazardKind.BUNKER, side=Side.RIGHT)
WATER_BEHIND = Hazard(kind=HazardKind.WATER, side=Side.LONG)
RIDGE = Hazard(kind=HazardKind.RIDGE)
TOLD = Situation(
    pin_m=60.0,
    front_m=48.0,
    room_m=12.0,
    behind_m=5.0,
    lie=Lie.BUNKER,
    sitting=Sitting.DOWN,
    stance=(Stance.UPHILL,),
    wet=True,
    sand=Sand.FIRM,
    lip_m=1.0,
    lip_away_m=3.0,
    pin_position=PinPosition.BACK_LEFT,
    elevation_m=2.0,
    hazards=(SHORT_BUNKER, BUNKER_RIGHT, WATER_BEHIND, RIDGE),
    green=Green(
        fall=Fall.TOWARD,
        fall_slope=0.02,
        side_fall=Fall.LEFT_TO_RIGHT,
        side_slope=0.01,
        stimp_ft=11.0,
        firmness=Firmness.FIRM,
        grain=Grain.WITH,
        double_break=True,
        borrow=Borrow(amount=1, unit=BorrowUnit.CUPS),
    ),
    wind=Wind(from_=WindFrom.BEHIND_LEFT, speed_m_s=5.0, known_by=WindKnownBy.FELT),
)
NEXT = Situation(pin_m=40.0)
"""Twenty metres nearer."""

# Whose it is (b ball, h hole, d day), then what becomes of it: + stays, - goes, t turned round, a what is ahead still,
# o what is on the green. Common practice, no source.
CELLS = """
                   of  again still_short stayed_in_sand nearer over putt another_shot next_hole
pin_m              b     +        -            -           -     -    +       -           -
front_m            b     +        -            -           -     -    -       -           -
room_m             h     +        +            +           -     -    -       -           -
behind_m           h     +        +            +           -     -    -       -           -
lie                b     +        -            -           -     -    -       -           -
sitting            b     +        -            -           -     -    -       -           -
stance             b     +        -            -           -     -    -       -           -
wet                b     +        -            -           -     -    -       -           -
elevation_m        b     +        -            -           -     -    -       -           -
sand               h     +        -            +           -     -    -       -           -
lip_m              h     +        -            +           -     -    -       -           -
lip_away_m         h     +        -            +           -     -    -       -           -
pin_position       h     +        +            +           -     t    +       -           -
hazards            h     +        a            +           -     t    o       -           -
green.fall         h     +        -            -           -     -    +       -           -
green.fall_slope   h     +        -            -           -     -    +       -           -
green.side_fall    h     +        -            -           -     -    +       -           -
green.side_slope   h     +        -            -           -     -    +       -           -
green.grain        h     +        -            -           -     -    +       -           -
green.double_break h     +        -            -           -     -    +       -           -
green.borrow       h     +        -            -           -     -    +       -           -
green.stimp_ft     d     +        +            +           +     +    +       +           +
green.firmness     d     +        +            +           +     +    +       +           +
wind.from_         d     +        +            +           +     t    -       -           -
wind.speed_m_s     d     +        +            +           +     +    -       +           +
wind.known_by      d     +        +            +           +     +    -       +           +
"""
HEAD, *ROWS = (line.split() for line in CELLS.strip().splitlines())
BECOMES = {"+": "stays", "-": "goes", "t": "turns", "a": "ahead", "o": "on_it"}
OTHERWISE = {
    ("pin_position", "t"): PinPosition.FRONT_RIGHT,
    ("wind.from_", "t"): WindFrom.AHEAD_RIGHT,
    ("hazards", "t"): (
        Hazard(kind=HazardKind.BUNKER, side=Side.LONG),
        Hazard(kind=HazardKind.BUNKER, side=Side.LEFT),
    ),
    ("hazards", "a"): (SHORT_BUNKER.model_copy(update={"carry_m": 25.0}), BUNKER_RIGHT, WATER_BEHIND, RIDGE),
    ("hazards", "o"): (RIDGE,),
}


def value_of(situation: Situation, fact: str) -> Any:
    """A fact by its dotted name."""
    value: Any = situation
    for name in fact.split("."):
        value = getattr(value, name)
    return value


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_every_cell_of_a_fact(row: list[str]) -> None:
    fact, whose, *cells = row
    assert owner(fact) is {"b": Of.BALL, "h": Of.HOLE, "d": Of.DAY}[whose]
    for step, cell in zip(HEAD[1:], cells, strict=True):
        assert fate(fact, Step(step)).value == BECOMES[cell], step
        after = value_of(carried_on(TOLD, Step(step), NEXT), fact)
        gone = () if isinstance(value_of(TOLD, fact), tuple) else None
        kept = value_of(TOLD, fact) if cell == "+" else OTHERWISE.get((fact, cell), gone)
        assert after == kept, step


def test_the_table_of_the_test_has_every_step_and_every_fact_told() -> None:
    assert HEAD[1:] == [step.value for step in Step]
    assert {row[0] for row in ROWS} == set(facts_of(TOLD))


def test_a_bunker_passed_is_no_longer_in_the_way() -> None:
    past = Situation(pin_m=10.0, lie=Lie.LIGHT_ROUGH)
    assert carried_on(TOLD, Step.STILL_SHORT, past).hazards == ()


def test_the_green_before_the_flag_is_known_by_its_ends() -> None:
    told = Situation(pin_m=60.0, front_m=48.0)
    assert carried_on(told, Step.STILL_SHORT, NEXT).room_m == 12.0


def test_what_is_told_again_is_no_news() -> None:
    assert news_of(TOLD, TOLD) == Situation()
    again = Situation(pin_m=60.1, lie=Lie.BUNKER, hazards=(Hazard(kind=HazardKind.BUNKER, side=Side.RIGHT),))
    assert news_of(again, TOLD) == Situation()
    assert news_of(Situation(pin_m=61.0, front_m=48.0), TOLD) == Situation(pin_m=61.0)
