"""How much is taken: sizes of what is sent, and how often."""

import time
from collections.abc import Callable

LARGEST_BODY_BYTES = 64_000
"""A sentence of the longest length, many times over."""
LARGEST_SOUND_BYTES = 64_000
"""One message of the microphone: two seconds, where a block is a hundredth of that."""
SLOWEST_BODY_S = 10.0


class Bucket:
    """So many at once, and so many a second in the long run."""

    def __init__(self, at_once: int, per_second: float, clock: Callable[[], float] = time.monotonic) -> None:
        self._most, self._per_second, self._clock = float(at_once), per_second, clock
        self._left, self._then = float(at_once), clock()

    def take(self) -> bool:
        """Whether one more is allowed now."""
        now = self._clock()
        self._left = min(self._most, self._left + (now - self._then) * self._per_second)
        self._then = now
        if self._left < 1:
            return False
        self._left -= 1
        return True
