"""How well the caddie hears machine voices, clean and in white noise. People, wind and earbuds will differ.

Held-out sentences (none was sampled from the grammar that teaches the recogniser), talk off the topic and
numbers that sound alike. A situation's fields count as right when the heard words give what the said words give.
"""

from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import numpy as np
from machine import cores
from rows import Part, Row, Size, share_row
from speech_set import NOISES_DB, TEENS, TENS, Clip, clips, first_number, in_noise, usual_ears, voices

from caddie.cli.voice_trial import facts
from caddie.voice.hear import hear_samples
from caddie.voice.neural_ears import NeuralEars

SOUND_ALIKE = {**dict(zip(TEENS[3:], TENS[1:], strict=True)), **dict(zip(TENS[1:], TEENS[3:], strict=True))}
HEARD = (
    *(("neural", noise) for noise in NOISES_DB),
    *(("us", noise) for noise in NOISES_DB),
    *(("us woman", noise) for noise in NOISES_DB),
    *((voice, "clean") for voice in ("us fast", "gb", "gb woman", "scottish")),
)
"""Voice and noise of each group of rows."""
QUICK = (("us", "clean"),)
QUICK_CLIPS = 6
SHARES = {
    "first number right": ("numbers right", "sentences", "sentences"),
    "facts right": ("facts right", "facts", "facts"),
    "golf refused": ("refused", "sentences", "sentences"),
    "other talk accepted": ("accepted", "off", "sentences"),
    "sound-alike numbers right": ("alike right", "alike", "numbers"),
    "teen and ty swapped": ("swapped", "alike", "numbers"),
}
ERRORS = "word errors"


def word_errors(wanted: Sequence[str], heard: Sequence[str]) -> int:
    """Substitutions, deletions and insertions (Levenshtein distance over words)."""
    row = list(range(len(heard) + 1))
    for place, word in enumerate(wanted, start=1):
        above, row = row, [place]
        for column, other in enumerate(heard, start=1):
            row.append(min(above[column] + 1, row[-1] + 1, above[column - 1] + (word != other)))
    return row[-1]


def title(voice: str, noise: str, what: str) -> str:
    return f"{voice} voice, {noise}: {what}"


def heard_rows(voice: str, noise: str, spoken: list[Clip], ears: NeuralEars) -> list[Row]:
    """The rows of one voice in one noise."""
    count: Counter[str] = Counter()
    errors: list[tuple[int, int]] = []
    for seed, clip in enumerate(spoken):
        heard = hear_samples(in_noise(clip, NOISES_DB[noise], seed), ears)
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
        wanted, got = facts(clip.text), facts(heard.text)
        count["sentences"] += 1
        count["refused"] += not heard.accepted
        count["numbers right"] += number == first_number(clip.text)
        count["facts"] += len(wanted)
        count["facts right"] += sum(got.get(name) == value for name, value in wanted.items())
        errors.append((word_errors(clip.text.split(), heard.text.split()), len(clip.text.split())))
    rows = [error_row(title(voice, noise, ERRORS), errors)]
    for what, (part, whole, of) in SHARES.items():
        rows.append(share_row(title(voice, noise, what), count[part], count[whole], of))
    return rows


def error_row(name: str, errors: list[tuple[int, int]]) -> Row:
    """Word errors in percent of the words; inserted words can make more than 100 %, so by resampling sentences."""
    counted = np.array(errors)
    drawn = np.random.default_rng(1).integers(0, len(errors), (2000, len(errors)))
    sums = counted[drawn].sum(axis=1)
    low, high = 100 * np.quantile(sums[:, 0] / sums[:, 1], (0.025, 0.975))
    wrong, words = counted.sum(axis=0)
    return Row(name, 100 * wrong / words, "%", int(words), "words", f"95 % {low:.1f} to {high:.1f}")


def one_voice(voice: str, noises: list[str], count: int) -> list[Row]:
    """The rows of one voice; nothing when its packages are not installed."""
    for name, speak in voices([voice]):
        spoken = clips(speak, count)
        ears = usual_ears()
        rows = [row for noise in noises for row in heard_rows(name, noise, spoken, ears)]
        ears.close()
        return rows
    return []


def measure(size: Size) -> list[Row]:
    wanted: dict[str, list[str]] = {}
    for voice, noise in QUICK if size.quick else HEARD:
        wanted.setdefault(voice, []).append(noise)
    # Taught here once, so that the children find the model.
    usual_ears().close()
    with ProcessPoolExecutor(min(cores(), len(wanted)), mp_context=get_context("spawn")) as pool:
        work = [
            pool.submit(one_voice, voice, noises, _clips(voice, size)) for voice, noises in wanted.items()
        ]
        return [row for each in work for row in each.result()]


def _clips(voice: str, size: Size) -> int:
    return QUICK_CLIPS if size.quick else size.clips * (2 if voice == "neural" else 1)


PART = Part(tuple(title(voice, noise, what) for voice, noise in HEARD for what in (ERRORS, *SHARES)), measure)
