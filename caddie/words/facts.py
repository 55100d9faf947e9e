"""What one utterance says: the intent, the facts, and what could not be taken."""

from enum import StrEnum
from itertools import pairwise

from caddie.bag.models import Family
from caddie.situation import Frozen, Green, HazardKind, Result, Situation
from caddie.units import Unit
from caddie.words.numbers import is_number


class Intent(StrEnum):
    """What the player wants with an utterance."""

    SITUATION = "situation"
    PUTT = "putt"
    WHAT_IF = "what_if"
    WHY = "why"
    REPEAT = "repeat"
    SHORTER = "shorter"
    CORRECT = "correct"
    RESULT = "result"
    UNDO = "undo"
    NEXT_HOLE = "next_hole"
    READY = "ready"
    YES = "yes"
    NO = "no"
    HELP = "help"
    MODE_COMPETITION = "mode_competition"
    MODE_PRACTICE = "mode_practice"
    STOP = "stop"
    GREETING = "greeting"
    OUT_OF_SCOPE = "out_of_scope"


class Another(StrEnum):
    """What begins with a shot that is told, of which nothing told before it holds."""

    BALL = "ball"
    """Another ball, mostly of the same green and the same day."""
    HOLE = "hole"


class Understanding(Frozen):
    """One utterance, read.

    ``situation`` holds only what was said; every gap is ``None``. ``corrected`` names the fields that the
    utterance says to change, as they are called in :class:`~caddie.situation.Situation` or here.
    """

    heard: str
    intent: Intent
    situation: Situation = Situation()
    club: str | None = None
    """As said, normalised: "gap wedge", "60", "9 iron", "putter"."""
    swing: str | None = None
    """hip, chest, shoulder or full."""
    effort: str | None = None
    """"eased" or "little" of a swing that is to take less than all of it: "a smooth fifty-two", "a little wedge"."""
    family: Family | None = None
    flight: str | None = None
    """low, stock or high."""
    face: str | None = None
    """How the clubface is set, where it is told: square or open."""
    result: Result | None = None
    commitment: str | None = None
    """How the player went through with a shot told as a result: committed, quit or rush."""
    down_in: int | None = None
    """Strokes it took to hole out, told with a result: 2 for "up and down"."""
    another_stroke: bool = False
    """Whether a result was told as another stroke than the one told before it in the same breath."""
    not_lying: tuple[str, ...] = ()
    """Lies and slopes under the feet that it is said not to be: "it's not plugged", "not above my feet"."""
    level_stance: bool = False
    """Whether the ground under ball and feet is said not to slope: "it's flat after all", "level lie"."""
    wind_toward: tuple[HazardKind, ...] = ()
    """Trouble that the wind blows towards, told before; all kinds where it is "towards it"."""
    wind_off: tuple[HazardKind, ...] = ()
    """Trouble that the wind comes off, told before; all kinds where it is "off it"."""
    not_green: Green = Green()
    """What the green is said not to be, by its firmness and speed: "it's not soft at all"."""
    gone: tuple[HazardKind, ...] = ()
    """Trouble that is said not to be there: "what water? There's no water", "lose the bunker"."""
    pin_named: bool = False
    """Whether the distance was said to be the flag's: "65 to the pin"."""
    pin_unit: Unit | None = None
    """What the distance was counted in, where that was said."""
    another: Another | None = None
    """What it is told to be the first of: "next one", "fourth hole", "a different situation"."""
    hole: int | None = None
    """The number of that hole, where it is told."""
    plays_only: bool = False
    """Whether the distance was said only as what it plays like: "plays like 70", "70 flat, less into this"."""
    lies_well: bool = False
    """Whether the lie was called good, and nothing else was said of what it is."""
    corrected: tuple[str, ...] = ()
    approximate: bool = False
    pin_range_m: tuple[float, float] | None = None
    """Both ends of "sixty to sixty-five"; the middle is ``situation.pin_m``."""
    sounds_like_m: float | None = None
    """The other distance that speech may have meant: 13 for 30, 50 for 15."""
    left_over: tuple[str, ...] = ()
    """Words and numbers that nothing explains, in order, as said: "the fifteen" of a sentence whose fifteen measures
    nothing that is known. Plain English words are not listed; talk that is out of scope leaves nothing over."""
    asks: tuple[str, ...] = ()
    """What is asked or wished, by the names of ``asked.toml`` and ``talk.toml``, the likeliest first: sayings that the
    whole is, or else, when no fact was understood, those it hints at."""
    problem: str | None = None
    """Why a number or the text was refused, in one line that says what to say."""

    @property
    def numbers_left_over(self) -> tuple[str, ...]:
        """Those of :attr:`left_over` that are numbers, each with the word left over right behind it, as "two posts"."""
        said = f" {self.heard.lower()} "
        return tuple(
            f"{words} {then}" if then and f" {words} {then} ".lower() in said else words
            for words, then in pairwise((*self.left_over, ""))
            if is_number(words)
        )
