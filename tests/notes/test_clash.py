"""Every kind of fact that lasts can be told otherwise, and that is noticed; firmness is of one day and is not."""

from datetime import date

import pytest

from caddie.notes.clash import contradictions
from caddie.notes.learn import settled
from caddie.notes.models import HoleNote, Trouble
from caddie.situation import Fall, Firmness, HazardKind, Side

DAY = date(2026, 5, 2)
SHORT, LONG = (Trouble(kind=HazardKind.BUNKER, side=side) for side in (Side.SHORT, Side.LONG))
RIDGE = Trouble(kind=HazardKind.RIDGE, height_m=0.3)
TOLD_OTHERWISE = {
    "depth_m": [({"depth_m": 25.0}, {"depth_m": 36.0})],
    "height_m": [
        ({"height_m": 2.0}, {"height_m": 0.0}),
        ({"height_m": 2.0}, {"height_m": -2.0}),
        ({"height_m": 0.0}, {"height_m": 3.0}),
    ],
    "fall": [
        ({"fall": Fall.AWAY}, {"fall": Fall.TOWARD}),
        ({"fall": Fall.AWAY}, {"fall_slope": 0.0}),
        ({"fall_slope": 0.0}, {"fall": Fall.AWAY}),
    ],
    "side_fall": [
        ({"side_fall": Fall.LEFT_TO_RIGHT}, {"side_fall": Fall.RIGHT_TO_LEFT}),
        ({"side_fall": Fall.LEFT_TO_RIGHT, "side_slope": 0.02}, {"fall_slope": 0.0}),
        ({"fall_slope": 0.0}, {"side_fall": Fall.LEFT_TO_RIGHT}),
    ],
    "fall_slope": [({"fall": Fall.AWAY, "fall_slope": 0.01}, {"fall": Fall.AWAY, "fall_slope": 0.05})],
    "side_slope": [
        (
            {"side_fall": Fall.LEFT_TO_RIGHT, "side_slope": 0.05},
            {"side_fall": Fall.LEFT_TO_RIGHT, "side_slope": 0.01},
        )
    ],
    "trouble.side": [({"trouble": (SHORT,)}, {"trouble": (LONG,)})],
    "trouble.before_green_m": [
        (
            {"trouble": (SHORT.model_copy(update={"before_green_m": 5.0}),)},
            {"trouble": (SHORT.model_copy(update={"before_green_m": 12.0}),)},
        )
    ],
    "trouble.height_m": [
        ({"trouble": (RIDGE,)}, {"trouble": (RIDGE.model_copy(update={"height_m": 0.9}),)}),
    ],
}
NO_CLASH = {"course", "number", "name", "noted", "firmness", "firmness_on", "trouble"}
"""What says which hole it is, what is of one day, and the list whose own fields are looked at."""
KIND_ALONE = {"kind", "called"}
"""Two kinds of trouble lie beside each other, and one has many names."""


def test_no_kind_of_fact_is_passed_over() -> None:
    of_trouble = {f"trouble.{name}" for name in Trouble.model_fields.keys() - KIND_ALONE}
    assert TOLD_OTHERWISE.keys() == (HoleNote.model_fields.keys() - NO_CLASH) | of_trouble


@pytest.mark.parametrize(
    ("field", "noted", "told"),
    [(field, *each) for field, pairs in TOLD_OTHERWISE.items() for each in pairs],
)
def test_what_is_told_otherwise_is_noticed_and_settled(
    field: str, noted: dict[str, object], told: dict[str, object]
) -> None:
    before, now = (HoleNote.model_validate({"number": 4} | facts) for facts in (noted, told))
    (clash,) = contradictions(before, now)
    assert clash.field == field
    assert clash.before and clash.now and clash.before != clash.now
    took = settled(before, now, "now", DAY)
    assert contradictions(took, now) == ()
    assert contradictions(took, before) != ()
    assert settled(before, now, "before", DAY) == before


@pytest.mark.parametrize(
    ("noted", "told"),
    [
        ({"depth_m": 25.0}, {"depth_m": 26.0}),
        ({"fall": Fall.AWAY}, {"side_fall": Fall.LEFT_TO_RIGHT}),
        ({"fall": Fall.AWAY, "fall_slope": 0.03}, {"fall": Fall.AWAY}),
        ({"trouble": (SHORT, LONG)}, {"trouble": (LONG,)}),
        ({"firmness": Firmness.FIRM, "firmness_on": DAY}, {"firmness": Firmness.SOFT}),
    ],
)
def test_what_may_be_together_is_not_asked_about(noted: dict[str, object], told: dict[str, object]) -> None:
    before, now = (HoleNote.model_validate({"number": 4} | facts) for facts in (noted, told))
    assert contradictions(before, now) == ()
