"""What the player wants, and whether the words are about a shot at all."""

from collections.abc import Sequence
from dataclasses import dataclass

from caddie.situation import Lie
from caddie.words.clauses import ELSEWHERE, STRANGE, is_elsewhere, is_strange
from caddie.words.clubs import ShotNamed
from caddie.words.corrections import TAKES_BACK
from caddie.words.distances import Distances
from caddie.words.facts import Intent
from caddie.words.gist import is_question
from caddie.words.grammar import grammar
from caddie.words.green import GreenSaid
from caddie.words.heads import TroubleSaid
from caddie.words.lies import LieSaid
from caddie.words.mentions import Mention
from caddie.words.quantities import Piece
from caddie.words.results import is_result
from caddie.words.sayings import compared
from caddie.words.scene import Scene
from caddie.words.spelling import Token
from caddie.words.talk_files import turn_data
from caddie.words.wind import WindSaid

_LED_BY_NO = frozenset({"no", "nope", "nah", "sorry", "wrong", "negative", "incorrect"})
_NUMBER_COMPANY = frozenset({"#", "FLAG", "GREEN", "yards", "paces", *TAKES_BACK})
_TELLS_A_LITTLE = ("wind_word", "wind_from", "nothing", "in_it", "stance", "clear")
"""What is of the trade and gives no points: beside a lone number it is no other talk."""
LONE_NUMBER = 0.4
"""Points of a number without a unit: alone it is a distance, in other talk it is not."""
_FIRST_OF_TWO = (
    Intent.MODE_COMPETITION,
    Intent.MODE_PRACTICE,
    Intent.STOP,
    Intent.UNDO,
    Intent.NEXT_HOLE,
    Intent.SHORTER,
    Intent.REPEAT,
    Intent.HELP,
    Intent.READY,
    Intent.WHY,
    Intent.NO,
    Intent.YES,
    Intent.GREETING,
)
"""Of two said in one breath, thanks and that is all, the one that asks for more."""


_JOINING = frozenset({"plus"})
_PRONOUNS = frozenset({"me", "us"})
_OF_A_SHOT = frozenset({"club", "swing", "family", "flight", "face", "wind_lead", "wind_strength"})
"""What the question of a club may hold: how it is swung, and a "with" before it."""
_OF_THE_HOLE = frozenset({"FLAG", "GREEN", "CLUB"})


@dataclass(frozen=True)
class Evidence:
    """How much speaks for a shot and how much against."""

    shot: float
    """Points for facts of a situation."""
    named: float
    """Points for a club, swing or kind of shot."""
    strange: float
    """Words that no grammar file knows; half as much in an aside."""
    elsewhere: float
    """Words of other subjects; half as much in an aside."""
    besides: int = 0
    """Words that are neither plain English nor a number nor passed over."""
    scenery: bool = False
    """Whether only sand, water or trees were named, among words that tell of something else."""
    plain: bool = False
    """Whether one clause of several plainly tells a shot, whatever the others speak of."""

    @classmethod
    def of(
        cls,
        scene: Scene,
        distances: Distances,
        lie: LieSaid,
        trouble: TroubleSaid,
        green: GreenSaid,
        wind: WindSaid,
        shot: ShotNamed,
    ) -> "Evidence":
        """Count what the readers found."""
        words, weights = grammar(), _weights(scene)
        told = {at for m in scene.having(*_TELLS_A_LITTLE) for at in range(m.start, m.end)}
        points = distances.strength
        points += 0.8 * (lie.lie is not None) + 0.7 * len(lie.stance) + 0.7 * (lie.sitting is not None)
        points += 0.5 * (lie.greenside is not None) + 0.6 * (
            lie.wet is not None or lie.dirty_grooves is not None
        )
        points += 0.6 * (lie.mud_on_ball is not None) + 0.6 * (lie.sand is not None)
        points += 0.6 * (lie.lip_m is not None)
        points += 0.8 * (lie.against is not None) + 0.8 * (lie.unplayable is not None)
        points += 0.8 * (lie.hampered is not None) + 0.8 * (lie.in_line is not None)
        points += 0.8 * (lie.obstruction is not None)
        points += 1.0 * (trouble.pin_position is not None) + 1.0 * (trouble.front_m is not None)
        points += _points_of_hazards(trouble)
        points += 0.8 * (green.green.fall is not None or green.green.flat) + 0.5 * (
            green.green.firmness is not None
        )
        points += 0.6 * (green.green.stimp_ft is not None) + 0.8 * (green.elevation_m is not None)
        points += 0.4 * (green.green.fall_slope is not None) + (1.0 if wind.wind.from_ else 0.7 * wind.said)
        named = 1.0 * (shot.club is not None) + 0.7 * (shot.swing is not None)
        named += 0.6 * (shot.family is not None) + 0.6 * (shot.flight is not None)
        return cls(
            points,
            named,
            sum(weight * is_strange(scene, at) for at, weight in enumerate(weights)),
            sum(weight * is_elsewhere(scene, at) for at, weight in enumerate(weights)),
            sum(
                p.text not in words.plain and p.text not in _NUMBER_COMPANY and at not in scene.aside | told
                for at, p in enumerate(scene.pieces)
            ),
            _is_scenery(scene, points + named, lie, trouble)
            or _is_place_of_nothing(scene, points + named, trouble),
            scene.plain,
        )

    @property
    def is_ours(self) -> bool:
        """Whether what was said is about a shot."""
        points = self.shot + self.named
        if self.scenery or (points <= LONE_NUMBER and self.besides):
            return False
        against = STRANGE * self.strange + ELSEWHERE * self.elsewhere
        return points > 0 and (self.plain or points >= against)


