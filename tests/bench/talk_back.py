"""How soon the caddie has heard and answers: recogniser, speech, and the whole way from ear to mouth.

Sentences of one machine voice are fed at the pace of a microphone to the loop that listens in a talk. The way ends when
the reply's first sample is given to the loudspeaker; the sound card's own delay comes on top.
"""

import os
import statistics
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from threading import Event

import numpy as np
from rows import Part, Row, Size, times_row, values_row
from speech_set import NOISES_DB, Clip, clips, in_noise, usual_ears, voices

from caddie.bag import load_bag
from caddie.cli.spoken import training
from caddie.talk.conversation import Conversation
from caddie.talk.spoken_talk import SpokenTalk
from caddie.voice.ears import Heard, Partial
from caddie.voice.end_by_meaning import FINISHED_SILENCE_S, PAUSE_S, UNFINISHED_SILENCE_S
from caddie.voice.endpoint import EndOfSpeech
from caddie.voice.handsfree import HandsFree
from caddie.voice.mouth import Mouth
from caddie.voice.neural_ears import NeuralEars
from caddie.voice.sound import BLOCK_S, SAMPLE_RATE_HZ, Samples, blocks
from caddie.words.endings import Endings

TEACH, START = "the recogniser taught for the first time", "the recogniser started, taught before"
PACE = "recognise: processor time over the sound's own"
RENDER = "speak: a reply rendered"
RENDER_PACE = "speak: rendering over the reply's own time"
ENDED = "end of speech found"
WHOLE = "last word to first sample of the reply"
STAGES = {
    WHOLE: "sounds",
    f"{WHOLE}: until a pause is seen": "pause",
    f"{WHOLE}: until its words are known": "words",
    f"{WHOLE}: until a turn with them has been tried": "tried",
    f"{WHOLE}: until speech is taken for over": "over",
}
"""Rows, and the mark of each: all are counted from the last word."""
COSTS = {
    f"{WHOLE}, where nothing else runs": "whole",
    f"{WHOLE}, processor time: the words at the pause": "words",
    f"{WHOLE}, processor time: until the first sentence is known": "begun",
    f"{WHOLE}, processor time: a turn with them": "tried",
    f"{WHOLE}, the first sentence made": "made",
    f"{WHOLE}, processor time: from the end of speech": "rest",
}
"""Rows worked out from the processor time of each step, so that a busy machine tells them too: the pause, then one step
after the other, but no sooner than the silence that ends speech. Threads count together, so it is an upper bound."""
_QUIET_BEFORE_S, _QUIET_AFTER_S = 1.2, 3.0


