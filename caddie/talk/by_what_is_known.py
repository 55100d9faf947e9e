"""One thing said, put right by what is known: what its words mean beside this shot and this bag."""

from caddie.bag import Bag
from caddie.talk.as_said import (
    as_said,
    asked_in_play,
    chosen_again,
    club_asked,
    club_missed,
    counted_as_the_shot,
    goes_on_supposing,
    plays_as_asked,
    putt_named,
    putter_asked,
    sand_told,
    where_it_lies,
)
from caddie.talk.goes_on import goes_on_from
from caddie.talk.hindsight import asked_of_the_last
from caddie.talk.lies_there import lies_there
from caddie.talk.state import Known
from caddie.talk.that_trouble import trouble_asked
from caddie.words import Understanding


def by_what_is_known(heard: Understanding, known: Known, bag: Bag) -> Understanding:
    """What was heard as it is meant here; each step reads what the one before it came to."""
    player = bag.player
    heard = lies_there(heard, known, player)
    heard = club_missed(club_asked(asked_of_the_last(heard, known), bag, known), known, bag)
    heard = chosen_again(goes_on_supposing(heard, known), known, bag)
    heard = asked_in_play(as_said(trouble_asked(heard, known), known, player), known)
    heard = counted_as_the_shot(plays_as_asked(heard, known), known, player)
    heard = putter_asked(putt_named(heard, known, player), known)
    return goes_on_from(where_it_lies(sand_told(heard, known), known), known)
