"""A few kills of each command that keeps something; many: ``CADDIE_KILLS=200`` or ``tests/shared/kills.py``."""

import os

import pytest
from kills import RUNS, Killed, kill, made_home

from caddie.bag.file import load_bag, save_bag

KILLS = int(os.environ.get("CADDIE_KILLS", "2"))
MANY = max(KILLS, 20)
"""Kills of each command where rare things are tried."""


@pytest.mark.parametrize("command", RUNS)
def test_a_kill_loses_nothing_acknowledged_and_leaves_nothing_half_written(command, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", "restored at the end")
    came = kill(command, KILLS, seed=1)
    assert came.kills == KILLS
    assert not came.lost
    assert not came.half


@pytest.mark.rare
@pytest.mark.parametrize("command", RUNS)
def test_many_kills_lose_nothing_acknowledged_and_leave_nothing_half_written(command, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", "restored at the end")
    came = kill(command, MANY, seed=7)
    assert came.acknowledged
    assert not came.lost
    assert not came.half


def test_what_is_lost_is_seen(tmp_path, monkeypatch):
    """The harness itself: told of more than is there, it says so."""
    home = made_home(tmp_path, "teach")
    monkeypatch.setenv("CADDIE_HOME", str(home))
    for command, said in (
        ("talk", 'begun\n{"logged": true}\n' * 2000),
        ("notes", 'begun\n{"spoken": "Noted, hole four: twenty-four yards deep."}\n'),
        ("range", "> thin.\n"),
        ("import", "Kept"),
        ("fit", "Written: "),
        ("teach", "taught."),
    ):
        so_far = Killed(command)
        RUNS[command][2](home, said, so_far)
        assert so_far.lost, command
    save_bag(load_bag().model_copy(update={"trust": {}}), home / "bag.toml")
    so_far = Killed("teach")
    RUNS["teach"][2](home, "", so_far)
    assert so_far.half
