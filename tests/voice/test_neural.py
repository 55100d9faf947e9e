"""The neural ear's parts: its files, tokens, language and search, and what happens when something is missing."""

import hashlib
import shutil
from collections.abc import Callable, Sequence
from pathlib import Path
from threading import Event
from typing import Any, cast

import numpy as np
import pytest
from num2words import num2words

from caddie.errors import CaddieError
from caddie.voice.choose_ears import choose_recogniser
from caddie.voice.ears import HeardWord
from caddie.voice.hear import hear_samples
from caddie.voice.language_model import END, TrigramModel
from caddie.voice.mouth import Mouth, MouthSettings, render_at
from caddie.voice.neural import files
from caddie.voice.neural.judge import Candidate, Judge, is_sure, with_other
from caddie.voice.neural.kept import language_of
from caddie.voice.neural.network import Network, log_chances
from caddie.voice.neural.ngrams import WordModel, Words
from caddie.voice.neural.search import Search
from caddie.voice.neural.writing import writings
from caddie.voice.neural_ears import NeuralEars
from caddie.voice.pocket import PocketEars
from caddie.voice.sound import Samples

FEW = ["fifty yards in the rough", "fifteen yards in the sand", "what about the sand wedge", "fifty feet"]


@pytest.fixture(scope="module")
def network() -> Network:
    return Network(files.network_files())


def test_chances_are_those_of_the_other_model_of_the_same_method() -> None:
    """`TrigramModel` is Witten-Bell too, and is checked on its own; this one adds half a word to each count of
    single words, which at 4,000 of each changes little."""
    model, other = WordModel.of(FEW * 4000), TrigramModel(FEW * 4000)
    for history in (("<s>",), ("<s>", "fifty"), ("yards", "in"), ("in", "the")):
        wanted = [other.probability((*history[-2:], word)) for word in model.words]
        assert model.after(history) == pytest.approx(wanted, abs=2e-4)


def test_chances_sum_to_one_after_any_words() -> None:
    model = WordModel.of(FEW)
    for history in (
        (),
        ("<s>",),
        ("never", "heard"),
        ("fifty", "yards", "in"),
        ("a", "the", "sand", "wedge"),
    ):
        assert model.after(history).sum() == pytest.approx(1)
        assert (model.after(history) > 0).all()


def test_a_beginning_is_as_likely_as_all_words_that_begin_so(caddie_home: Path) -> None:
    language = language_of(FEW)
    both = np.logaddexp(language.word("fifty", ()), language.word("fifteen", ()))
    assert language.beginning("fif", ()) == pytest.approx(both, abs=0.01)
    assert language.beginning("fi", ()) >= language.beginning("fif", ()) > language.beginning("fifx", ())


