"""Shots with the hole they were played on: kept together, gone together."""

import pytest

from caddie.log.holes import OnHole, add_on_hole, shots_on
from caddie.log.shot import Shot
from caddie.log.store import Log

DELL, PULPIT = OnHole("Marram Links", 4), OnHole("Marram Links", 3)


def shot(sentence: str, player: str = "Ash") -> Shot:
    return Shot(sentence=sentence, player=player)


def test_the_shots_of_a_hole_are_found_by_player_and_course(log):
    for place, said in ((DELL, "a"), (PULPIT, "b"), (DELL, "c"), (None, "d"), (OnHole("home", 4), "e")):
        add_on_hole(log, shot(said), place)
    add_on_hole(log, shot("f", "Bryn"), DELL)
    assert [each.sentence for each in shots_on(log, "Ash", DELL)] == ["a", "c"]
    assert log.count() == 6


def test_a_shot_taken_out_leaves_no_hole_behind(log):
    number = add_on_hole(log, shot("a"), DELL)
    add_on_hole(log, shot("b"), DELL)
    assert log.remove(number)
    assert [each.sentence for each in shots_on(log, "Ash", DELL)] == ["b"]
    assert log.damaged() == ([], [])


def test_what_is_forgotten_is_in_no_table(log):
    add_on_hole(log, shot("a"), DELL)
    log.forget("Ash")
    assert log.damaged() == ([], [])
    assert log.rows("SELECT count(*) FROM holes") == [(0,)]
    assert b"Marram" not in log.path.read_bytes()


def test_a_hole_that_cannot_be_kept_keeps_no_shot(log, monkeypatch):
    keep = Log.keep

    def failing(self, table, fields):
        if table == "holes":
            raise OSError(28, "No space left on device")
        return keep(self, table, fields)

    monkeypatch.setattr(Log, "keep", failing)
    with pytest.raises(Exception, match="No space left"):
        add_on_hole(log, shot("a"), DELL)
    assert log.shots() == []
