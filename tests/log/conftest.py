from datetime import UTC, datetime

import pytest

from caddie.bag.models import Family
from caddie.log.shot import Commitment, Mode, Shot
from caddie.log.store import Log
from caddie.situation import Finish, Hazard, HazardKind, Lie, Result, Side, Situation, Strike


@pytest.fixture
def full_shot() -> Shot:
    """A shot in which every field is said."""
    return Shot(
        time=datetime(2026, 5, 3, 9, 41, 7, 123456, tzinfo=UTC),
        mode=Mode.COMPETITION,
        player="Rowan Fenwick",
        sentence="thirty yards, light rough, bunker short — “tight” pin",
        situation=Situation(
            pin_m=27.4,
            lie=Lie.LIGHT_ROUGH,
            hazards=(Hazard(kind=HazardKind.BUNKER, side=Side.SHORT, carry_m=18.0),),
        ),
        advice={"club": "56", "swing": "hip", "carry_m": 21.9, "run_m": 4.6, "leave_m": 3.9, "trusted": True},
        club="60",
        swing="chest",
        family=Family.PITCH,
        flight="high",
        result=Result(
            distance_m=2.1,
            side=(Side.LONG, Side.LEFT),
            strike=Strike.CLEAN,
            finish=Finish.GREEN,
            carry_m=22.0,
        ),
        commitment=Commitment.COMMITTED,
        cue="finish_long",
        down_in=2,
    )


@pytest.fixture
def log(tmp_path):
    with Log(tmp_path / "log.sqlite3") as log:
        yield log


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A data directory with nothing in it."""
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    return tmp_path
