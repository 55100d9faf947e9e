"""Fixtures of the voice: one mouth, one pair of ears, and a machine's sound where the system has it.

Tests marked ``system_audio`` need programs and recordings that pip does not bring (see
`test_human_speech.py` and `virtual_sound.py`) or minutes of time; they fail where something is missing.
"""

import importlib.util
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from caddie.cli.spoken import training
from caddie.voice.mouth import Mouth, MouthSettings, render_at
from caddie.voice.neural_ears import NeuralEars
from caddie.voice.pocket import PocketEars
from caddie.voice.sound import Samples


def _beside(name: str) -> ModuleType:
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name(f"{name}.py"))
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)
    return sys.modules[name]


# Under pytest's importlib mode test modules cannot import what lies beside them by themselves.
golf_sentences = _beside("golf_sentences")
virtual_sound_module = _beside("virtual_sound")


@pytest.fixture(scope="session", autouse=True)
def caddie_home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A data directory of the tests' own."""
    folder = tmp_path_factory.mktemp("home")
    kept = os.environ.get("CADDIE_HOME")
    os.environ["CADDIE_HOME"] = str(folder)
    yield folder
    if kept is None:
        del os.environ["CADDIE_HOME"]
    else:
        os.environ["CADDIE_HOME"] = kept


@pytest.fixture(scope="session")
def mouth(caddie_home: Path) -> Iterator[Mouth]:
    with Mouth() as one:
        yield one


@pytest.fixture(scope="module")
def speak(caddie_home: Path) -> Iterator[Callable[[str], Samples]]:
    """A robotic voice, with a little silence around what it says."""
    with Mouth(MouthSettings(voice="en-us", words_per_minute=160)) as one:
        yield lambda text: np.pad(render_at(one, text, 16000), (3200, 6400))


@pytest.fixture(scope="session")
def sentences() -> list[str]:
    return golf_sentences.training(1500, seed=3)


@pytest.fixture(scope="session")
def course_ears(caddie_home: Path, recogniser_files: Path) -> Iterator[PocketEars]:
    """Ears taught the whole grammar, as the player's are."""
    shutil.copytree(recogniser_files / "cache", caddie_home / "cache", dirs_exist_ok=True)
    one = PocketEars(training())
    yield one
    one.close()


@pytest.fixture(scope="session")
def off_topic() -> list[str]:
    return list(golf_sentences.OFF_TOPIC)


@pytest.fixture(scope="session")
def ears(caddie_home: Path, sentences: list[str]) -> Iterator[PocketEars]:
    one = PocketEars(sentences, extra_words=["caddie"])
    yield one
    one.close()


@pytest.fixture(scope="session")
def neural(caddie_home: Path, sentences: list[str]) -> Iterator[NeuralEars]:
    one = NeuralEars(sentences, extra_words=["caddie"])
    yield one
    one.close()


@pytest.fixture
def make_virtual_sound() -> Iterator[Callable[..., Any]]:
    made: list[Any] = []

    def make(**options: int) -> Any:
        made.append(virtual_sound_module.VirtualSound(**options))
        return made[-1]

    yield make
    for one in made:
        one.close()


@pytest.fixture
def virtual_sound(make_virtual_sound: Callable[..., Any]) -> Any:
    return make_virtual_sound()
