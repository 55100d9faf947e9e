"""A played shot for the log: what was known, advised and said to have become of it."""

from typing import Any

from caddie.bag import Bag
from caddie.log.shot import Mode, Shot
from caddie.reply.cue import cue_for
from caddie.situation import Result
from caddie.talk.state import Known
from caddie.words import Understanding


def played_shot(known: Known, heard: Understanding, mode: Mode, bag: Bag) -> Shot:
    """The shot as the log keeps it: what was advised was played, unless another club is named."""
    advised: dict[str, Any] = {}
    if known.plan is not None:
        option = known.plan.chosen
        advised = {
            "advice": option.model_dump(mode="json"),
            "club": option.club,
            "swing": option.swing,
            "family": option.family,
            "flight": option.flight.value,
            "cue": cue_for(known.plan, bag).id,
        }
    if heard.club:
        club = bag.club_called(heard.club)
        advised |= {"club": club.id if club else heard.club, "swing": heard.swing}
    return Shot(
        mode=mode,
        player=bag.player.name,
        sentence=known.sentence or heard.heard,
        situation=known.plan.situation if known.plan else known.situation,
        result=heard.result or Result(),
        **advised,
    )