def _is_scenery(scene: Scene, points: float, lie: LieSaid, trouble: TroubleSaid) -> bool:
    """ "We walked down the beach to the water": nothing but what lies about anywhere, and words besides."""
    from_trouble = _points_of_hazards(trouble) + 0.8 * (lie.lie is Lie.BUNKER)
    if not from_trouble or points > from_trouble or any(p.text in _OF_THE_HOLE for p in scene.pieces):
        return False
    return _says_besides(scene)


def _is_place_of_nothing(scene: Scene, points: float, trouble: TroubleSaid) -> bool:
    """ "Two birdies and a double on the front": a place, nothing that has it, and words besides."""
    if trouble.pin_position is None or points > 1.0 or any(p.text in _OF_THE_HOLE for p in scene.pieces):
        return False
    return _says_besides(scene)


def _says_besides(scene: Scene) -> bool:
    """Whether a word is neither plain nor part of what was told."""
    return any(
        piece.text.isalpha()
        and piece.text.islower()
        and piece.text not in grammar().plain | grammar().along | _JOINING
        and not any(m.start <= at < m.end for m in scene.facts)
        for at, piece in enumerate(scene.pieces)
    )


def _points_of_hazards(trouble: TroubleSaid) -> float:
    return sum(0.5 + 0.5 * (h.side is not None) + 0.5 * (h.carry_m is not None) for h in trouble.hazards)


def _weights(scene: Scene) -> list[float]:
    """One for each piece between two pauses that tell something of a shot, half for an aside."""
    telling = {m.start for m in scene.facts if "nothing" not in m} | scene.used
    telling |= {at for at, p in enumerate(scene.pieces) if p.quantity is not None or p.text.isupper()}
    starts = [at for at, piece in enumerate(scene.pieces) if at == 0 or piece.after_break] or [0]
    weights: list[float] = []
    for start, end in zip(starts, [*starts[1:], len(scene.pieces)], strict=True):
        told = not telling.isdisjoint(range(start, end))
        weights += [1.0 if told or len(starts) == 1 else 0.5] * (end - start)
    return [0.0 if at in scene.aside else weight for at, weight in enumerate(weights)]