def test_what_is_kept_is_what_was_worked_out(caddie_home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = language_of(FEW)
    monkeypatch.setattr(WordModel, "of", None)
    again = language_of(FEW)
    for said in (["fifty", "feet"], ["nothing", "of", "the", "kind"]):
        assert again.sentence(said) == first.sentence(said)
        assert again.ratio(said) == first.ratio(said)


@pytest.mark.parametrize("damage", [b"", b"nothing", None])
def test_a_damaged_file_is_made_anew(
    caddie_home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, damage: bytes | None
) -> None:
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path))
    said = ["fifty", "yards"]
    wanted = language_of(FEW).sentence(said)
    (kept,) = (tmp_path / "cache").glob("language-*.npz")
    whole = kept.read_bytes()
    kept.write_bytes(
        whole[: len(whole) // 2] + b"?" + whole[len(whole) // 2 + 1 :] if damage is None else damage
    )
    assert language_of(FEW).sentence(said) == wanted
    assert kept.read_bytes() == whole


def test_a_text_survives_its_tokens(network: Network) -> None:
    for text in ("Seventy yards to the flag.", "What about the sand wedge?", "gorse, x-ray", "é"):
        assert network.tokens.text(network.tokens.split(f" {text}")) == text


def test_digits_and_control_marks_are_never_said(network: Network) -> None:
    said = [network.tokens.letters[number] for number in network.tokens.split(" 56 yards")]
    assert None in said
    assert network.tokens.letters[0] is network.tokens.letters[1] is network.tokens.letters[2] is None
    assert not any(letter.isdigit() for letters in network.tokens.letters for letter in letters or "")


def test_chances_of_tokens_step_by_step_are_those_of_all_at_once(
    network: Network, speak: Callable[[str], Samples]
) -> None:
    """Alike, not equal: its weights are of eight bits, scaled by what is fed together."""
    features = network.encode(speak("fifty yards"))
    tokens = network.tokens.split(" Fifty yards.")
    chances, memory = heard = network.begin(features)
    found = []
    for token in tokens:
        found.append(float(chances[0, token]))
        chances, memory = network.go_on([token], memory)
    assert network.chances_of(heard[1], tokens)[:-1] == pytest.approx(np.array(found), abs=0.05)
    assert np.exp(log_chances(np.array([[1.0, 2.0]]))).sum() == pytest.approx(1)


def test_what_was_asked_makes_its_answers_likelier(caddie_home: Path) -> None:
    usual = language_of(FEW)
    asked = usual.expecting(["ninety", "ninety yards", "nineteen"])
    assert asked.word("ninety", ()) > usual.word("ninety", ()) + 3
    assert asked.beginning("nine", ()) > asked.word("ninety", ())
    assert -3 < asked.sentence(FEW[0].split()) - usual.sentence(FEW[0].split()) < 0, "all else keeps a share"


@pytest.mark.parametrize("kind", ["clicks", "silence"])
def test_noise_is_no_talk(neural: NeuralEars, kind: str) -> None:
    """Wind, hiss and hum: `test_wind.py`."""
    rng = np.random.default_rng(5)
    count = 16000 * 3
    clicks = (rng.random(count) > 0.9995) * 20000.0 + rng.normal(0, 30, count)
    heard = hear_samples({"clicks": clicks, "silence": np.zeros(count)}[kind].astype(np.int16), neural)
    assert not heard.accepted, heard


def test_other_talk_is_not_taken(
    neural: NeuralEars, speak: Callable[[str], Samples], off_topic: list[str]
) -> None:
    heard = [hear_samples(speak(text), neural) for text in off_topic[:8]]
    assert not any(one.accepted for one in heard), heard
    assert {one.reason for one in heard} == {"off the topic"}


def test_long_talk_is_taken_in_pieces(neural: NeuralEars, speak: Callable[[str], Samples]) -> None:
    said = ["fifty six yards in the rough", "twenty yards from the bunker", "what about the sand wedge"] * 4
    clip = np.concatenate([speak(text) for text in said])
    assert clip.size > 20 * 16000
    heard = hear_samples(clip, neural)
    assert heard.text.count("yards") >= 6
    assert heard.text.count("wedge") >= 3
    starts = [word.start_s for word in heard.words]
    assert starts == sorted(starts)
    assert clip.size / 16000 - 4 < starts[-1] < clip.size / 16000


class TestWithoutItsFiles:
    """PocketSphinx listens, and one line says why."""

    @pytest.fixture
    def copied(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
        """The network's files where a test may damage them, in a package that cannot be imported."""
        package = tmp_path / files.PACKAGE
        folder = package / "assets" / "tiny-en"
        shutil.copytree(files.network_files(), folder)
        (package / "__init__.py").write_text("raise ImportError('it is never imported')")
        monkeypatch.syspath_prepend(str(tmp_path))
        return folder

    def test_they_are_found_without_an_import(self, copied: Path) -> None:
        assert files.network_files() == copied

    def test_no_package(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(files, "PACKAGE", "no_such_package")
        self._refused("not installed: pip install onnxruntime")

    def test_a_damaged_file(self, copied: Path) -> None:
        with open(copied / files.TOKENS, "r+b") as file:
            file.write(b"?")
        self._refused("tokenizer.bin is damaged")

    def test_a_missing_file(self, copied: Path) -> None:
        (copied / files.DECODER).unlink()
        self._refused("decoder_model_merged.ort cannot be read")

    def _refused(self, why: str) -> None:
        with pytest.raises(CaddieError, match=why):
            choose_recogniser(FEW, engine="neural")
        chosen = choose_recogniser(FEW)
        assert isinstance(chosen.recogniser, PocketEars)
        assert chosen.lacking is not None
        assert why in chosen.lacking
        assert "\n" not in chosen.lacking


def test_digests_are_of_the_files_installed() -> None:
    folder = files.network_files()
    for name, digest in files.DIGESTS.items():
        assert hashlib.sha256((folder / name).read_bytes()).hexdigest() == digest


def test_a_word_of_ones_own_needs_no_code(caddie_home: Path) -> None:
    """Not even a pronunciation: the network spells."""
    language = language_of([*FEW, "bramblecott corner"])
    assert language.word("bramblecott", ()) > language_of(FEW).word("bramblecott", ()) + 5
    assert END in WordModel.of(["bramblecott"]).words


@pytest.mark.parametrize("number", [*range(1, 130), 205, 999])
def test_numbers_are_scored_as_figures_too(number: int) -> None:
    """num2words 0.5 says the number."""
    said = num2words(number).replace("-", " ").split()
    assert writings((*said, "yards"))[-1] == f" {number} yards."


def test_several_texts_scored_together_are_scored_as_each_alone(
    network: Network, speak: Callable[[str], Samples]
) -> None:
    """Alike, not equal: its weights are of eight bits, scaled by what is fed together."""
    _, memory = network.begin(network.encode(speak("fifty yards")))
    rows = [network.tokens.split(text) for text in (" Fifty yards.", " 15 yards in the sand.", " 50.")]
    for tokens, (told, ends) in zip(rows, network.chances_of_each(memory, rows), strict=True):
        alone = network.chances_of(memory, tokens)
        assert np.append(told, ends[-1]) == pytest.approx(alone, abs=0.5)
        assert ends.size == len(tokens) + 1


def test_hypotheses_followed_together_have_the_chances_of_each_alone(
    network: Network, speak: Callable[[str], Samples]
) -> None:
    """The sound is kept once for all of them. Alike, not equal: see above."""
    _, memory = network.begin(network.encode(speak("fifty yards")))
    firsts = [network.tokens.split(f" {word}")[0] for word in ("Fifty", "Sixty", "The")]
    together, both = network.go_on(firsts, memory.keep([0, 0, 0]))
    for row, token in enumerate(firsts):
        alone, _ = network.go_on([token], memory)
        likely = alone[0] > alone[0].max() - 3
        assert together[row][likely] == pytest.approx(alone[0][likely], abs=0.5)
    assert both.keep([2, 0]).of_tokens[0].shape[0] == 2
    assert both.of_sound[0].shape[0] == 1


def test_a_search_that_is_given_up_asks_the_network_no_more(
    network: Network, speak: Callable[[str], Samples], caddie_home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun = network.begin(network.encode(speak("fifty yards")))
    monkeypatch.setattr(network, "go_on", None)
    given_up = Event()
    given_up.set()
    assert Search(network, 16).best(*begun, language_of(FEW), given_up) == []


def test_what_a_pause_inside_began_is_given_up_when_the_next_one_comes(
    neural: NeuralEars, speak: Callable[[str], Samples], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The last words must not wait for those of a pause before them."""
    asked: list[Event] = []
    usual = Search.best

    def best(self: Search, *args: Any) -> Any:
        asked.append(args[-1])
        if len(asked) == 1:
            assert args[-1].wait(20), "never given up"
        return usual(self, *args)

    monkeypatch.setattr(Search, "best", best)
    neural.reset()
    neural.feed(speak("fifty yards in the rough"))
    neural.expect_end()
    neural.feed(speak("bunker short"))
    neural.expect_end()
    heard = neural.finish()
    assert [event.is_set() for event in asked] == [True, True], "the second once its words were taken"
    assert "rough" in heard.text and "bunker" in heard.text


def test_short_answers_are_taken_when_they_are_expected(
    neural: NeuralEars, speak: Callable[[str], Samples]
) -> None:
    """Of five numbers said alone no more than one may be lost; a robot says them."""
    numbers = ["sixty three", "eighteen", "forty", "seventy two", "ninety"]
    neural.expect([num2words(number).replace("-", " ") for number in range(5, 130)])
    try:
        heard = [hear_samples(speak(number), neural) for number in numbers]
    finally:
        neural.expect(())
    right = [one.accepted and one.text == number for one, number in zip(heard, numbers, strict=True)]
    assert sum(right) >= 4, heard
    assert all(one.text not in one.rivals for one in heard)


def test_a_whole_sentence_in_a_strange_voice_is_not_taken_for_silence(
    neural: NeuralEars, caddie_home: Path
) -> None:
    """The network knows its sounds, though not to say anything has a better chance."""
    with Mouth(MouthSettings(voice="en-gb", words_per_minute=165)) as mouth:
        said = render_at(mouth, "fifty yards buried lie in the bunker short sided to a back pin", 16000)
    rng = np.random.default_rng(6)
    padded = np.pad(said, (6400, 16000)) + rng.normal(0, 30, said.size + 22400)
    heard = hear_samples(padded.astype(np.int16), neural)
    assert len(heard.words) > 6, heard


class _Scores:
    """A judge that knows the score of each text, for what is put together from two ears."""

    def __init__(self, scores: dict[str, float]) -> None:
        self._scores = scores

    def scored(self, several: Sequence[Words]) -> list[Candidate]:
        return [
            Candidate(words, self._scores.get(" ".join(words), -50.0), -0.5, np.zeros(0)) for words in several
        ]


@pytest.mark.parametrize(
    ("confidence", "taken"), [(0.9, "fifteen yards in the sand"), (0.2, "fifty yards in the sand")]
)
def test_one_word_of_the_other_ear_wins_when_that_ear_is_sure_of_it(confidence: float, taken: str) -> None:
    own = [Candidate(tuple("fifty yards in the sand".split()), -3.0, -0.5, np.zeros(0))]
    other = [
        HeardWord(word, 0.0, 0.0, confidence if word == "fifteen" else 0.1)
        for word in "fifteen yards in the hand".split()
    ]
    judge = cast(Judge, _Scores({"fifteen yards in the sand": -6.0}))
    assert " ".join(with_other(judge, own, other)[0].words) == taken


def test_numbers_that_another_ear_hears_otherwise_are_not_sure() -> None:
    candidates = [Candidate(("fifty", "yards", "in", "the", "sand"), -3.0, -0.1, np.zeros(0))]
    assert is_sure(candidates, ("fifty", "yards", "and", "the", "hand"))
    assert not is_sure(candidates, ("fifteen", "yards", "in", "the", "sand"))
