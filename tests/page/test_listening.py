"""The microphone's socket: who may talk, what is heard, and a socket that drops in mid-sentence."""

import json
import time

import numpy as np
import pytest
from page_fixtures import SELF, SOCKET
from starlette.websockets import WebSocketDisconnect

from caddie.errors import CaddieError
from caddie.page.limits import LARGEST_SOUND_BYTES
from caddie.voice.end_by_meaning import PAUSE_S, UNFINISHED_SILENCE_S
from caddie.voice.sound import BLOCK_S, BLOCK_SAMPLES

SOUND = np.zeros(4 * BLOCK_SAMPLES, np.int16).tobytes()
QUIET = np.random.default_rng(0).normal(0, 5, BLOCK_SAMPLES).astype(np.int16)
LONGEST_SILENCE = round(UNFINISHED_SILENCE_S / BLOCK_S)
VOWEL = (np.arange(40 * BLOCK_SAMPLES) % 130 / 130 * 12000 - 6000).astype(np.int16)
TALK = [*[QUIET] * 20, *VOWEL.reshape(-1, BLOCK_SAMPLES), *[QUIET] * (round(PAUSE_S / BLOCK_S) + 4)]
"""Silence, a vowel and a pause."""


def until(true):
    """Wait for what happens on another thread."""
    patience = time.monotonic() + 30
    while not true() and time.monotonic() < patience:
        time.sleep(0.01)
    return true()


def connected(browser):
    return browser.client.websocket_connect(SOCKET, headers={"origin": SELF})


def hello(browser, socket, **more):
    socket.send_text(json.dumps({"token": browser.keys.token, "hands_free": False, **more}))
    heard(socket, "state", "waiting")


def heard(socket, name, value=None):
    """The next object with this name (and value); sound between is passed over."""
    for _ in range(100):
        message = socket.receive()
        if message["type"] == "websocket.close":
            raise WebSocketDisconnect(message["code"])
        if message.get("text") is None:
            continue
        said = json.loads(message["text"])
        if name in said and value in (None, said[name]):
            return said[name]
    raise AssertionError(f"no {name} came")


def spoken(socket):
    socket.send_text(json.dumps({"press": True}))
    socket.send_bytes(SOUND)
    socket.send_text(json.dumps({"release": True}))


def test_what_is_said_is_answered_and_spoken(browser, ears, mouth):
    with connected(browser) as socket:
        hello(browser, socket)
        spoken(socket)
        assert heard(socket, "partial") == "seventy"
        turn = heard(socket, "talk")["turns"][-1]
        number = heard(socket, "sound")
        sound = socket.receive()["bytes"]
        assert sound.startswith(b"RIFF")
        socket.send_text(json.dumps({"played": number}))
    assert turn["heard"] == ears.next
    assert " ".join(mouth.said) == turn["spoken"]
    assert browser.get("/api/talk").json()["turns"][-1]["heard"] == ears.next


def test_talking_cuts_the_reply_off(browser):
    with connected(browser) as socket:
        hello(browser, socket)
        spoken(socket)
        heard(socket, "sound")
        socket.send_text(json.dumps({"press": True}))
        assert heard(socket, "hush") is True


def test_what_was_not_caught_is_asked_for_again_and_not_acted_on(browser, ears, mouth):
    ears.accepted = False
    with connected(browser) as socket:
        hello(browser, socket)
        spoken(socket)
        heard(socket, "sound")
    assert mouth.said == ["Say that again: the distance and the lie."]
    assert browser.get("/api/talk").json()["turns"] == []


def test_a_number_in_doubt_is_asked_for_before_anything_is_planned(browser, ears, mouth):
    ears.next, ears.rivals = "fifteen yards light rough", ("fifty yards light rough",)
    with connected(browser) as socket:
        hello(browser, socket)
        spoken(socket)
        assert heard(socket, "partial", "Fifteen or fifty?")
        assert until(lambda: {"fifteen", "fifty"} <= set(ears.expected))
        assert browser.get("/api/talk").json()["turns"] == []
        ears.next, ears.rivals = "fifty", ()
        spoken(socket)
        turn = heard(socket, "talk")["turns"][-1]
        assert until(lambda: len(mouth.said) == 3), "the reply is said after it was sent"
    assert turn["heard"] == "fifty yards light rough"
    assert " ".join(mouth.said) == f"Fifteen or fifty? {turn['spoken']}"
    assert "fifteen" not in ears.expected


def test_what_would_be_an_answer_is_expected(browser, ears):
    browser.say("i am in the light rough")
    with connected(browser) as socket:
        hello(browser, socket)
        spoken(socket)
        assert until(lambda: "fifty yards" in ears.expected)
        heard(socket, "talk")
        assert until(lambda: "fifty yards" not in ears.expected)


