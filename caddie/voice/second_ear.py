"""PocketSphinx as a second ear, in a process of its own.

It keeps the interpreter to itself while it decodes: in this process the network would stand still meanwhile, and the
microphone would not be read. The child reads a length and mono int16 samples, and writes a line with the words.
"""

import json
import os
import struct
import subprocess
import sys
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from threading import Timer
from typing import IO
from weakref import finalize

import numpy as np

from caddie.voice.ears import HeardWord
from caddie.voice.pocket_decoders import Decoding, WholeDecoder
from caddie.voice.pocket_model import PocketModel
from caddie.voice.sound import Samples

_LENGTH = struct.Struct("<I")
_SERVE = "from caddie.voice.second_ear import serve; serve()"
_PACKAGES = Path(__file__).parents[2]
_ANSWER_WITHIN_S, _END_WITHIN_S = 20.0, 2.0


class SecondEar:
    """Decodes whole stretches beside whatever else is done."""

    def __init__(self, model: PocketModel) -> None:
        """Start the child, which is ready some tenths of a second later.

        Args:
            model: what PocketSphinx hears with.
        """
        self._files = model.acoustic, model.mixed_lm, model.mixed_dictionary
        self._here: WholeDecoder | None = None
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="second-ear")
        self._child: subprocess.Popen[bytes] | None = None
        with suppress(OSError):
            self._child = child = _started(self._files)
            # Ears that were forgotten leave no process behind.
            finalize(self, _ended, child)

    def begin(self, samples: Samples) -> "Future[Decoding]":
        """The words of mono int16 samples at 16 kHz, when they are known."""
        return self._worker.submit(self._decode, samples)

    def close(self) -> None:
        """End the child."""
        self._worker.shutdown(wait=True, cancel_futures=True)
        if self._child is not None:
            _ended(self._child)
            self._child = None

    def _decode(self, samples: Samples) -> Decoding:
        if self._child is not None:
            try:
                return _asked(self._child, samples)
            except (OSError, ValueError):
                _ended(self._child)
                self._child = None
        # Without the child the words come later, and are the same.
        if self._here is None:
            self._here = WholeDecoder(*self._files, quick=True)
        return self._here.decode(samples)


def serve() -> None:
    """The child: decode what comes in until there is no more."""
    decoder = WholeDecoder(*map(Path, sys.argv[1:]), quick=True)
    asked, answers = sys.stdin.buffer, sys.stdout
    while len(head := asked.read(_LENGTH.size)) == _LENGTH.size:
        samples = np.frombuffer(asked.read(_LENGTH.unpack(head)[0]), np.int16)
        answers.write(json.dumps(asdict(decoder.decode(samples))) + "\n")
        answers.flush()


def _started(files: tuple[Path, Path, Path]) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-P", "-c", _SERVE, *map(str, files)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(_PACKAGES)},
    )


def _asked(child: subprocess.Popen[bytes], samples: Samples) -> Decoding:
    """The child's words; an error where it has ended."""
    asked, answers = _pipes(child)
    patience = Timer(_ANSWER_WITHIN_S, child.kill)
    patience.start()
    try:
        asked.write(_LENGTH.pack(samples.nbytes) + samples.tobytes())
        asked.flush()
        told = json.loads(answers.readline())
    finally:
        patience.cancel()
    return Decoding(tuple(HeardWord(**word) for word in told["words"]), told["heard_frames"])


def _ended(child: subprocess.Popen[bytes]) -> None:
    for pipe in _pipes(child):
        with suppress(OSError):
            pipe.close()
    try:
        child.wait(_END_WITHIN_S)
    except subprocess.TimeoutExpired:
        child.kill()
        child.wait()


def _pipes(child: subprocess.Popen[bytes]) -> tuple[IO[bytes], IO[bytes]]:
    assert child.stdin is not None
    assert child.stdout is not None
    return child.stdin, child.stdout
