"""A recording heard by the same ears as the microphone."""

from pathlib import Path

import numpy as np

from caddie.voice.ears import Heard, Recogniser
from caddie.voice.sound import SAMPLE_RATE_HZ, Samples, blocks, read_sound

_LEAD_S = 0.2


def hear_file(path: str | Path, recogniser: Recogniser) -> Heard:
    """What was said in a sound file of any rate, mono or stereo.

    Raises:
        CaddieError: if the file is no sound.
    """
    return hear_samples(read_sound(path), recogniser)


def hear_samples(samples: Samples, recogniser: Recogniser) -> Heard:
    """What was said in mono int16 samples at 16 kHz, taken as one utterance."""
    recogniser.reset()
    lead = np.zeros(int(_LEAD_S * SAMPLE_RATE_HZ), np.int16)
    for block in blocks(np.concatenate([lead, samples, lead])):
        recogniser.feed(block)
    return recogniser.finish()
