"""Sentences read aloud by the player, taken down from the microphone to be heard by each ear."""

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np

from caddie.errors import CaddieError
from caddie.keeping import make_folder, refused, write_new
from caddie.voice.devices import DeviceLostError
from caddie.voice.endpoint import EndOfSpeech
from caddie.voice.microphone import Source
from caddie.voice.sound import BLOCK_S, SAMPLE_RATE_HZ, Samples, read_sound, wav

PATIENCE_S = 20.0
"""A sentence that nobody begins within so long is passed over [s]."""


def take_down(
    source: Source, sentences: Sequence[str], show: Callable[[int, str], None], patience_s: float = PATIENCE_S
) -> list[Samples | None]:
    """What the player says to each sentence shown; None for one that was passed over.

    Ctrl-C, a microphone that goes and the end of the source end it early: the list is then shorter than the sentences.

    Args:
        source: an open microphone.
        sentences: what to read, in order.
        show: called with the place and the sentence before each.
        patience_s: how long the player may take to begin [s].
    """
    ends = EndOfSpeech()
    taken: list[Samples | None] = []
    try:
        for place, sentence in enumerate(sentences):
            show(place, sentence)
            heard, over = _utterance(source, ends, patience_s)
            if over:
                break
            taken.append(heard)
    except (KeyboardInterrupt, DeviceLostError):
        # What was read until then is not lost.
        pass
    return taken


def _utterance(source: Source, ends: EndOfSpeech, patience_s: float) -> tuple[Samples | None, bool]:
    """One utterance, or None when none began in time; and whether the source is at its end."""
    said: list[Samples] = []
    waited_s = 0.0
    ends.reset()
    while ends.in_speech or waited_s < patience_s:
        block = source.read()
        if block is None:
            return (np.concatenate(said), False) if said else (None, True)
        waited_s += BLOCK_S
        stretch = ends.feed(block)
        if stretch.samples is not None:
            said.append(stretch.samples)
        if stretch.ended:
            return np.concatenate(said), False
    return None, False


def keep_recordings(folder: Path, recordings: Sequence[Samples | None]) -> None:
    """Write each recording as a WAV file named by its number.

    Raises:
        CaddieError: if the folder holds something already, or cannot be written.
    """
    empty_folder(folder)
    for place, samples in enumerate(recordings):
        if samples is not None:
            write_new(recording_file(folder, place), wav(samples, SAMPLE_RATE_HZ))


def empty_folder(folder: Path) -> None:
    """Make a folder for recordings, or find that it is empty.

    Raises:
        CaddieError: if something is in it, or it cannot be made.
    """
    try:
        make_folder(folder)
        filled = any(folder.iterdir())
    except OSError as error:
        raise CaddieError(refused(folder, "cannot be made", error)) from error
    if filled:
        raise CaddieError(f"{folder}: is not empty; name a new folder for the recordings")


def kept_recordings(folder: Path, count: int) -> list[Samples | None]:
    """The recordings of a folder by number; None for one that is not there.

    Raises:
        CaddieError: if none is there, or one is no sound.
    """
    places = [recording_file(folder, place) for place in range(count)]
    found = [read_sound(path) if path.exists() else None for path in places]
    if all(samples is None for samples in found):
        raise CaddieError(f"{folder}: holds no recording such as {places[0].name}")
    return found


def recording_file(folder: Path, place: int) -> Path:
    """The file of the recording of the sentence at this place, counted from 0."""
    return folder / f"{place + 1:02d}.wav"
