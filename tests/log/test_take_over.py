"""Shots logged with the demo bag become the player's own, and nothing else of them changes."""

import pytest
from invented import invented_season
from typer.testing import CliRunner

from caddie.bag import load_bag
from caddie.bag.file import own_bag, save_bag
from caddie.cli.log import app
from caddie.errors import CaddieError
from caddie.log.store import Log
from caddie.log.take_over import take_over

DEMO = load_bag().player.name


@pytest.fixture
def kept(home):
    with Log() as log:
        shots = invented_season(1)
        log.add_all([shot.model_copy(update={"player": DEMO}) for shot in shots])
        log.add(shots[0].model_copy(update={"player": "Bo"}))
        return log.path


def of_ash():
    demo = load_bag()
    save_bag(demo.model_copy(update={"player": demo.player.model_copy(update={"name": "Ash"})}), own_bag())


def test_numbers_times_and_words_stay_and_only_the_name_changes(kept):
    with Log(kept) as log:
        before = log.entries()
        count = take_over(log, DEMO, "Ash")
        after = log.entries()
        assert count == len(before) - 1
        assert log.damaged() == ([], [])
    renamed = [
        entry.shot.model_copy(update={"player": "Ash"}) if entry.shot.player == DEMO else entry.shot
        for entry in before
    ]
    assert [entry.id for entry in after] == [entry.id for entry in before]
    assert [entry.shot for entry in after] == renamed


def test_a_damaged_row_is_not_sealed_anew(kept):
    with Log(kept) as log:
        log.connection.execute("UPDATE shots SET sentence = 'changed' WHERE id = 2")
        with pytest.raises(CaddieError, match="number 2"):
            take_over(log, DEMO, "Ash")
        assert log.players() == [DEMO, "Bo"]


def test_the_command_asks_and_tells(kept):
    refused = CliRunner().invoke(app, ["take-over", "--yes"])
    assert isinstance(refused.exception, CaddieError)
    of_ash()
    assert "Left as they are" in CliRunner().invoke(app, ["take-over"], input="n\n").output
    taught = CliRunner().invoke(app, ["teach"])
    assert "caddie log take-over" in taught.output
    assert "are Ash's now" in CliRunner().invoke(app, ["take-over", "--yes"]).output
    with Log(kept, read_only=True) as log:
        assert log.players() == ["Ash", "Bo"]
    assert "no shots" in CliRunner().invoke(app, ["take-over", "--yes"]).output
