"""The conversation spoken: hands-free with an address word or push-to-talk, partial words on the screen."""

import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from threading import Event, Thread
from typing import TYPE_CHECKING

import typer

from caddie.cli.spoken import ears, training, usual_rate
from caddie.errors import CaddieError

if TYPE_CHECKING:
    from pathlib import Path

    from caddie.talk.conversation import Conversation
    from caddie.talk.state import Turn
    from caddie.voice.ears import Heard
    from caddie.voice.handsfree import Key, State
    from caddie.voice.mouth import Mouth, MouthSettings

NOT_CAUGHT = "Say that again: the distance and the lie."
CLEAR_LINE = "\r\x1b[K"


@dataclass(frozen=True)
class Aloud:
    """How the talk is heard and spoken."""

    settings: "MouthSettings"
    address_word: str | None
    push: bool
    quiet: bool
    model_dir: "Path | None"
    engine: str | None
    microphone: str | None
    loudspeaker: str | None


def talk_aloud(conversation: "Conversation", how: Aloud, show: Callable[["Turn"], None]) -> None:
    """Listen and answer until the player ends the talk or presses Ctrl-C.

    Raises:
        CaddieError: when there is no microphone or no recogniser to begin with.
    """
    from caddie.talk.spoken_talk import SpokenTalk
    from caddie.talk.which_number import Doubt
    from caddie.voice.handsfree import Key, listen
    from caddie.voice.microphone import Microphone
    from caddie.words.endings import Endings

    ended = Event()
    recogniser = ears(how.model_dir, how.engine, how.address_word)
    key = Key() if how.push else None

    mouth = None if how.quiet else _mouth(how)
    began_at = usual_rate(conversation.desk.notebook)

    topic = SpokenTalk(conversation, Endings(training()))

    def on_heard(heard: "Heard") -> str | None:
        taken = topic.taken(heard.text, heard.rivals) if heard.accepted else heard.text
        if isinstance(taken, Doubt):
            typer.echo(f"{CLEAR_LINE}{taken.question}")
            return taken.question
        reply = _reply(conversation, replace(heard, text=taken), how, show, ended)
        rate = usual_rate(conversation.desk.notebook)
        if mouth is not None and rate is not None and rate != began_at:
            mouth.settings = replace(how.settings, words_per_minute=rate)
        return reply

    if key is not None:
        Thread(target=_follow_key, args=(key, ended), daemon=True).start()
    typer.echo(_how_to_talk(how), err=True)
    try:
        listen(
            Microphone(how.microphone),
            recogniser,
            on_heard,
            mouth,
            address_word=how.address_word,
            on_partial=lambda words: typer.echo(f"{CLEAR_LINE}... {words}", nl=False, err=True),
            on_state=_show_state,
            key=key,
            stop=ended,
            topic=topic,
        )
    finally:
        if mouth is not None:
            mouth.close()


def _reply(
    conversation: "Conversation", heard: "Heard", how: Aloud, show: Callable[["Turn"], None], ended: Event
) -> str | None:
    """The spoken reply to an utterance; talk that is not for the caddie gets none."""
    if not heard.accepted:
        meant = how.push or how.address_word is not None
        return NOT_CAUGHT if meant and heard.text else None
    turn = conversation.turn(heard.text, from_speech=True)
    typer.echo(CLEAR_LINE, nl=False, err=True)
    show(turn)
    if turn.over:
        ended.set()
    return turn.spoken


def _mouth(how: Aloud) -> "Mouth":
    from caddie.voice.choose_mouth import choose_mouth
    from caddie.voice.loudspeaker import Loudspeaker

    mouth = choose_mouth(how.settings, Loudspeaker(how.loudspeaker))
    Thread(target=_get_ready, args=(mouth,), daemon=True).start()
    return mouth


def _get_ready(mouth: "Mouth") -> None:
    """Start the speech engine while nobody speaks; a machine without one is told at the first reply."""
    with suppress(CaddieError):
        mouth.get_ready()


def _follow_key(key: "Key", ended: Event) -> None:
    """Enter begins to listen, Enter again ends it."""
    for _ in sys.stdin:
        if ended.is_set():
            return
        if key.held.is_set():
            key.release()
        else:
            key.press()


def _how_to_talk(how: Aloud) -> str:
    if how.push:
        return "Press Enter to talk, Enter again when done. Ctrl-C ends it. Keep one ear free."
    if how.address_word:
        return f'Begin with "{how.address_word}". Ctrl-C ends it. Keep one ear free.'
    return "Listening to everything. Ctrl-C ends it. Keep one ear free."


def _show_state(state: "State") -> None:
    typer.echo(f"{CLEAR_LINE}[{state.value}]", nl=False, err=True)
