"""Trouble behind the green never speaks for the shot that runs the farther (common practice, no source)."""

import pytest

from caddie import advise, load_bag
from caddie.situation import Hazard, HazardKind, Lie, PinPosition, Side, Situation

ROUNDING_M = 1.0


@pytest.mark.parametrize("pin_m", [60.0, 73.0, 84.0, 91.4, 97.0])
@pytest.mark.parametrize("position", [PinPosition.FRONT, PinPosition.MIDDLE])
@pytest.mark.parametrize("kind", [HazardKind.WATER, HazardKind.OUT_OF_BOUNDS])
def test_a_pitch_runs_no_farther_for_trouble_behind(
    pin_m: float, position: PinPosition, kind: HazardKind
) -> None:
    free = Situation(pin_m=pin_m, lie=Lie.FAIRWAY, pin_position=position)
    walled = free.model_copy(update={"hazards": (Hazard(kind=kind, side=Side.LONG),)})
    bag = load_bag()
    assert advise(walled, bag).chosen.run_m <= advise(free, bag).chosen.run_m + ROUNDING_M
