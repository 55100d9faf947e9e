"""The embedded recogniser's models, built at first use and kept by their hash.

Those of the sentences to expect have a folder each; the one of general speech is the same for all.
"""

import hashlib
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from caddie import places
from caddie.errors import CaddieError
from caddie.folders import remove_folder, replace_folder, workshop
from caddie.keeping import guarded, open_private, refused
from caddie.voice import language_model, pronunciation
from caddie.voice.language_model import END, START, NGram

# Raised when the way of building changes, so that older files are not used.
_BUILD = 4

BACKGROUND_SHARE = 0.05
BACKGROUND_WORDS = 1200
GENERAL_WORDS = 1200

_LEAST_PAIR = 3e-6
_LEAST_FOLLOWER = 1e-4
_ABOVE_CHANCE = 1.5
_KEPT_BUILDS = 6


@dataclass(frozen=True)
class PocketModel:
    """The files a decoder is started from."""

    folder: Path
    acoustic: Path
    """The wheel's acoustic model."""
    strict_lm: Path
    """Trigrams of the sentences alone: what talk on the topic is measured by."""
    strict_dictionary: Path
    mixed_lm: Path
    """The same with a little general speech, which takes up the words between: what is read out."""
    mixed_dictionary: Path
    general_lm: Path
    """Common words and pairs of general speech: the background to judge against."""
    general_dictionary: Path
    domain_words: frozenset[str]
    """Words of the sentences, as against those of general speech."""
    missing_words: tuple[str, ...]
    """Words of the sentences that have no pronunciation and cannot be heard."""


def load_pocketsphinx() -> Any:
    """The recogniser's library, told to be quiet.

    Raises:
        CaddieError: if it is not installed.
    """
    try:
        import pocketsphinx
    except (ImportError, OSError) as error:
        raise CaddieError(
            "no recogniser: pocketsphinx cannot be loaded: pip install pocketsphinx, or type instead"
        ) from error
    pocketsphinx.set_loglevel("FATAL")
    return pocketsphinx