def corrects(pieces: list[Piece]) -> tuple[bool, list[Piece]]:
    """Whether the utterance begins by taking something back, and what is left of it.

    "Not forty, forty-five" puts right what was told; with more behind it, the first number is all it takes back.
    """
    if len(pieces) < 2:
        return False, pieces
    first, second = pieces[0], pieces[1]
    if first.text in TAKES_BACK:
        return True, pieces[1:]
    if first.text == "not" and second.text == "#" and len(pieces) > 2 and pieces[2].text == "#":
        return not any(piece.after_break for piece in pieces[3:]), pieces[2:]
    if first.text == "not" and second.text in ("right", "correct", "so", "true") and pieces[2:3]:
        return (True, pieces[2:]) if pieces[2].after_break else (False, pieces)
    if first.text in _LED_BY_NO and second.text == "not":
        rest_at = next((at for at in range(2, len(pieces)) if pieces[at].after_break), None)
        if rest_at is not None:
            return True, pieces[rest_at:]
    if first.text in _LED_BY_NO and (second.after_break or second.text in ("#", "it", "i", *TAKES_BACK)):
        rest = pieces[1:]
        return True, rest[1:] if rest[0].text in TAKES_BACK and len(rest) > 1 else rest
    return False, pieces


def laments(said: Sequence[Token], scene: Scene) -> bool:
    """ "Oh no, it's water all down the right and I've still got eighty": a sigh, and then a shot told anew."""
    opens = [token.text for token in said[:2]] == ["oh", "no"]
    first = [piece.text for piece in scene.pieces[:2]]
    if not opens or "#" in first or first[:1] == ["i"] or "not" in first:
        return False
    measured = any(p.quantity is not None and p.quantity.is_length for p in scene.pieces)
    return measured and any(scene.is_trouble(at) or p.text == "FLAG" for at, p in enumerate(scene.pieces))


def decide(scene: Scene, evidence: Evidence, *, correcting: bool, on_green: bool, made: bool) -> Intent:
    """The one intent of an utterance; ``made`` is whether a stroke in it may be one that was made."""
    asked = [Intent(str(m.get("intent"))) for m in scene.intents]
    if Intent.WHAT_IF in asked and _told_before_a_wish(scene):
        asked = [intent for intent in asked if intent is not Intent.WHAT_IF]
    whole = whole_intent(scene)
    if whole is not None:
        return whole
    about_us = evidence.strange + evidence.elsewhere == 0
    for mode in (Intent.MODE_PRACTICE, Intent.MODE_COMPETITION):
        if mode in asked and evidence.strange <= 1:
            return mode
    told = made and evidence.elsewhere == 0 and evidence.strange <= 1 and Intent.WHAT_IF not in asked
    if told and is_result(scene):
        return Intent.RESULT
    if _asks_about_a_shot(scene, evidence, asked):
        return Intent.WHAT_IF
    if not evidence.is_ours:
        return Intent.WHY if Intent.WHY in asked and about_us else Intent.OUT_OF_SCOPE
    if Intent.WHY in asked and Intent.WHAT_IF not in asked:
        return Intent.WHY
    if correcting:
        return Intent.CORRECT
    if _is_what_if(scene, evidence, asked):
        return Intent.WHAT_IF
    if evidence.shot == 0:
        return Intent.WHAT_IF
    return Intent.PUTT if on_green else Intent.SITUATION


def calls_for_help(text: str) -> bool:
    """Whether ``text`` that holds a word of help asks for it, and is no exclamation.

    >>> calls_for_help("help me"), calls_for_help("God help me"), calls_for_help("I can't help it")
    (True, False, False)
    """
    words = compared(text)
    before = words[: words.index("help")] if "help" in words else ()
    return set(turn_data()["no_call"]).isdisjoint(before) or is_question(text)


def whole_intent(scene: Scene) -> Intent | None:
    """The intent of an utterance that is nothing but such phrases."""
    wholes = [m for m in scene.wholes if not _is_part_of_more(scene, m) and not _is_denied(scene, m)]
    if any(_goes_on_to_a_side(scene, m) for m in wholes):
        return None
    if len(wholes) > 1:
        wholes = [m for m in wholes if not _is_a_pronoun(scene, m)]
    covered = {at for mention in wholes for at in range(mention.start, mention.end)}
    rest = [piece for at, piece in enumerate(scene.pieces) if at not in covered]
    if not covered or any(piece.text not in grammar().along for piece in rest) or len(rest) > len(covered):
        return None
    said = {Intent(str(reading["intent"])) for mention in wholes for reading in mention.readings}
    return next((intent for intent in _FIRST_OF_TWO if intent in said), None)


