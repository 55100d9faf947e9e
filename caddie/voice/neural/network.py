"""The neural network run with onnxruntime: an encoder of sound, and a decoder that says what token comes next."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from caddie.errors import CaddieError
from caddie.voice.neural.files import DECODER, ENCODER, TOKENS
from caddie.voice.neural.tokens import BEGIN_TOKEN, END_TOKEN, Tokens
from caddie.voice.sound import FULL_SCALE, Samples

Array = NDArray[Any]

_LAYERS, _HEADS, _HEAD_SIZE = 6, 8, 36
_SIDES = [(layer, side) for layer in range(_LAYERS) for side in ("key", "value")]
_SOURCES = ("decoder", "encoder")


@dataclass(frozen=True)
class Memory:
    """What the decoder remembers: the sound, and of each hypothesis its tokens.

    The sound is kept in one row that all hypotheses share, which the decoder takes for as many as are asked about: to
    hand it a copy for each took a third of the time of a step.
    """

    features: Array
    """The encoder's view of the sound, shape (1, steps, width)."""
    of_sound: list[Array]
    """Keys and values of the sound by layer, shape (1, heads, steps, head size)."""
    of_tokens: list[Array]
    """Keys and values of the tokens so far by layer, shape (hypotheses, heads, tokens, head size)."""

    def keep(self, rows: list[int]) -> "Memory":
        """That of some hypotheses, in this order."""
        return replace(self, of_tokens=[side[rows] for side in self.of_tokens])


class Network:
    """Encoder and decoder, each in one thread: a second one gained nothing when measured."""

    def __init__(self, folder: Path) -> None:
        """Load the files.

        Raises:
            CaddieError: if onnxruntime is missing or cannot load them.
        """
        try:
            import onnxruntime
        except (ImportError, OSError) as error:
            raise CaddieError(
                "onnxruntime, which runs the neural ear, cannot be loaded: pip install onnxruntime"
            ) from error
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = options.inter_op_num_threads = 1
        # An arena grows to the longest sound and stays; without it the same speed was measured, and 20 MB less.
        options.enable_cpu_mem_arena = False
        options.log_severity_level = 4
        options.add_session_config_entry("session.intra_op.allow_spinning", "0")
        try:
            self._encoder, self._decoder = (
                onnxruntime.InferenceSession(str(folder / name), options, providers=["CPUExecutionProvider"])
                for name in (ENCODER, DECODER)
            )
        except Exception as error:
            # onnxruntime's own errors share no base class that it promises to keep.
            raise CaddieError(f"{folder}: onnxruntime cannot load the neural ear") from error
        self.tokens = Tokens(folder / TOKENS)

    def encode(self, samples: Samples) -> Array:
        """The network's view of mono int16 sound at 16 kHz, shape (1, steps, width)."""
        sound = (samples.astype(np.float32) / FULL_SCALE)[None]
        fed = {"input_values": sound, "attention_mask": np.ones(sound.shape, np.int64)}
        features: Array = self._encoder.run(["last_hidden_state"], fed)[0]
        return features

    def begin(self, features: Array) -> tuple[Array, Memory]:
        """Log chances of the first token, shape (1, tokens), and the memory to go on from."""
        nothing = np.zeros((1, _HEADS, 0, _HEAD_SIZE), np.float32)
        fed = self._fed(np.array([[BEGIN_TOKEN]], np.int64), features, begun=False)
        fed |= {_past(layer, source, side): nothing for layer, side in _SIDES for source in _SOURCES}
        wanted = [_present(layer, source, side) for source in _SOURCES for layer, side in _SIDES]
        scores, *kept = self._decoder.run(["logits", *wanted], fed)
        return log_chances(scores[:, -1]), Memory(features, kept[len(_SIDES) :], kept[: len(_SIDES)])

    def go_on(self, tokens: list[int], memory: Memory) -> tuple[Array, Memory]:
        """Log chances of what follows when each hypothesis takes its token, shape (hypotheses, tokens)."""
        wanted = ["logits", *(_present(layer, "decoder", side) for layer, side in _SIDES)]
        scores, *of_tokens = self._decoder.run(
            wanted, self._after(np.array(tokens, np.int64)[:, None], memory)
        )
        return log_chances(scores[:, -1]), replace(memory, of_tokens=of_tokens)

    def chances_of(self, memory: Memory, tokens: list[int]) -> Array:
        """Log chance of each of these tokens and of the end after them, shape (tokens + 1,)."""
        told, ends = self.chances_of_each(memory, [tokens])[0]
        chances: Array = np.append(told, ends[-1])
        return chances

    def chances_of_each(self, memory: Memory, rows: Sequence[list[int]]) -> list[tuple[Array, Array]]:
        """Of each row of tokens, said from the beginning, the log chance of each, and that of the end before each and
        after the last.

        Args:
            memory: of the sound; which tokens it has makes no difference.

        Returns:
            Shapes (tokens,) and (tokens + 1,) a row.
        """
        longest = max(map(len, rows))
        fed = np.full((len(rows), longest + 1), BEGIN_TOKEN, np.int64)
        for number, tokens in enumerate(rows):
            fed[number, 1 : len(tokens) + 1] = tokens
        nothing = np.zeros((len(rows), _HEADS, 0, _HEAD_SIZE), np.float32)
        unsaid = replace(memory, of_tokens=[nothing] * len(_SIDES))
        scores = self._decoder.run(["logits"], self._after(fed, unsaid))[0]
        found = []
        for tokens, row in zip(rows, scores, strict=True):
            of_all = _log_sums(row[: len(tokens) + 1])
            told: Array = row[np.arange(len(tokens)), tokens] - of_all[:-1]
            found.append((told, row[: len(tokens) + 1, END_TOKEN] - of_all))
        return found

    def _after(self, tokens: Array, memory: Memory) -> dict[str, Array]:
        """What the decoder is fed when each hypothesis takes its tokens, shape (hypotheses, tokens)."""
        fed = self._fed(tokens, memory.features, begun=True)
        for (layer, side), of_tokens, of_sound in zip(_SIDES, memory.of_tokens, memory.of_sound, strict=True):
            fed[_past(layer, "decoder", side)] = of_tokens
            fed[_past(layer, "encoder", side)] = of_sound
        return fed

    def _fed(self, tokens: Array, features: Array, *, begun: bool) -> dict[str, Array]:
        return {
            "input_ids": tokens,
            "encoder_hidden_states": features,
            # A mask as long as the sound's steps is subsampled wrongly: past 9 s it crashes.
            "encoder_attention_mask": np.ones((1, 1), np.int64),
            "use_cache_branch": np.array([begun]),
        }


def _past(layer: int, source: str, side: str) -> str:
    return f"past_key_values.{layer}.{source}.{side}"


def _present(layer: int, source: str, side: str) -> str:
    return f"present.{layer}.{source}.{side}"


def log_chances(scores: Array) -> Array:
    """Natural logarithms of the chances that the scores along the last axis stand for (softmax)."""
    chances: Array = scores - _log_sums(scores)[..., None]
    return chances


def _log_sums(scores: Array) -> Array:
    """Logarithm of the sum of the exponentials along the last axis."""
    most = scores.max(axis=-1, keepdims=True)
    sums: Array = np.log(np.exp(scores - most).sum(axis=-1)) + most[..., 0]
    return sums
