"""The parts of a turn in which two things are said: "tapped in. Next hole"; "pond right, where do I aim?"."""

from caddie.bag import Player
from caddie.talk.sayings import bare, hedges, saying_of, sayings_of
from caddie.words import Intent, Understanding, understand

MOST_PARTS = 3
_STOPS = ".,;!?"
ANSWERED_BY_ADVICE = frozenset({"shot", "best", "land", "how", "swing", "same_club"})
"""Questions that advice on a shot just told answers by itself."""
FOLLOWS = frozenset(
    {
        *ANSWERED_BY_ADVICE, "carry", "run", "aim", "motion", "sand", "odds", "safer", "bolder", "miss", "cover",
        "thought", "either", "thanks", "bye", "next", "ready", "practise",
        "progress", "meaning", "worse", "another", "holed", "missed", "two_putts", "stick", "adopt", "sideways",
    }
)  # fmt: skip
"""What may come after something else in one breath."""
LEADS = frozenset(
    {
        "holed", "missed", "two_putts", "next", "stick", "adopt", "back", "thanks", "ready", "missing",
        "only_have", "found",
    }
)  # fmt: skip
"""What may come before something else in one breath."""
_OVER = frozenset({"holed", "missed", "two_putts", "next", "stick"})
"""Those that need no stop after them."""
_ADVISED_ON = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT)
_TOLD = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT, Intent.RESULT, Intent.WHAT_IF)


def parts(text: str, player: Player) -> list[str]:
    """What is said one after the other, each part a turn of its own; the text itself when it is one thing."""
    if sayings_of(text) or len(text.split()) > 60:
        return [text]
    found = _parts(text, player)
    return found if len(found) <= MOST_PARTS else [text]


def read(text: str, player: Player, *, from_speech: bool = False) -> Understanding:
    """One part read; when it makes no sense as it stands, without what may stand around it."""
    heard = understand(text, unit=player.distances_in, pace_m=player.pace_m, from_speech=from_speech)
    core = " ".join(word for word in bare(text).split() if word.strip(",").lower() not in hedges())
    if heard.intent is not Intent.OUT_OF_SCOPE or heard.problem or not core or core == text:
        return heard
    again = understand(core, unit=player.distances_in, pace_m=player.pace_m, from_speech=from_speech)
    return again.model_copy(update={"heard": heard.heard})


def _parts(text: str, player: Player) -> list[str]:
    tokens = text.split()
    if sayings_of(text):
        return [text]
    for at in range(1, len(tokens)):
        head, tail = " ".join(tokens[:at]), " ".join(tokens[at:])
        apart = tokens[at - 1][-1] in _STOPS
        # Without a stop, "right" of "on the right where do I aim" is no lead-in.
        begins = apart or (len(tokens) - at > 1 and bare(tail).split()[:1] == tokens[at : at + 1])
        name = saying_of(tail, FOLLOWS) if begins else None
        if name is None or not bare(head):
            continue
        before = _kind(head, player)
        if before is None:
            continue
        if before in _ADVISED_ON and (name in ANSWERED_BY_ADVICE or name == "thanks"):
            return _as_read(text, head, player)
        if before is not None and name == "aim" and read(text, player).intent is Intent.PUTT:
            return [text]
        return [*_parts(head, player), tail]
    for at in range(len(tokens) - 1, 0, -1):
        head, tail = " ".join(tokens[:at]), " ".join(tokens[at:])
        name = saying_of(head, LEADS)
        if name is None or (tokens[at - 1][-1] not in _STOPS and name not in _OVER):
            continue
        if _is_told(tail, player):
            return [head, *_parts(tail, player)]
    return [text]


def _as_read(text: str, head: str, player: Player) -> list[str]:
    """The whole when it reads as a shot told, else its first part."""
    return [text] if read(text, player).intent in _ADVISED_ON else [head]


def _kind(text: str, player: Player) -> str | Intent | None:
    """What a part is when it stands alone, or None when it is nothing."""
    found = saying_of(text, LEADS | FOLLOWS)
    if found is not None:
        return found
    intent = read(text, player).intent
    return intent if intent in _TOLD else None


def _is_told(text: str, player: Player) -> bool:
    return read(text, player).intent in _TOLD or bool(sayings_of(text))
