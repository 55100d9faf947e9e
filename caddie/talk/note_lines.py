"""The sentences about what is remembered: short, plain, one breath each."""

WHICH_HOLE = "Which hole? Say: remember, the fourth green falls left to right."
NOTE_NOT_FOLLOWED = (
    "I did not follow what to remember. Say which way it falls, the trouble and its side, how deep."
)
NOTHING_NOTED = "Nothing is noted of {hole}."
NOTED_ALREADY = "That is in the note already."
NOT_KEPT = "{what} changes daily and is not kept"
ARE_NOT_KEPT = "{what} change daily and are not kept"
WHICH_WAY = "Which way does it fall? Say toward me, away, left to right or right to left."
WHICH = "You said {before} last time, now {now}: which?"
NONE_NOTED = "nothing noted yet"
COURSE = "{course}: {count}."
HOLE = "{hole}."
NAMED = "{hole} is called {name}."
FORGET = "Erase {what} for good?"
ERASED = "Erased for good."
NOTHING_ERASED = "Then it stays."
NOTHING_TO_FORGET = "There is nothing of that to forget."
NOTHING_AT_ALL = "I remember nothing about you. Say: remember, then what."
TAUGHT = "{word} means {meaning}. Remembered."
OFFER = "Shall I remember that {word} means {meaning}?"
NOT_TAUGHT = "Then I do not keep it."
NO_SHOT = "There is no shot to call that yet."
SETTING = "{what}, from now on."
TAKEN_BACK = "Taken back: {what} as before."
ROUND_OVER = "Well played. Every club is back for the next round."
BY_OWN_NOTES = "by your notes"
BY_NOTES = "by your notes of {hole}"
OWN_NOTE = "Your own note"
NOTES_RULE = (
    "Your own notes from before the round may be read (Rule 4.3a(3): information gathered before the round); "
    "the committee's local rules decide."
)
AFTER_ROUND = "for after the round"
DURING_RULE = (
    "What is noted during a round is recorded for use after it, and not read back before (Rule 4.3a(3)); "
    "the committee's local rules decide."
)
SETTINGS = {
    "stimp_ft": "the speed of your greens",
    "firmness": "the firmness of your greens",
    "unit": "your unit",
    "brief": "what I say aloud",
    "rate": "how fast I speak",
}
"""What a usual setting is of."""
