"""A recording heard by the same ears as the microphone."""

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import numpy as np

from caddie.errors import CaddieError
from caddie.voice.ears import Heard, Recogniser
from caddie.voice.endpoint import EndOfSpeech
from caddie.voice.sound import BLOCK_S, BLOCK_SAMPLES, SAMPLE_RATE_HZ, Samples, blocks, pieces_of

SILENCE_KEPT_S = 5.0
"""Silence farther than this from speech and from the ends of a recording is not listened to [s]."""

_LEAD_S = 0.2


def hear_file(
    path: str | Path,
    recogniser: Recogniser,
    most_characters: int | None = None,
    follow: Callable[[float], None] | None = None,
) -> Heard:
    """What was said in a sound file of any rate, mono or stereo.

    Args:
        path: the file.
        recogniser: the ears.
        most_characters: where the words of an utterance become too many, so that the rest is not waited for.
        follow: called with how much has been listened to [s].

    Raises:
        CaddieError: if the file is no sound, or more than ``most_characters`` are said in it.
    """
    count = 0

    def followed() -> Iterator[Samples]:
        nonlocal count
        for piece in pieces_of(path):
            yield piece
            count += piece.size
            if follow:
                follow(count / SAMPLE_RATE_HZ)

    heard = _hear(followed(), recogniser, most_characters)
    if heard is None:
        raise CaddieError(
            f"{path}: over {most_characters} characters are said in its first {count / SAMPLE_RATE_HZ:.0f} s, "
            "too many for one situation: cut it shorter"
        )
    return heard


def hear_samples(samples: Samples, recogniser: Recogniser) -> Heard:
    """What was said in mono int16 samples at 16 kHz, taken as one utterance."""
    heard = _hear([samples], recogniser, None)
    assert heard is not None
    return heard


def _hear(pieces: Iterable[Samples], recogniser: Recogniser, most_characters: int | None) -> Heard | None:
    """What was said in pieces of sound, or None as soon as it is more than ``most_characters``."""
    recogniser.reset()
    for block in _without_long_silence(_joined_in_blocks(pieces)):
        so_far = recogniser.feed(block)
        if so_far and most_characters is not None and len(so_far.text) > most_characters:
            recogniser.reset()
            return None
    return recogniser.finish()


def _joined_in_blocks(pieces: Iterable[Samples]) -> Iterator[Samples]:
    """The pieces in even blocks, with a little silence before and after them."""
    lead = np.zeros(int(_LEAD_S * SAMPLE_RATE_HZ), np.int16)
    left = lead
    for piece in pieces:
        joined = np.concatenate([left, piece])
        even = joined.size // BLOCK_SAMPLES * BLOCK_SAMPLES
        yield from blocks(joined[:even])
        left = joined[even:]
    yield from blocks(np.concatenate([left, lead]))


def _without_long_silence(sound: Iterable[Samples]) -> Iterator[Samples]:
    """The blocks, of each silence only those within ``SILENCE_KEPT_S`` of speech or of an end."""
    most = round(SILENCE_KEPT_S / BLOCK_S)
    ends = EndOfSpeech()
    waiting: deque[Samples] = deque(maxlen=most)
    silent = 0
    for block in sound:
        ends.feed(block)
        if ends.in_speech:
            yield from waiting
            waiting.clear()
            silent = 0
            yield block
        elif silent < most:
            silent += 1
            yield block
        else:
            waiting.append(block)
    yield from waiting
