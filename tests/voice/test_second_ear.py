"""The second ear hears in its own process what the same decoder hears in this one, and nobody waits when it is gone."""

import os
import signal
import time
from collections.abc import Callable, Iterator

import pytest

from caddie.voice.pocket import PocketEars
from caddie.voice.pocket_decoders import WholeDecoder
from caddie.voice.second_ear import SecondEar
from caddie.voice.sound import Samples

SAID = "seventy yards from the fairway", "fifty six"


@pytest.fixture
def second(ears: PocketEars) -> Iterator[SecondEar]:
    one = SecondEar(ears.model)
    yield one
    one.close()


@pytest.fixture(scope="session")
def here(ears: PocketEars) -> WholeDecoder:
    return WholeDecoder(ears.model.acoustic, ears.model.mixed_lm, ears.model.mixed_dictionary, quick=True)


def test_it_hears_what_is_heard_here(
    second: SecondEar, here: WholeDecoder, speak: Callable[[str], Samples]
) -> None:
    heard = [second.begin(speak(text)) for text in SAID]
    assert [one.result().text for one in heard] == [here.decode(speak(text)).text for text in SAID]


def test_this_process_goes_on_while_it_hears(second: SecondEar, speak: Callable[[str], Samples]) -> None:
    said = speak(SAID[0])
    second.begin(said).result()
    used = time.process_time()
    heard = [second.begin(said) for _ in range(5)]
    assert len({one.result().text for one in heard}) == 1
    assert time.process_time() - used < 0.2, "the work is done elsewhere"


@pytest.mark.skipif(os.name == "nt", reason="signals are POSIX's")
def test_without_its_process_it_hears_the_same(
    second: SecondEar, here: WholeDecoder, speak: Callable[[str], Samples]
) -> None:
    child = second._child
    assert child is not None
    os.kill(child.pid, signal.SIGKILL)
    for text in SAID:
        assert second.begin(speak(text)).result().text == here.decode(speak(text)).text


def test_it_ends_with_the_ears(ears: PocketEars) -> None:
    one = SecondEar(ears.model)
    child = one._child
    assert child is not None
    one.close()
    assert child.poll() is not None
