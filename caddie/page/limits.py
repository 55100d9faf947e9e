"""How much is taken: sizes of what is sent, how often, and what was done already."""

import time
from collections import OrderedDict
from collections.abc import Callable

LARGEST_BODY_BYTES = 64_000
"""A sentence of the longest length, many times over."""
LARGEST_TABLE_BODY_BYTES = 4_000_000
"""A table of shots of 3 MB, as it is packed to be sent."""
TABLES = "/api/bag/table"
LARGEST_SOUND_BYTES = 64_000
"""One message of the microphone: two seconds, where a block is a sixtieth of that."""
SLOWEST_BODY_S = 10.0


REQUESTS_REMEMBERED = 200


def largest_body_bytes(path: str) -> int:
    """How large what is sent to an address may be."""
    return LARGEST_TABLE_BODY_BYTES if path.startswith(TABLES) else LARGEST_BODY_BYTES


class DoneRequests:
    """The last changes by the names that the page gave them: one that heard no answer asks again."""

    def __init__(self) -> None:
        self._names: OrderedDict[str, None] = OrderedDict()

    def __contains__(self, request: str) -> bool:
        return request in self._names

    def add(self, request: str) -> None:
        """Remember a change that was done; one without a name is done as often as it is asked."""
        if request:
            self._names[request] = None
            while len(self._names) > REQUESTS_REMEMBERED:
                self._names.popitem(last=False)


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