def test_hands_free_an_answer_is_made_in_the_pause(browser, ears, mouth):
    ears.next = "caddie seventy yards light rough bunker short"
    with connected(browser) as socket:
        hello(browser, socket, hands_free=True)
        for block in TALK:
            socket.send_bytes(block.tobytes())
        assert until(lambda: len(mouth.prepared) == 1)
        assert browser.get("/api/talk").json()["turns"] == []
        for _ in range(2 * LONGEST_SILENCE):
            socket.send_bytes(QUIET.tobytes())
        turn = heard(socket, "talk")["turns"][-1]
        assert until(lambda: len(mouth.said) == 2)
    assert turn["heard"] == "seventy yards light rough bunker short"
    assert mouth.prepared == [turn["spoken"]]
    assert mouth.said[0] == "Seventy yards, seven-zero."
    assert " ".join(mouth.said) == turn["spoken"]


def test_a_socket_that_drops_in_mid_sentence_says_nothing(browser, ears):
    with connected(browser) as socket:
        hello(browser, socket)
        socket.send_text(json.dumps({"press": True}))
        socket.send_bytes(SOUND)
        heard(socket, "partial")
    assert browser.get("/api/talk").json()["turns"] == []
    with connected(browser) as socket:
        hello(browser, socket)
        assert ears.fed == 0
        spoken(socket)
        heard(socket, "talk")


@pytest.mark.parametrize("first", [{"token": "0" * 64}, {}, [], "x"])
def test_a_socket_without_the_token_is_closed(browser, ears, first):
    with connected(browser) as socket:
        socket.send_text(json.dumps(first))
        with pytest.raises(WebSocketDisconnect):
            heard(socket, "state")
    assert ears.resets == 0


def test_a_second_tab_takes_the_microphone_over(browser):
    with connected(browser) as first:
        hello(browser, first)
        with connected(browser) as second:
            hello(browser, second)
            assert "another tab" in heard(first, "error")
            spoken(second)
            heard(second, "talk")


@pytest.mark.parametrize(
    "said", ["{", "[]", "5", json.dumps({"press": [1]}), json.dumps({"played": "x"}), "[" * 9999]
)
def test_what_is_no_word_about_sound_does_no_harm(browser, said):
    with connected(browser) as socket:
        hello(browser, socket)
        socket.send_text(said)
        socket.send_bytes(b"x")
        spoken(socket)
        heard(socket, "talk")


def test_too_much_sound_at_once_ends_the_socket(browser):
    with connected(browser) as socket:
        hello(browser, socket)
        socket.send_bytes(b"\0" * (LARGEST_SOUND_BYTES + 1))
        with pytest.raises(WebSocketDisconnect):
            heard(socket, "talk")


def test_without_ears_it_is_told_in_one_line(browser, monkeypatch, ears):
    def none(*_):
        raise CaddieError("no recogniser is here")

    monkeypatch.setattr(ears, "reset", none)
    with connected(browser) as socket:
        socket.send_text(json.dumps({"token": browser.keys.token}))
        assert heard(socket, "error") == "no recogniser is here"


def practising(browser, **wanted):
    assert browser.post("/api/practice/start", wanted).status_code == 200


def test_a_ball_is_told_of_aloud_and_the_next_is_called(browser, ears, mouth):
    practising(browser, kind="rehearsal", balls=3)
    ears.next = "six feet short"
    with connected(browser) as socket:
        hello(browser, socket, about="practice")
        spoken(socket)
        state = heard(socket, "practice")
        heard(socket, "sound")
    assert state["played"] == 1 and "Ball two of three" in mouth.said[0]
    assert browser.get("/api/talk").json()["turns"] == []


def test_a_carry_is_told_aloud(browser, ears):
    practising(browser, kind="range", balls=30, clubs=["56"], swings=["chest"])
    ears.next = "sixty five left"
    with connected(browser) as socket:
        hello(browser, socket, about="practice")
        spoken(socket)
        assert heard(socket, "practice")["line"].startswith("65, left")


def test_in_a_drill_only_its_answers_count(browser, ears, mouth):
    practising(browser, kind="drill", name="ring")
    ears.next = "in the afternoon"
    with connected(browser) as socket:
        hello(browser, socket, about="practice")
        spoken(socket)
        heard(socket, "sound")
    assert mouth.said == ["Say that again."]
    assert browser.get("/api/practice").json()["played"] == 0


def test_without_practice_there_is_nothing_to_tell_of(browser):
    with connected(browser) as socket:
        socket.send_text(json.dumps({"token": browser.keys.token, "about": "practice"}))
        assert "begin something" in heard(socket, "error")


@pytest.mark.parametrize("wanted", [{"kind": "rehearsal", "balls": 3}, {"kind": "drill", "name": "ring"},
                                    {"kind": "game", "name": "nine_spots"}])  # fmt: skip
def test_stop_ends_what_is_practised_as_in_the_terminal(browser, ears, wanted):
    practising(browser, **wanted)
    ears.next = "stop"
    with connected(browser) as socket:
        hello(browser, socket, about="practice")
        spoken(socket)
        state = heard(socket, "practice")
    assert state["over"] and state["played"] == 0
