"""How well the caddie hears and how soon it answers: a plain script, ``python tests/bench/speech.py``.

Speaks held-out sentences (none was sampled from the grammar the recogniser is taught with), talk off the
topic and numbers that sound alike with one neural and six robotic voices, clean and in white noise, and
prints for each: word error rate; first number right; situation fields right of those the sentence holds;
teen/ty swaps; golf talk refused and other talk accepted; processor time over the sound's own time. Then
latency: end of the last word to the first sample of the reply handed to the loudspeaker, blocks fed at the
pace of a microphone. Every voice is a machine: people, wind and earbuds will differ.

    python tests/bench/speech.py [--clips 60] [--voices neural us] [--noises clean "20 dB"] [--latency 20]
"""

import argparse
import statistics
import time
from collections import Counter
from collections.abc import Sequence
from typing import Any

import numpy as np
from speech_set import NOISES_DB, SPEAK, TEENS, TENS, Clip, clips, first_number, in_noise, voices

from caddie.bag import Bag, load_bag
from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.talk.answer import answer
from caddie.voice.endpoint import EndOfSpeech
from caddie.voice.hear import hear_samples
from caddie.voice.mouth import Mouth
from caddie.voice.pocket import PocketEars
from caddie.voice.sound import BLOCK_S, blocks
from caddie.words import sentences, understand

SENTENCES = 20_000
SOUND_ALIKE = {**dict(zip(TEENS[3:], TENS[1:], strict=True)), **dict(zip(TENS[1:], TEENS[3:], strict=True))}


def word_errors(wanted: Sequence[str], heard: Sequence[str]) -> int:
    """Substitutions, deletions and insertions (Levenshtein distance over words)."""
    row = list(range(len(heard) + 1))
    for place, word in enumerate(wanted, start=1):
        above, row = row, [place]
        for column, other in enumerate(heard, start=1):
            row.append(min(above[column] + 1, row[-1] + 1, above[column - 1] + (word != other)))
    return row[-1]


def facts(text: str) -> dict[str, Any]:
    """Fields of the situation that a sentence fills."""
    found = understand(text, from_speech=True).situation
    flat: dict[str, Any] = {}
    for name, value in found.model_dump(mode="json").items():
        parts = value.items() if isinstance(value, dict) else [("", value)]
        flat |= {f"{name}.{part}": kept for part, kept in parts if kept not in (None, [], ())}
    return flat


def hear_all(ears: PocketEars, spoken: list[Clip], below_db: float) -> dict[str, str]:
    """The figures of one voice in one noise, ready to print."""
    count: Counter[str] = Counter()
    begun, sound_s = time.process_time(), 0.0
    for seed, clip in enumerate(spoken):
        samples = in_noise(clip, below_db, seed)
        sound_s += samples.size / 16_000
        heard = hear_samples(samples, ears)
        if clip.kind == "off topic":
            count["off"] += 1
            count["accepted"] += heard.accepted
            continue
        number = first_number(heard.text)
        if clip.kind == "numbers":
            count["alike"] += 1
            count["alike right"] += number == first_number(clip.text)
            count["swapped"] += number == SOUND_ALIKE[str(first_number(clip.text))]
            continue
        wanted = facts(clip.text)
        got = facts(heard.text)
        count["sentences"] += 1
        count["refused"] += not heard.accepted
        count["numbers right"] += number == first_number(clip.text)
        count["words"] += len(clip.text.split())
        count["errors"] += word_errors(clip.text.split(), heard.text.split())
        count["facts"] += len(wanted)
        count["facts right"] += sum(got.get(name) == value for name, value in wanted.items())
    pace = (time.process_time() - begun) / sound_s

    def percent(part: str, whole: str) -> str:
        return f"{100 * count[part] / max(count[whole], 1):.0f} %"

    return {
        "WER": percent("errors", "words"),
        "number": percent("numbers right", "sentences"),
        "facts": percent("facts right", "facts"),
        "alike": percent("alike right", "alike"),
        "swaps": percent("swapped", "alike"),
        "refused": percent("refused", "sentences"),
        "accepted": percent("accepted", "off"),
        "pace": f"{pace:.2f}",
    }


def latency(ears: PocketEars, speak: SPEAK, count: int) -> None:
    """Print how long after the last word the reply begins, stage by stage."""
    bag = load_bag(shipped("demo_bag/bag.toml"))
    stages: dict[str, list[float]] = {name: [] for name in ("silence", "words", "answer", "speech", "all")}
    held_out = [clip for clip in clips(speak, count) if clip.kind == "held out"]
    with Mouth() as mouth:
        mouth.render("ready")
        _reply(held_out[0].text, bag)
        for seed, clip in enumerate(held_out):
            ended_s = _feed_in_real_time(ears, in_noise(clip, NOISES_DB["clean"], seed))
            if ended_s is None:
                continue
            marks = [time.perf_counter()]
            heard = ears.finish()
            marks.append(time.perf_counter())
            reply = _reply(heard.text, bag)
            marks.append(time.perf_counter())
            mouth.render(reply)
            marks.append(time.perf_counter())
            spent = [ended_s - clip.over_s, *np.diff(marks)]
            for name, value in zip(stages, [*spent, sum(spent)], strict=True):
                stages[name].append(float(value))
    print(f"\nlast word to first sample of the reply, {len(stages['all'])} situations [s]")
    for name, values in stages.items():
        print(f"  {name:8} median {statistics.median(values):.2f}  p95 {np.percentile(values, 95):.2f}")


def _reply(text: str, bag: Bag) -> str:
    try:
        found = answer(text, bag, from_speech=True)
    except CaddieError as error:
        return str(error)
    return str((found.advice["spoken"] if found.advice else found.question) or found.note or "ready")


def _feed_in_real_time(ears: PocketEars, samples: Any) -> float | None:
    """Feed a clip as a microphone would; when the end of speech was found, in the clip's time [s]."""
    ends = EndOfSpeech()
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
        if stretch.ended:
            # A feed that lags behind the microphone counts as latency too.
            return time.perf_counter() - begun
    return None


def main() -> None:
    """Print the table and the latency."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--clips", type=int, default=60, help="sentences of each kind")
    options.add_argument("--voices", nargs="*", help="names of voices")
    options.add_argument("--noises", nargs="*", default=list(NOISES_DB), choices=list(NOISES_DB))
    options.add_argument("--latency", type=int, default=20, help="situations to time; 0 for none")
    chosen = options.parse_args()
    ears = PocketEars(sentences(SENTENCES, seed=0))
    print(f"{len(set(sentences(SENTENCES, seed=0)))} sentences taught; synthetic voices only")
    print(f"{'voice':10}{'noise':8}", end="")
    header = ("WER", "number", "facts", "alike", "swaps", "refused", "accepted", "pace")
    print("".join(f"{name:>10}" for name in header))
    first: SPEAK | None = None
    for name, speak in voices(chosen.voices):
        first = first or speak
        spoken = clips(speak, chosen.clips)
        for noise in chosen.noises:
            figures = hear_all(ears, spoken, NOISES_DB[noise])
            row = "".join(f"{figures[column]:>10}" for column in header)
            print(f"{name:10}{noise:8}{row}", flush=True)
        if first is speak and chosen.latency:
            latency(ears, speak, chosen.latency)
    ears.close()


if __name__ == "__main__":
    main()
