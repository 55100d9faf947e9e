"""The neural network run with onnxruntime: an encoder of sound, and a decoder that says what token comes next."""

from collections.abc import Sequence
from dataclasses import dataclass
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


@dataclass(frozen=True)
class Memory:
    """What the decoder remembers: of each hypothesis its tokens, and of all the sound they share."""

    features: Array
    """The encoder's view of the sound, the same in each row, shape (rows, steps, width)."""
    of_sound: list[Array]
    """Keys and values of the sound by layer, the same in each row, shape (rows, heads, steps, head size)."""
    of_tokens: list[Array]
    """Keys and values of the tokens so far by layer, shape (hypotheses, heads, tokens, head size)."""

    def keep(self, rows: list[int]) -> "Memory":
        """That of some hypotheses, in this order."""
        of_tokens = [side[rows] for side in self.of_tokens]
        if len(rows) <= self.features.shape[0]:
            # Rows to spare stay: to copy the sound for another number of hypotheses took a tenth of the time.
            return Memory(self.features, self.of_sound, of_tokens)
        features, *of_sound = (np.repeat(part[:1], len(rows), 0) for part in (self.features, *self.of_sound))
        return Memory(features, of_sound, of_tokens)


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
        scores, memory = self._first(features, np.array([[BEGIN_TOKEN]], np.int64))
        return log_chances(scores[:, -1]), memory

    def go_on(self, tokens: list[int], memory: Memory) -> tuple[Array, Memory]:
        """Log chances of what follows when each hypothesis takes its token, shape (hypotheses, tokens)."""
        rows = len(tokens)
        fed: dict[str, Array] = {
            "input_ids": np.array(tokens, np.int64)[:, None],
            "encoder_hidden_states": memory.features[:rows],
            # A mask as long as the sound's steps is subsampled wrongly: past 9 s it crashes.
            "encoder_attention_mask": np.ones((rows, 1), np.int64),
            "use_cache_branch": np.array([True]),
        }
        for (layer, side), of_tokens, of_sound in zip(_SIDES, memory.of_tokens, memory.of_sound, strict=True):
            fed[f"past_key_values.{layer}.decoder.{side}"] = of_tokens
            fed[f"past_key_values.{layer}.encoder.{side}"] = of_sound[:rows]
        wanted = ["logits", *(f"present.{layer}.decoder.{side}" for layer, side in _SIDES)]
        scores, *of_tokens_now = self._decoder.run(wanted, fed)
        return log_chances(scores[:, -1]), Memory(memory.features, memory.of_sound, of_tokens_now)

    def chances_of(self, features: Array, tokens: list[int]) -> Array:
        """Log chance of each of these tokens and of the end after them, shape (tokens + 1,)."""
        told, ends = self.chances_of_each(features, [tokens])[0]
        chances: Array = np.append(told, ends[-1])
        return chances

    def chances_of_each(self, features: Array, rows: Sequence[list[int]]) -> list[tuple[Array, Array]]:
        """Of each row of tokens the log chance of each, and that of the end before each and after the last.

        Returns:
            Shapes (tokens,) and (tokens + 1,) a row.
        """
        longest = max(map(len, rows))
        fed = np.full((len(rows), longest + 1), BEGIN_TOKEN, np.int64)
        for number, tokens in enumerate(rows):
            fed[number, 1 : len(tokens) + 1] = tokens
        scores, _ = self._first(np.repeat(features, len(rows), 0), fed)
        found = []
        for number, tokens in enumerate(rows):
            chances = log_chances(scores[number, : len(tokens) + 1])
            found.append((chances[np.arange(len(tokens)), tokens], chances[:, END_TOKEN]))
        return found

    def _first(self, features: Array, tokens: Array) -> tuple[Array, Memory]:
        rows = tokens.shape[0]
        fed: dict[str, Array] = {
            "input_ids": tokens,
            "encoder_hidden_states": features,
            "encoder_attention_mask": np.ones((rows, 1), np.int64),
            "use_cache_branch": np.array([False]),
        }
        nothing = np.zeros((rows, _HEADS, 0, _HEAD_SIZE), np.float32)
        sources = [(layer, source, side) for layer, side in _SIDES for source in ("decoder", "encoder")]
        fed |= {f"past_key_values.{layer}.{source}.{side}": nothing for layer, source, side in sources}
        wanted = [
            f"present.{layer}.{source}.{side}" for source in ("decoder", "encoder") for layer, side in _SIDES
        ]
        scores, *kept = self._decoder.run(["logits", *wanted], fed)
        return scores, Memory(features, kept[len(_SIDES) :], kept[: len(_SIDES)])


def log_chances(scores: Array) -> Array:
    """Natural logarithms of the chances that the scores along the last axis stand for (softmax)."""
    lowered = scores - scores.max(axis=-1, keepdims=True)
    chances: Array = lowered - np.log(np.exp(lowered).sum(axis=-1, keepdims=True))
    return chances
