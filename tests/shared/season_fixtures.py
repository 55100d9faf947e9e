"""An invented season and a maker of shots; conftest files import what their folder uses."""

from datetime import UTC, datetime, timedelta

import pytest
from invented import invented_season

from caddie.bag import load_bag
from caddie.log.shot import Shot
from caddie.log.table import table_of
from caddie.situation import Finish, Lie, Result, Situation


@pytest.fixture(scope="session")
def bag():
    return load_bag()


@pytest.fixture(scope="session")
def season():
    return invented_season(24)


@pytest.fixture(scope="session")
def table(season):
    return table_of(season)


@pytest.fixture
def made():
    """Build a shot from a few words; each a minute after the one before unless told."""
    start = datetime(2026, 5, 2, 9, tzinfo=UTC)

    def build(minute=0.0, pin_m=15.0, lie=Lie.FAIRWAY, finish=Finish.GREEN, left_m=2.0, **fields):
        result = Result(
            distance_m=None if finish is Finish.HOLED else left_m,
            finish=finish,
            **fields.pop("result", {}),
        )
        return Shot(
            time=start + timedelta(minutes=minute),
            situation=Situation(pin_m=pin_m, lie=lie, **fields.pop("situation", {})),
            result=result,
            **fields,
        )

    return build
