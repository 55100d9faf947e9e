"""From "ready" to the swing: the picture, the cue, the count, inside forty seconds (Rule 5.6b)."""

from typing import Any

import pytest

from caddie.talk.routine import COUNT

SECONDS_A_WORD, LOOK_SECONDS, SECONDS_A_COUNT = 0.45, 8.0, 1.0
"""Unhurried speech, one look along the line, and the count (common practice, no source)."""

SHOTS = (
    "seventy yards, fairway, flag in the middle",
    "ten yards, fringe",
    "forty yards, heavy rough, bunker short",
    "twenty foot putt, uphill, left to right",
    "a hundred and five yards, fairway",
    "fifteen yards, bunker",
)


@pytest.mark.parametrize("shot", SHOTS)
def test_picture_cue_and_count(start: Any, shot: str) -> None:
    conversation = start()
    cue = conversation.turn(shot).advice["cue"]
    turn = conversation.turn("ready")
    assert turn.spoken.startswith(("See it", cue[:5]))
    assert turn.spoken.endswith(f"{cue} One. Two. Three.")
    assert "5.6b" in turn.written
    words = len(turn.spoken.replace("-", " ").split()) - len(COUNT)
    assert words * SECONDS_A_WORD + LOOK_SECONDS + len(COUNT) * SECONDS_A_COUNT < 40


def test_ready_after_the_shot_does_not_start_it_again(start: Any) -> None:
    conversation = start()
    conversation.turn(SHOTS[0])
    conversation.turn("finished eight feet past")
    assert "See it" not in conversation.turn("ready").spoken
