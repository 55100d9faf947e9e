"""What becomes of what is heard: a turn of the talk, or a word about the ball that is practised."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from caddie.errors import CaddieError
from caddie.page.at_hand import at_hand
from caddie.page.service import Service
from caddie.talk.spoken_talk import SpokenTalk
from caddie.talk.which_number import Doubt
from caddie.voice.ears import Heard, Recogniser
from caddie.voice.mouth import Mouth
from caddie.voice.topic import Topic
from caddie.words.endings import Endings

ADDRESSED_BY = "caddie"
"""What hands-free talk begins with; in practice every word is about the ball, as on the terminal."""
SAY_AGAIN = "Say that again: the distance and the lie."
SAY_BALL_AGAIN = "Say that again."
Send = Callable[[dict[str, Any]], None]


@dataclass(frozen=True)
class Sound:
    """Ears and mouth, made where their options are known."""

    ears: Callable[[str | None], Recogniser]
    """Ears for talk that begins with this word, or for any."""
    answers: Callable[[Sequence[str]], Recogniser]
    """Ears for these answers."""
    mouth: Callable[[], Mouth]
    """A mouth without a loudspeaker."""
    endings: Callable[[], Endings]
    """Where something said may end."""


class Hearing(NamedTuple):
    """What is listened for, and what answers it."""

    ears_key: str
    """Under which its ears are kept: the same is heard with the same ears."""
    make_ears: Callable[[], Recogniser]
    address: str | None
    answer: Callable[[Heard], str | None]
    """The reply to be spoken, or None."""
    topic: Topic | None = None
    """What the ears are told of the talk."""


class TopicOfTalk:
    """The page's talk for the ears, asked on the thread of the service, where every turn is taken."""

    def __init__(self, service: Service, talk: SpokenTalk) -> None:
        """Nothing has been heard yet."""
        self._service, self._talk = service, talk

    def expected(self) -> Sequence[str]:
        """What would answer the question that is open."""
        return self._service.now(lambda _: self._talk.expected())

    def said_enough(self, words: str) -> bool:
        """Whether nothing more need come after these words."""
        return self._service.now(lambda _: self._talk.said_enough(words))

    def certain(self, words: str, rivals: Sequence[str]) -> bool:
        """Whether these words are answered as they are; told without waiting for what is worked out on that thread."""
        return self._talk.certain(words, rivals)

    def rehearse(self, words: str, opens: Callable[[str], None]) -> str:
        """What would be said to these words, and before that with what it begins."""
        return self._service.now(lambda _: self._talk.rehearse(words, opens))


def of_talk(service: Service, sound: Sound, hands_free: bool, send: Send) -> Hearing:
    """Every utterance is a turn of the talk, after the one question where a number that matters may be another."""
    address = ADDRESSED_BY if hands_free else None
    endings = sound.endings()
    talk = service.now(lambda views: views.talk.spoken(endings))

    def answer(heard: Heard) -> str | None:
        if not heard.accepted:
            return SAY_AGAIN if heard.text else None
        taken = talk.taken(heard.text, heard.rivals)
        if isinstance(taken, Doubt):
            send({"partial": taken.question})
            return taken.question
        try:
            state = service.now(lambda views: views.talk.say("", taken, from_speech=True))
        except CaddieError as error:
            send({"error": at_hand(str(error))})
            return None
        send({"talk": state})
        return str(state["turns"][-1]["spoken"])

    topic = TopicOfTalk(service, talk)
    return Hearing(f"talk {address}", lambda: sound.ears(address), address, answer, topic)


def of_practice(service: Service, sound: Sound, hands_free: bool, send: Send) -> Hearing:
    """Every utterance tells of the ball that is played now; the reply calls the next.

    Raises:
        CaddieError: if nothing is practised.
    """
    expected = service.now(lambda views: views.practice.expected())

    def answer(heard: Heard) -> str | None:
        meant = not expected.nothing_else or heard.text in expected.sentences
        if not heard.accepted or not meant:
            # Hands-free, what is no answer is other people's talk.
            return SAY_BALL_AGAIN if heard.text and not hands_free else None
        try:
            state = service.now(lambda views: views.practice.tell(views.bag.bag(), "", heard.text))
        except CaddieError as error:
            send({"error": at_hand(str(error))})
            return None
        send({"practice": state, "heard": heard.text})
        return f"{state['line']} {state['prompt']}".strip()

    return Hearing(expected.about, lambda: sound.answers(expected.sentences), None, answer)
