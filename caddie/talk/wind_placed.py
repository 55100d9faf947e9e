"""A wind told by the trouble that it blows towards or off, as that was told before."""

from caddie.talk.state import Known
from caddie.words import Understanding
from caddie.words.wind_toward import with_origin


def wind_placed(heard: Understanding, known: Known) -> Understanding:
    """ "It's blowing towards the water", when water was told right: a wind from the left."""
    wind = with_origin(heard.situation.wind, heard.wind_toward, heard.wind_off, known.situation.hazards)
    if wind is heard.situation.wind:
        return heard
    return heard.model_copy(update={"situation": heard.situation.model_copy(update={"wind": wind})})