def measure(size: Size) -> list[Row]:
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
    ears = MarkedEars(usual_ears())
    endings = Endings(training())
    found: list[Marks] = []
    costs: list[dict[str, float]] = []
    pace, render, render_pace = [], [], []
    with Mouth() as mouth:
        mouth.render("ready")
        answered(ears, endings, mouth, said[0], 0)
        for seed, clip in enumerate(said):
            busy = time.process_time()
            marks = answered(ears, endings, mouth, clip, seed)
            pace.append((time.process_time() - busy) / (clip.samples.size / SAMPLE_RATE_HZ))
            found.append(marks)
            costs += costs_of(ears.ears, mouth, clip, seed)
            begun = time.perf_counter()
            rendered, rate_hz = mouth.render(marks.reply or "ready")
            render.append(time.perf_counter() - begun)
            render_pace.append(render[-1] / (rendered.size / rate_hz))
    ears.ears.close()
    whole = [marks for marks in found if "sounds" in marks.at_s]
    return [
        Row(TEACH, taught, "s", 1, "runs"),
        times_row(START, started, "s", "runs"),
        values_row(PACE, pace, "times", "utterances"),
        times_row(RENDER, [1e3 * each for each in render], "ms", "replies"),
        Row(RENDER_PACE, statistics.median(render_pace), "times", len(said), "replies"),
        Row(ENDED, len(whole), f"of {len(said)}", len(said), "utterances"),
        *(
            times_row(name, [marks.at_s[mark] for marks in whole if mark in marks.at_s], "s", "utterances")
            for name, mark in STAGES.items()
        ),
        *(times_row(name, [cost[step] for cost in costs], "s", "utterances") for name, step in COSTS.items()),
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


@dataclass
class Marks:
    """When what happened, after the last word [s]."""

    last_word_s: float = 0.0
    at_s: dict[str, float] = field(default_factory=dict)
    reply: str = ""

    def at(self, name: str, again: bool = False) -> None:
        """Mark now; what comes again counts at its last time where it is to."""
        if again or name not in self.at_s:
            self.at_s[name] = time.perf_counter() - self.last_word_s


class MarkedEars:
    """Ears that tell when they were told of a pause, and when they knew its words."""

    def __init__(self, ears: NeuralEars) -> None:
        self.ears = ears
        self.marks = Marks()

    def feed(self, block: Samples) -> Partial | None:
        return self.ears.feed(block)

    def expect(self, answers: Sequence[str]) -> None:
        self.ears.expect(answers)

    def expect_end(self) -> None:
        self.marks.at("pause", again=True)
        self.ears.expect_end()

    def so_far(self) -> str | None:
        words = self.ears.so_far()
        if words is not None:
            self.marks.at("words", again=True)
        return words

    def finish(self) -> Heard:
        return self.ears.finish()

    def reset(self) -> None:
        self.ears.reset()


class MarkedTalk(SpokenTalk):
    """A talk that tells when a turn has been tried."""

    marks: Marks

    def rehearse(self, words: str, opens: Callable[[str], None]) -> str:
        answer = super().rehearse(words, opens)
        self.marks.at("tried", again=True)
        return answer


class MarkedPlayer:
    """A loudspeaker that is never heard and tells when it would be."""

    playing = False

    def __init__(self, marks: Marks) -> None:
        self._marks = marks
        self.played = Event()

    def play(self, samples: Samples, rate_hz: int) -> None:
        self._marks.at("sounds")
        self.played.set()

    def stop(self) -> None: ...

    def wait(self) -> bool:
        return True

    def close(self) -> None: ...


def answered(ears: MarkedEars, endings: Endings, mouth: Mouth, clip: Clip, seed: int) -> Marks:
    """Say a clip, as a microphone hears it, to a talk that has just begun."""
    marks = ears.marks = Marks()
    talk = Conversation(load_bag())
    topic = MarkedTalk(talk, endings)
    topic.marks = marks
    mouth.loudspeaker = player = MarkedPlayer(marks)

    def reply(heard: Heard) -> str:
        marks.at("over")
        marks.reply = talk.turn(heard.text, from_speech=True).spoken
        return marks.reply

    loop = HandsFree(ears, reply, mouth, topic=topic, tones=False)
    ears.reset()
    for block in quiet():
        loop.block(block)
    rest = np.zeros(round(_QUIET_AFTER_S * SAMPLE_RATE_HZ), np.int16)
    samples = np.concatenate([in_noise(clip, NOISES_DB["clean"], seed), rest])
    begun = time.perf_counter()
    marks.last_word_s = begun + clip.over_s
    for number, block in enumerate(blocks(samples), start=1):
        time.sleep(max(0.0, begun + number * BLOCK_S - time.perf_counter()))
        loop.block(block)
        if "over" in marks.at_s:
            player.played.wait(5.0)
            break
    loop.end()
    return marks


def costs_of(ears: NeuralEars, mouth: Mouth, clip: Clip, seed: int) -> list[dict[str, float]]:
    """What each step after the last word of a clip costs, one after the other; nothing when no pause is found."""
    talk, ends = Conversation(load_bag()), EndOfSpeech(silence_s=UNFINISHED_SILENCE_S, pause_s=PAUSE_S)
    for block in quiet():
        ends.feed(block)
    ears.reset()
    for number, block in enumerate(blocks(in_noise(clip, NOISES_DB["clean"], seed)), start=1):
        stretch = ends.feed(block)
        if stretch.samples is not None:
            ears.feed(stretch.samples)
        if stretch.pausing and number * BLOCK_S > clip.over_s:
            break
    else:
        return []
    pause_s = number * BLOCK_S - clip.over_s
    begun = time.process_time()
    ears.expect_end()
    while (words := ears.so_far()) is None:
        time.sleep(0.002)
    marks = [begun, time.process_time()]
    opened: list[float] = []
    ahead = talk.rehearse(words, from_speech=True, opens=lambda _: opened.append(time.process_time()))
    marks.append(time.process_time())
    first = opened[0] - marks[1] if opened else marks[2] - marks[1]
    rendering = time.perf_counter()
    mouth.prepare(ahead.spoken if ahead else "ready")
    made = time.perf_counter() - rendering
    marks.append(time.process_time())
    talk.turn(ears.finish().text, from_speech=True)
    marks.append(time.process_time())
    heard, tried, _, rest = np.diff(marks)
    whole = (
        max(pause_s - PAUSE_S + FINISHED_SILENCE_S, pause_s + heard + first) + made + (0 if opened else rest)
    )
    return [{"whole": whole, "words": heard, "begun": first, "tried": tried, "made": made, "rest": rest}]


def quiet() -> Samples:
    """What a quiet room sounds like before somebody speaks, in blocks."""
    noise = np.random.default_rng(0).normal(0, 30, (round(_QUIET_BEFORE_S / BLOCK_S), 480))
    return noise.astype(np.int16)


PART = Part((TEACH, START, PACE, RENDER, RENDER_PACE, ENDED, *STAGES, *COSTS), measure)
