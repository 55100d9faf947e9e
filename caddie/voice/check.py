"""What works of the voice on this machine, and what to do about what does not."""

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from caddie.errors import CaddieError
from caddie.voice.choose_ears import choose_recogniser
from caddie.voice.choose_mouth import choose_mouth, natural_is_installed
from caddie.voice.devices import READ_INSTEAD
from caddie.voice.ears import Heard, Recogniser
from caddie.voice.hear import hear_samples
from caddie.voice.loudspeaker import Loudspeaker
from caddie.voice.microphone import Microphone
from caddie.voice.mouth import Mouth, MouthSettings, render_at
from caddie.voice.own_voice import OwnVoice
from caddie.voice.sound import BLOCK_S, SAMPLE_RATE_HZ, level_dbfs, start_tone

LISTEN_S = 2.0
DEAF_DBFS = -85.0
LOUD_ROOM_DBFS = -25.0


@dataclass(frozen=True)
class Finding:
    """One thing tried."""

    subject: str
    """"recogniser", "speech", "understanding", "loudspeaker" or "microphone"."""
    works: bool
    what: str
    """What was found."""
    advice: str = ""
    """What to do about it; empty if nothing."""


def check_voice(
    sentences: Sequence[str],
    model_dir: str | Path | None = None,
    engine: str | None = None,
    microphone: str | None = None,
    loudspeaker: str | None = None,
    settings: MouthSettings | None = None,
    further: Sequence[str] = (),
    tell: Callable[[str], None] | None = None,
    own: OwnVoice | None = None,
) -> list[Finding]:
    """Try recogniser, speech, loudspeaker and microphone in turn.

    Args:
        sentences: what the recogniser should expect; the first one is spoken to it.
        model_dir: folder of a Vosk model.
        engine: recogniser to insist on.
        microphone: part of its name.
        loudspeaker: part of its name.
        settings: speed, voice and volume of the speech.
        further: more of what to expect, for an ear that learns from more.
        tell: called before each trial with a line for the screen.
        own: what a trial with the player's own voice found.

    Returns:
        A finding each; later trials are made whether or not earlier ones worked.
    """
    say = tell or (lambda _line: None)
    findings = []
    say("starting the recogniser (the first time it learns its words, which takes some seconds)")
    ears, finding = _try_recogniser(sentences, model_dir, engine, further, own)
    findings.append(finding)
    with choose_mouth(settings) as mouth:
        say("speaking a sentence to it")
        findings += _try_speech(mouth, ears, sentences)
    say("playing a tone: you should hear it")
    findings.append(_try_loudspeaker(loudspeaker))
    say(f"listening for {LISTEN_S:.0f} seconds: say something")
    findings.append(_try_microphone(microphone))
    return findings


def _try_recogniser(
    sentences: Sequence[str],
    model_dir: str | Path | None,
    engine: str | None,
    further: Sequence[str],
    own: OwnVoice | None,
) -> tuple[Recogniser | None, Finding]:
    begun = time.monotonic()
    try:
        chosen = choose_recogniser(sentences, model_dir, engine, further=further, own=own)
    except CaddieError as error:
        return None, Finding("recogniser", False, str(error), "type the situations until it is repaired")
    name = type(chosen.recogniser).__name__.removesuffix("Ears")
    ready = f"{name} ({chosen.why}) is ready after {time.monotonic() - begun:.1f} s"
    return chosen.recogniser, Finding("recogniser", True, ready, chosen.lacking or "")


def _try_speech(mouth: Mouth, ears: Recogniser | None, sentences: Sequence[str]) -> list[Finding]:
    sentence = next((text for text in sentences if text.strip()), "ready")
    try:
        samples = render_at(mouth, sentence, SAMPLE_RATE_HZ)
    except CaddieError as error:
        return [Finding("speech", False, str(error), f"pip install espeakng-loader, or {READ_INSTEAD}")]
    voice = "the natural voice" if mouth.has_preferred else "the usual voice"
    why = "" if mouth.has_preferred else f", {_why_usual(mouth)}"
    made = f"{voice} made a sentence of {samples.size / SAMPLE_RATE_HZ:.1f} s{why}"
    found = [Finding("speech", True, made)]
    if ears is None:
        return found
    begun = time.monotonic()
    heard: Heard = hear_samples(samples, ears)
    spent = (time.monotonic() - begun) / max(samples.size / SAMPLE_RATE_HZ, BLOCK_S)
    pace = f"said {sentence!r}, heard {heard.text!r}, {spent:.2f} of the sentence's own time"
    if spent > 0.8:
        return [*found, Finding("understanding", False, pace, "the machine is too slow or busy for talk")]
    wanted = set(sentence.split())
    shared = len(wanted & set(heard.text.split())) / len(wanted)
    advice = (
        "" if shared >= 0.5 else "a robotic voice is hard to understand; try your own with `caddie voice try`"
    )
    return [*found, Finding("understanding", shared >= 0.5, pace, advice)]


def _why_usual(mouth: Mouth) -> str:
    if not natural_is_installed():
        return "as the natural one is not installed"
    return "asked for by name" if mouth.settings.voice else "as the natural one does not start"


def _try_loudspeaker(name: str | None) -> Finding:
    try:
        with Loudspeaker(name) as loudspeaker:
            loudspeaker.play(start_tone(), SAMPLE_RATE_HZ)
            loudspeaker.wait()
    except CaddieError as error:
        return Finding("loudspeaker", False, str(error), READ_INSTEAD)
    return Finding("loudspeaker", True, f"played a tone on {name or 'the usual device'}")


def _try_microphone(name: str | None) -> Finding:
    levels: list[float] = []
    try:
        with Microphone(name) as source:
            while len(levels) * BLOCK_S < LISTEN_S:
                block = source.read()
                if block is None:
                    break
                levels.append(level_dbfs(block))
    except CaddieError as error:
        return Finding("microphone", False, str(error), "type instead, or name another one with --microphone")
    levels.sort()
    floor, peak = levels[len(levels) // 5], levels[-1]
    what = f"{name or 'the usual device'}: {floor:.0f} dB in the quiet, {peak:.0f} dB at the loudest"
    if peak < DEAF_DBFS:
        return Finding(
            "microphone", False, what, "it sends silence: switch it on, or allow this program to listen"
        )
    if floor > LOUD_ROOM_DBFS:
        return Finding(
            "microphone", False, what, "the noise is as loud as talk: turn it down or shield it from wind"
        )
    return Finding("microphone", True, what)
