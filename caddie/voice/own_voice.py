"""What a trial with the player's own voice found, kept for the next talk: which ear, and how readily it takes talk."""

from itertools import pairwise
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from caddie.errors import CaddieError
from caddie.keeping import guarded, read_bytes, write_atomically
from caddie.places import home

MOST_LENIENT = 1.0
"""How far a trial may move what talk must pass, either way [nat]: a few sentences are not enough for more."""

_MOST_BYTES = 10_000


class OwnVoice(BaseModel):
    """How this player is best listened to."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    version: Literal[1] = 1
    ear: Literal["neural", "pocketsphinx", "vosk"]
    """The ear that understood most."""
    leniency: Annotated[float, Field(ge=-MOST_LENIENT, le=MOST_LENIENT)] = 0.0
    """How much less talk must pass to be taken for talk on the topic [nat]."""


def own_voice_file() -> Path:
    """Where it is kept."""
    return home() / "voice.json"


def own_voice() -> OwnVoice | None:
    """What was kept; None when nothing was.

    Raises:
        CaddieError: if it cannot be read.
    """
    path = own_voice_file()
    if not path.exists():
        return None
    try:
        return OwnVoice.model_validate_json(read_bytes(guarded(path), _MOST_BYTES))
    except ValidationError as error:
        raise CaddieError(
            f"{path}: is damaged, so the usual ear listens: run `caddie voice try` again"
        ) from error


def keep_own_voice(found: OwnVoice) -> None:
    """Keep it for the next talk.

    Raises:
        CaddieError: if it cannot be written.
    """
    write_atomically(own_voice_file(), found.model_dump_json(indent=1) + "\n", new_folder=True)


def forget_own_voice() -> bool:
    """Take it away; whether there was one.

    Raises:
        CaddieError: if it cannot be taken away.
    """
    path = guarded(own_voice_file())
    try:
        path.unlink()
    except FileNotFoundError:
        return False
    except OSError as error:
        raise CaddieError(f"{path}: cannot be taken away ({error.strerror})") from error
    return True


def best_leniency(on_topic: list[float], off_topic: list[float]) -> float:
    """How much less talk must pass so that the fewest of these are judged wrongly; of equals the smallest change.

    Args:
        on_topic: margins of talk that is to be taken [nat].
        off_topic: margins of talk that is not.

    >>> best_leniency([2.0, 0.4, -0.2], [-1.0, -3.0]), best_leniency([1.0], [-1.0])
    (0.6, 0.0)
    """
    places = sorted([*on_topic, *off_topic])
    between = [(low + high) / 2 for low, high in pairwise(places)]
    tried = [0.0, MOST_LENIENT, *(-place for place in between if abs(place) <= MOST_LENIENT)]

    def wrong(leniency: float) -> int:
        refused = sum(margin + leniency < 0 for margin in on_topic)
        return refused + sum(margin + leniency >= 0 for margin in off_topic)

    return min(tried, key=lambda leniency: (wrong(leniency), abs(leniency)))
