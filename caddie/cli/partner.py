"""A partner for hands-free practice: says a line, then hears one utterance."""

import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from threading import Event
from typing import TYPE_CHECKING, Annotated, Any

import typer

from caddie.cli.spoken import answers_only

if TYPE_CHECKING:
    from caddie.voice.ears import Heard, Recogniser
    from caddie.voice.mouth import Mouth

HandsFree = Annotated[bool, typer.Option("--voice", help="Spoken, hands-free.")]
KEEP_ONE_EAR_FREE = (
    "Speak after each call; if no answer comes, say it again. Ctrl-C ends it. "
    "Keep one ear free and look that nobody is in range."
)


class Partner:
    """Microphone, recogniser and mouth of a practice session; half duplex, so it never hears itself."""

    def __init__(
        self,
        recogniser: "Recogniser",
        mouth: "Mouth",
        microphone: str | None = None,
        understood: Callable[[str], bool] | None = None,
    ) -> None:
        self._recogniser = recogniser
        self._mouth = mouth
        self._microphone = microphone
        self._understood = understood or (lambda _: True)

    def say(self, line: str) -> None:
        """Speak a line to its end."""
        self._mouth.say(line)

    def hear(self) -> str | None:
        """The next utterance that is about the practice; None when the player ends it with Ctrl-C.

        Raises:
            CaddieError: when there is no microphone to begin with.
        """
        from caddie.voice.handsfree import listen
        from caddie.voice.microphone import Microphone

        ended = Event()
        said: list[str] = []

        def on_heard(heard: "Heard") -> None:
            if heard.accepted and self._understood(heard.text):
                said.append(heard.text)
                ended.set()

        try:
            listen(Microphone(self._microphone), self._recogniser, on_heard, None, stop=ended)
        except KeyboardInterrupt:
            return None
        return said[0] if said else None

    def close(self) -> None:
        """Let the speech engine go."""
        self._mouth.close()


def partner(
    sentences: Sequence[str],
    microphone: str | None,
    loudspeaker: str | None,
    understood: Callable[[str], bool] | None = None,
) -> Partner:
    """A partner whose ears expect ``sentences``; talk that is not ``understood`` is passed over.

    Raises:
        CaddieError: when no recogniser, loudspeaker or speech engine can be started.
    """
    from caddie.voice.choose_mouth import choose_mouth
    from caddie.voice.loudspeaker import Loudspeaker

    ears = answers_only(sentences)
    typer.echo(KEEP_ONE_EAR_FREE, err=True)
    return Partner(ears, choose_mouth(loudspeaker=Loudspeaker(loudspeaker)), microphone, understood)


@dataclass(frozen=True)
class Exchange:
    """Lines out and answers in: on the screen and keyboard, or spoken and heard with a partner."""

    as_json: bool
    partner: Partner | None = None

    def say(self, found: dict[str, Any], line: str) -> None:
        """Show a line, or its object, and speak it when there is a partner."""
        self.show(found, line)
        if self.partner is not None:
            self.partner.say(line)

    def show(self, found: dict[str, Any], line: str) -> None:
        """Show a line, or its object, that is for the eye alone: sources, files."""
        typer.echo(json.dumps(found, ensure_ascii=False) if self.as_json else line)

    def hear(self) -> str | None:
        """The next answer, or None at the end."""
        if self.partner is not None:
            heard = self.partner.hear()
            if heard is not None and not self.as_json:
                typer.echo(f"> {heard}")
            return heard
        return next((line.strip() for line in sys.stdin if line.strip()), None)

    def close(self) -> None:
        """Let the partner go."""
        if self.partner is not None:
            self.partner.close()


def exchange(
    as_json: bool,
    voice: bool,
    microphone: str | None,
    loudspeaker: str | None,
    answers: Callable[[], Sequence[str]],
    nothing_else: bool = False,
) -> Exchange:
    """The exchange of a rehearsal, a drill or a game, spoken when ``voice`` is set; it expects ``answers``.

    With ``nothing_else`` an utterance that is not one of them, word for word, is passed over: with so few to
    listen for, other talk is easily heard as several of them.

    Raises:
        CaddieError: as :func:`partner`.
    """
    if not voice:
        return Exchange(as_json)
    expected = answers()
    understood = frozenset(expected).__contains__ if nothing_else else None
    return Exchange(as_json, partner(expected, microphone, loudspeaker, understood))