def build(
    sentences: Sequence[str],
    extra_words: Sequence[str] = (),
    on_first_use: Callable[[], None] | None = None,
) -> PocketModel:
    """Models for the sentences: from the cache when these very sentences were built before.

    Args:
        sentences: what to expect, lower-case words.
        extra_words: further words or phrases, each also likely to be said alone.
        on_first_use: called before models are built, which takes seconds.

    Raises:
        CaddieError: if there is no sentence, an extra word has no pronunciation, or the cache cannot be
            written.
    """
    pocketsphinx = load_pocketsphinx()
    if not any(sentence.strip() for sentence in sentences):
        raise CaddieError("no sentences to listen for: the recogniser needs at least one")
    shipped = Path(pocketsphinx.get_model_path("en-us"))
    dictionary = pronunciation.shipped_dictionary(str(shipped / "cmudict-en-us.dict"))
    # An extra word said alone must not be rarer than a whole family of sentences.
    often = max(1, len(sentences) // 200)
    expected = [*sentences, *(word for word in extra_words for _ in range(often))]
    missing = pronunciation.missing_words(expected, dictionary)
    unheard = [word for word in extra_words if not set(missing).isdisjoint(word.split())]
    if unheard:
        raise CaddieError(f'"{unheard[0]}": the recogniser does not know its sound: choose another word')
    lost = set(missing)
    if lost:
        expected = [text for text in expected if lost.isdisjoint(text.split())]
    if not expected:
        raise CaddieError(
            f"no sentence can be heard: these words have no pronunciation: {', '.join(missing)}"
        )
    words = frozenset(word for text in expected for word in text.split())
    cache = guarded(places.home() / "cache")
    folder = cache / f"ears-{_fingerprint(expected)}"
    general = cache / f"general-{_fingerprint(())}"
    model = PocketModel(
        folder=folder,
        acoustic=shipped / "en-us",
        strict_lm=folder / "strict.arpa",
        strict_dictionary=folder / "strict.dict",
        mixed_lm=folder / "mixed.arpa",
        mixed_dictionary=folder / "mixed.dict",
        general_lm=general / "general.arpa",
        general_dictionary=general / "general.dict",
        domain_words=words,
        missing_words=tuple(missing),
    )
    if not (folder.is_dir() and general.is_dir()):
        if on_first_use is not None:
            on_first_use()
        _write(model, expected, _General(pocketsphinx, shipped / "en-us.lm.bin"), dictionary)
    return model


def _fingerprint(sentences: Sequence[str]) -> str:
    parts = [str(_BUILD), str(BACKGROUND_SHARE), str(BACKGROUND_WORDS), str(GENERAL_WORDS)]
    return hashlib.sha256("\n".join([*parts, *sorted(sentences)]).encode()).hexdigest()[:16]


class _General:
    """Chances of general speech, from the wheel's own large language model."""

    _BASE = 1.0001

    def __init__(self, pocketsphinx: Any, path: Path) -> None:
        self._model = pocketsphinx.NGramModel(
            pocketsphinx.Config(), pocketsphinx.LogMath(self._BASE), str(path)
        )
        self._log_base = math.log(self._BASE)

    def probability(self, ngram: NGram) -> float:
        """Chance of the last word after those before."""
        return math.exp(max(self._model.prob(list(ngram[::-1])) * self._log_base, -60.0))

    def followers(self, first: str, words: Iterable[str], least: float) -> dict[str, float]:
        """Words that follow ``first`` with at least that chance; millions are asked, hence no exp."""
        ask, floor = self._model.prob, math.log(least) / self._log_base
        found = {second: score for second in words if (score := ask([second, first])) > floor}
        return {second: math.exp(score * self._log_base) for second, score in found.items()}

    def common(self, words: Sequence[str], count: int) -> dict[str, float]:
        """The likeliest words and their chances."""
        chances = sorted(
            ((self.probability((word,)), word) for word in words if word[0].isalpha()), reverse=True
        )
        return {word: chance for chance, word in chances[:count]}


def _write(
    model: PocketModel,
    sentences: Sequence[str],
    general: _General,
    dictionary: pronunciation.Pronunciations,
) -> None:
    common = general.common(list(dictionary), GENERAL_WORDS)
    if not model.folder.is_dir():
        _keep(model.folder, _sentence_files(model, sentences, common, dictionary))
    background = model.general_lm.parent
    if not background.is_dir():
        _keep(background, _general_files(model, general, common, dictionary))


def _sentence_files(
    model: PocketModel,
    sentences: Sequence[str],
    common: Mapping[str, float],
    dictionary: pronunciation.Pronunciations,
) -> dict[str, str]:
    added = dict(list(common.items())[:BACKGROUND_WORDS])
    total = sum(added.values())
    domain = language_model.TrigramModel(sentences)
    # General speech lends single words only; its pairs made British numbers worse when measured.
    mixed = language_model.mixed(
        domain, lambda ngram: added.get(ngram[-1], 0.0) / total, added, BACKGROUND_SHARE
    )
    return {
        model.strict_lm.name: language_model.arpa(language_model.mixed(domain, lambda _: 0.0, {}, 0.0)),
        model.mixed_lm.name: language_model.arpa(mixed),
        model.strict_dictionary.name: pronunciation.dictionary_file(model.domain_words, dictionary),
        model.mixed_dictionary.name: pronunciation.dictionary_file({*model.domain_words, *added}, dictionary),
    }


def _general_files(
    model: PocketModel,
    general: _General,
    common: dict[str, float],
    dictionary: pronunciation.Pronunciations,
) -> dict[str, str]:
    background = language_model.mixed(
        language_model.TrigramModel([""]), general.probability, common, 1.0, _pairs(general, common)
    )
    return {
        model.general_lm.name: language_model.arpa(background),
        model.general_dictionary.name: pronunciation.dictionary_file(common, dictionary),
    }


def _keep(folder: Path, texts: dict[str, str]) -> None:
    """The files in a folder of the cache, all of them or none."""
    cache = folder.parent
    try:
        with workshop(cache) as ready:
            if folder.is_dir():
                # Another process was quicker, and may be reading it.
                return
            for name, text in texts.items():
                with open(ready / name, "w", encoding="utf-8", opener=open_private) as file:
                    file.write(text)
            replace_folder(folder, ready)
            _forget_old_builds(cache, folder)
    except OSError as error:
        raise CaddieError(refused(cache, "the recogniser's files cannot be written", error)) from error


def _pairs(general: _General, common: dict[str, float]) -> list[NGram]:
    """Pairs of common words that occur more often than chance, and every word at either end."""
    pairs: list[NGram] = []
    for first, first_chance in common.items():
        pairs += [(START, first), (first, END)]
        least = max(_LEAST_FOLLOWER, _LEAST_PAIR / first_chance)
        pairs += [
            (first, second)
            for second, chance in general.followers(first, common, least).items()
            if chance > _ABOVE_CHANCE * common[second]
        ]
    return pairs


def _forget_old_builds(cache: Path, newest: Path) -> None:
    builds = sorted(cache.glob("ears-*"), key=lambda folder: folder.stat().st_mtime, reverse=True)
    for folder in builds[_KEPT_BUILDS:]:
        if folder != newest:
            # What caddie did not build there is not its to remove.
            with suppress(CaddieError):
                remove_folder(folder)