def _is_a_pronoun(scene: Scene, whole: Mention) -> bool:
    """ "That's me" ends a round; "me" beside something else said does not: "say that again for me"."""
    return {piece.text for piece in scene.pieces[whole.start : whole.end]} <= _PRONOUNS


def _is_denied(scene: Scene, whole: Mention) -> bool:
    """ "Not enough" ends nothing."""
    at = whole.start
    return at > 0 and scene.pieces[at - 1].text == "not" and not scene.pieces[at].after_break


def _goes_on_to_a_side(scene: Scene, whole: Mention) -> bool:
    """ "Missed it" of "missed it right" is no "I did not hear": the word behind tells where the ball went."""
    behind = scene.pieces[whole.end : whole.end + 1]
    return [piece.text for piece in behind if not piece.after_break] == ["right"] and is_result(scene)


def _is_part_of_more(scene: Scene, whole: Mention) -> bool:
    """ "Less" of "less club" is no wish for fewer words."""
    return any(
        m.start <= whole.start and whole.end <= m.end and m.end - m.start > whole.end - whole.start
        for m in scene.intents
    )


def _asks_about_a_shot(scene: Scene, evidence: Evidence, asked: list[Intent]) -> bool:
    """ "Would it be safer to putt": a question with a shot in it may hold a strange word or two."""
    if Intent.WHAT_IF not in asked or evidence.elsewhere or evidence.shot >= 1.5:
        return False
    if evidence.named:
        return evidence.strange <= 2
    begins = _begins_to_ask(scene)
    about = any(
        piece.text in ("FLAG", "GREEN", "club", "swing") or scene.is_trouble(i)
        for i, piece in enumerate(scene.pieces)
    )
    return begins and about and not evidence.strange


def _begins_to_ask(scene: Scene) -> bool:
    """Whether it begins with a question, a word before it at most; "fifty yards and if I go long" has told first."""
    asks = (m.start for m in scene.intents if m.get("intent") == "what_if")
    return any(start == 0 or (start == 1 and scene.pieces[0].quantity is None) for start in asks)


def _is_what_if(scene: Scene, evidence: Evidence, asked: list[Intent]) -> bool:
    if Intent.WHAT_IF not in asked:
        return False
    begins = _begins_to_ask(scene)
    return (begins and not _told_after_question(scene)) or evidence.shot < 1.5


def _told_before_a_wish(scene: Scene) -> bool:
    """ "Seventy-eight yards, I quite fancy the gap wedge": a length with its unit, and how it is to be played."""
    wishes = [m for m in scene.intents if m.get("intent") == "what_if"]
    if not all("wish" in m and scene.pieces[m.start].after_break for m in wishes):
        return False
    first = min(m.start for m in wishes)
    lengths = (scene.pieces[at].quantity for at in scene.used if at < first)
    return any(q is not None and q.unit is not None and q.is_length for q in lengths)


def _told_after_question(scene: Scene) -> bool:
    """ "Can I use my 60 here? It's 25 yards": a length told behind a question that has none, with unit or lie."""
    pause = next((at for at in range(1, len(scene.pieces)) if _begins_to_tell(scene, at)), None)
    if pause is None or any(m.start < pause and _OF_A_SHOT.isdisjoint(m.readings[0]) for m in scene.facts):
        return False
    lies = any(m.start > pause and "lie" in m for m in scene.facts)
    lengths = [
        at
        for at in scene.used
        if (q := scene.pieces[at].quantity) is not None and q.is_length and (q.unit or lies)
    ]
    return bool(lengths) and min(lengths) >= pause


def _begins_to_tell(scene: Scene, at: int) -> bool:
    """Whether a clause begins here, or "it's 82 yards" is run on to the question: "what if it's 82" has but begun."""
    following = [piece.text for piece in scene.pieces[at : at + 2]]
    only_begun = any(m.end == at for m in scene.intents if m.get("intent") == "what_if")
    return scene.pieces[at].after_break or (following == ["it", "#"] and not only_begun)
