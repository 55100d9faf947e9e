"""How soon the caddie has heard and answers: recogniser, speech, and the whole way from ear to mouth.

Sentences of one machine voice are fed at the pace of a microphone. The way ends when the reply's first sample is
ready for the loudspeaker; the sound card's own delay comes on top.
"""

import os
import statistics
import tempfile
import time
from collections.abc import Callable
from typing import Any

import numpy as np
from rows import Part, Row, Size, times_row, values_row
from speech_set import NOISES_DB, clips, in_noise, usual_ears, voices

from caddie.bag import Bag, load_bag
from caddie.cli.spoken import training
from caddie.errors import CaddieError
from caddie.talk.answer import answer
from caddie.talk.said_enough import said_enough
from caddie.talk.state import Known
from caddie.voice.end_by_meaning import PAUSE_S, UNFINISHED_SILENCE_S, EndByMeaning
from caddie.voice.endpoint import EndOfSpeech
from caddie.voice.mouth import Mouth
from caddie.voice.neural_ears import NeuralEars
from caddie.voice.sound import BLOCK_S, SAMPLE_RATE_HZ, blocks
from caddie.words.endings import Endings

TEACH, START = "the recogniser taught for the first time", "the recogniser started, taught before"
PACE = "recognise: processor time over the sound's own"
FINAL = "recognise: end of speech to final words"
RENDER = "speak: a reply rendered"
RENDER_PACE = "speak: rendering over the reply's own time"
ENDED = "end of speech found"
WHOLE = "last word to first sample of the reply"
STAGES = {
    WHOLE: "whole",
    f"{WHOLE}: the silence that ends speech": "silence",
    f"{WHOLE}: listening behind the microphone": "lag",
    f"{WHOLE}: words and plan": "answer",
}


def measure(size: Size) -> list[Row]:
    bag = load_bag()
    taught = teach_s()
    usual_ears().close()
    started = []
    for _ in range(size.take(5, 1)):
        begun = time.perf_counter()
        ears = usual_ears()
        started.append(time.perf_counter() - begun)
        ears.close()
    (_, speak), *_ = voices(["us"])
    said = [clip for clip in clips(speak, size.take(20, 3)) if clip.kind == "held out"]
    kept: dict[str, list[float]] = {
        name: [] for name in ("pace", "final", "render", "render pace", *STAGES.values())
    }
    ears, endings = usual_ears(), Endings(training())

    def whole(words: str) -> bool:
        return said_enough(words, Known(), bag.player, endings)

    with Mouth() as mouth:
        mouth.render("ready")
        reply_to(said[0].text, bag)
        for seed, clip in enumerate(said):
            samples = in_noise(clip, NOISES_DB["clean"], seed)
            busy = time.process_time()
            ended = feed_in_real_time(ears, samples, whole)
            marks = [time.perf_counter()]
            heard = ears.finish()
            marks.append(time.perf_counter())
            kept["pace"].append((time.process_time() - busy) / (samples.size / SAMPLE_RATE_HZ))
            reply = reply_to(heard.text, bag)
            marks.append(time.perf_counter())
            rendered, rate_hz = mouth.render(reply)
            marks.append(time.perf_counter())
            final, answered, render = np.diff(marks)
            kept["render"].append(1e3 * render)
            kept["render pace"].append(render / (rendered.size / rate_hz))
            if ended is not None:
                now_s, sound_s = ended
                kept["final"].append(1e3 * final)
                kept["silence"].append(sound_s - clip.over_s)
                kept["lag"].append(now_s - sound_s)
                kept["answer"].append(answered)
                kept["whole"].append(now_s - clip.over_s + final + answered + render)
    ears.close()
    return [
        Row(TEACH, taught, "s", 1, "runs"),
        times_row(START, started, "s", "runs"),
        values_row(PACE, kept["pace"], "times", "utterances"),
        times_row(FINAL, kept["final"], "ms", "utterances"),
        times_row(RENDER, kept["render"], "ms", "replies"),
        Row(RENDER_PACE, statistics.median(kept["render pace"]), "times", len(said), "replies"),
        Row(ENDED, len(kept["whole"]), f"of {len(said)}", len(said), "utterances"),
        *(times_row(name, kept[stage], "s", "utterances") for name, stage in STAGES.items()),
    ]


def teach_s() -> float:
    """Seconds until the recogniser is ready in a data directory where none was taught before."""
    kept = os.environ["CADDIE_HOME"]
    with tempfile.TemporaryDirectory() as empty:
        os.environ["CADDIE_HOME"] = empty
        begun = time.perf_counter()
        ears = usual_ears()
        taken = time.perf_counter() - begun
        ears.close()
    os.environ["CADDIE_HOME"] = kept
    return taken


def reply_to(text: str, bag: Bag) -> str:
    try:
        found = answer(text, bag, from_speech=True)
    except CaddieError as error:
        return str(error)
    return str((found.advice["spoken"] if found.advice else found.question) or found.note or "ready")


def feed_in_real_time(
    ears: NeuralEars, samples: Any, whole: Callable[[str], bool]
) -> tuple[float, float] | None:
    """Feed a clip as a microphone would until the end of speech is found.

    Returns when that was, and how much of the clip had been fed [s]: they differ where listening lags behind.
    """
    ends = EndOfSpeech(silence_s=UNFINISHED_SILENCE_S, pause_s=PAUSE_S)
    meaning = EndByMeaning(ears, whole)
    rng = np.random.default_rng(0)
    for _ in range(40):
        ends.feed(rng.normal(0, 30, 480).astype(np.int16))
    ears.reset()
    begun = time.perf_counter()
    for number, block in enumerate(blocks(samples), start=1):
        time.sleep(max(0.0, begun + number * BLOCK_S - time.perf_counter()))
        stretch = ends.feed(block)
        if stretch.samples is not None:
            ears.feed(stretch.samples)
        if stretch.pausing:
            ears.expect_end()
            meaning.paused()
        if stretch.ended or (ends.in_speech and meaning.is_over(ends.silent_s)):
            return time.perf_counter() - begun, number * BLOCK_S
    return None


PART = Part((TEACH, START, PACE, FINAL, RENDER, RENDER_PACE, ENDED, *STAGES), measure)
