"""Which shots have been taught to the bag already, so that no shot counts twice.

A lesson is written down before the bag is. Should the bag then not be saved, it is still as it was before
the lesson, and so the lesson does not count; the same holds for a bag restored from an older copy.
"""

import hashlib
import json
from typing import NamedTuple

from pydantic import ValidationError

from caddie.bag.models import Bag
from caddie.errors import CaddieError
from caddie.log.change import Change
from caddie.log.damage import in_words
from caddie.log.shot import now
from caddie.log.store import Log, utc_text


class Taught(NamedTuple):
    """What this bag has been taught."""

    up_to: int
    """Number of the last shot that it knows."""
    changes: list[Change]
    """Everything that was changed, oldest first."""


def note_lesson(log: Log, bag: Bag, up_to: int, changes: list[Change]) -> None:
    """Write down that ``bag``, not changed yet, is about to be taught the player's shots up to a number.

    Raises:
        CaddieError: if the log cannot be written.
    """
    told = json.dumps([change.model_dump(mode="json") for change in changes], ensure_ascii=False)
    with log.transaction("written"):
        log.keep(
            "lessons",
            {
                "time": utc_text(now()),
                "player": bag.player.name,
                "last_shot_id": up_to,
                "bag_before": fingerprint(bag),
                "changes": told,
            },
        )


def taught(log: Log, bag: Bag) -> Taught:
    """What has been taught to this bag, as it is now.

    Raises:
        CaddieError: if the file is damaged.
    """
    as_now = fingerprint(bag)
    up_to = 0
    changes: list[Change] = []
    for _, _, player, last_shot_id, bag_before, told in log.kept("lessons"):
        if player != bag.player.name:
            continue
        if bag_before == as_now:
            break
        try:
            told_then = [Change.model_validate(each) for each in json.loads(str(told))]
            if not isinstance(last_shot_id, int):
                raise ValueError("the number of its last shot is none")
        except (ValueError, TypeError, RecursionError) as error:
            why = in_words(error) if isinstance(error, ValidationError) else error
            raise CaddieError(f"{log.path}: a lesson in it cannot be read ({why})") from None
        up_to, changes = last_shot_id, [*changes, *told_then]
    return Taught(up_to, changes)


def fingerprint(bag: Bag) -> str:
    """The same for two bags only when they are the same."""
    return hashlib.sha256(bag.model_dump_json().encode()).hexdigest()
