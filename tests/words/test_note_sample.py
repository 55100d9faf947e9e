"""What a recogniser is taught of notes is understood as it was meant."""

from caddie.words.note_sample import OWN_WORDS_TIMES, sampled_notes
from caddie.words.told_note import NO_NAMES, Names, read_note

OWN = Names(holes={"dell": 4}, courses=("marram links",), words=("badlands",))


def test_most_of_what_is_taught_is_about_notes() -> None:
    said = sampled_notes(OWN)
    framed = [each for each in said if "badlands" in each]
    about = [each for each in said if each not in framed]
    told = [read_note(each, names=OWN) for each in about]
    taken = sum(any((t.wish, t.hole, t.course, t.depth_m, t.height_m, t.turned)) for t in told)
    assert taken >= 0.97 * len(about)
    assert len(set(framed)) >= 10
    assert said.count("the badlands") == OWN_WORDS_TIMES


def test_without_names_of_the_player_s_own_none_are_said() -> None:
    said = sampled_notes(NO_NAMES)
    assert said == sampled_notes(NO_NAMES)
    assert len(said) > 200
    assert not any("{" in each or "  " in each for each in said)
