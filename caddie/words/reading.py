"""One utterance from text to understanding: the order in which its facts are read."""

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from caddie.bag.models import Family
from caddie.situation import Green, HazardKind, Lie, Result, Side, Situation, Wind
from caddie.units import Unit
from caddie.words.borrow import break_amounts
from caddie.words.breaks import with_its_part
from caddie.words.carries import carried_to
from caddie.words.clauses import set_asides_apart
from caddie.words.clubs import ShotNamed, read_shot
from caddie.words.corrections import contrasts, put_right
from caddie.words.crests import set_on_the_way
from caddie.words.denials import deny, not_green
from caddie.words.distances import Distances, read_distances, unit_meant
from caddie.words.facts import Intent, Understanding
from caddie.words.frames import plainly_put
from caddie.words.gist import is_question, with_asks
from caddie.words.grammar import grammar
from caddie.words.green import GreenSaid, is_near, read_green
from caddie.words.heads import TroubleSaid
from caddie.words.intents import Evidence, calls_for_help, corrects, decide, laments, whole_intent
from caddie.words.left_over import left_over
from caddie.words.lexicon import known_words, spellable_words
from caddie.words.lies import LieSaid, read_lie
from caddie.words.lips import read_lip, with_lip
from caddie.words.odd_numbers import odd_number
from caddie.words.on_the_line import told_in_a_row
from caddie.words.open_sides import read_open_sides
from caddie.words.order import ordered
from caddie.words.others import set_others_apart
from caddie.words.outright import asked_outright, without_what_is_told
from caddie.words.putts import is_beyond_trouble, reads_as_putt, says_putt, tiers_told
from caddie.words.quantities import Piece
from caddie.words.ranges import settle
from caddie.words.reduction import reducer
from caddie.words.results import read_commitment, read_result
from caddie.words.rises import with_rise
from caddie.words.roles import PLAYS, TO_THE_FLAG
from caddie.words.room_told import settle_the_room
from caddie.words.sayings import bare, begins, says, without_hedges
from caddie.words.scene import Scene, laid_out
from caddie.words.spelling import LONGEST_TEXT, Token, nearest
from caddie.words.strokes_told import read_strokes
from caddie.words.told_as_made import only_spoken_of
from caddie.words.trouble import read_trouble
from caddie.words.wind import WindSaid, read_wind
from caddie.words.wind_toward import blown_by, with_origin

_PAUSES = ",.;:!?…"
_STRETCHED = re.compile(r"([a-z])\1+$")


@lru_cache(maxsize=512)
def read(text: str, *, unit: Unit, pace_m: float, from_speech: bool) -> Understanding:
    """The understanding of one utterance; see :func:`caddie.words.understand`."""
    told = told_in_a_row(text)
    heard = _facts(told, unit=unit, pace_m=pace_m, from_speech=from_speech)
    if told != text:
        heard = heard.model_copy(update={"heard": text.strip()[:LONGEST_TEXT]})
    if heard.problem:
        return heard
    core = without_hedges(bare(text)) if heard.intent is Intent.OUT_OF_SCOPE else ""
    if core and core != text:
        core = f"no, {core}" if begins(text, "puts_right") else core
        again = _facts(core, unit=unit, pace_m=pace_m, from_speech=from_speech)
        heard = again.model_copy(update={"heard": heard.heard})
    if heard.intent is Intent.HELP and not calls_for_help(text):
        heard = Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE)
    if heard.intent is Intent.OUT_OF_SCOPE and _asks_again_before_an_aside(text):
        heard = heard.model_copy(update={"intent": Intent.REPEAT})
    asked = asked_outright(heard)
    return with_asks(heard) if asked is None else without_what_is_told(heard, asked)


def _asks_again_before_an_aside(text: str) -> bool:
    """ "Say that again, would ye, there was a plane going over": a wish to hear it again, and why."""
    tokens = text.split()
    ends = (end for end in range(len(tokens) - 1, 1, -1) if tokens[end - 1][-1] in _PAUSES)
    heads = (" ".join(tokens[:end]) for end in ends)
    return any(says(head, "pardon") and not says(head, "puts_right") for head in heads)


def _facts(text: str, *, unit: Unit, pace_m: float, from_speech: bool) -> Understanding:
    heard = text.strip()
    if len(heard) > LONGEST_TEXT:
        return Understanding(
            heard=heard[:LONGEST_TEXT],
            intent=Intent.OUT_OF_SCOPE,
            problem=f"{len(heard)} characters are too many (up to {LONGEST_TEXT}): say it shorter",
        )
    odd = odd_number(heard)
    if odd is not None:
        return Understanding(
            heard=heard,
            intent=Intent.OUT_OF_SCOPE,
            problem=f'"{odd}" is no number that can be read: write it plainly, for example 70 or 70.5',
        )
    reduce = reducer()
    tokens = reduce.tokens(heard)
    as_heard = reduce.pieces(tokens if from_speech else _spelled(tokens))
    pieces = laid_in_order(as_heard)
    scene = _scene(pieces, unit, pace_m)
    correcting, rest = corrects(pieces)
    correcting = correcting or contrasts(as_heard)
    if (correcting or rest is not pieces) and whole_intent(scene) is None:
        scene = _scene(rest, unit, pace_m)
        correcting = correcting and not laments(tokens, scene)
    return _understood(heard, scene, correcting=correcting, from_speech=from_speech)


def _spelled(said: list[Token]) -> list[Token]:
    known, wanted, real = known_words(), spellable_words(), grammar().real
    repaired = []
    for token in said:
        slip = (
            None
            if token.text in known
            else _unstretched(token.text) or _with_its_g(token.text) or nearest(token.text, wanted, real)
        )
        repaired.append(token if slip is None else Token(slip, token.after_break))
    return repaired


def _unstretched(word: str) -> str | None:
    """ "Heyy" for "hey"."""
    short = _STRETCHED.sub(r"\1", word)
    return short if short != word and short in known_words() else None


def _with_its_g(word: str) -> str | None:
    """ "Tippin" for "tipping"."""
    return f"{word}g" if word.endswith("in") and f"{word}g" in known_words() else None


def laid_in_order(pieces: list[Piece]) -> list[Piece]:
    """The pieces as the templates say them, with ranges put together and nothing that was taken back."""
    return settle(put_right(settle(ordered(plainly_put(_opened(pieces))))), again=True)


_TELLS = frozenset(
    {
        "i",
        "we",
        "so",
        "then",
        "well",
        "ok",
        "it",
        "there",
        "ball",
        "got",
        "have",
        "what",
        "where",
        "how",
        "about",
        "only",
    }
)
_TELLS_OF_A_THING = frozenset(
    {"at", "on", "in", "cut", "tucked", "front", "back", "sits", "looks", "out", "away", "#"}
)


def _opened(pieces: list[Piece]) -> list[Piece]:
    """ "Right I'm about forty yards": the word that opens a turn stands apart, and tells no side."""
    if len(pieces) < 2 or pieces[0].text != "right" or not _begins_to_tell(pieces[1:]):
        return pieces
    return [pieces[0], replace(pieces[1], after_break=True), *pieces[2:]]


def _begins_to_tell(pieces: list[Piece]) -> bool:
    """ "Right it's", "right pin's at the back", "right forty yards off the fringe"; not "right bunker"."""
    first, rest = pieces[0].text, pieces[1:]
    of_a_thing = first in ("FLAG", "GREEN") and bool(rest) and rest[0].text in _TELLS_OF_A_THING
    measures = first == "#" and len(rest) > 1
    return (
        first in _TELLS
        or ((of_a_thing or measures) and not rest[0].after_break)
        or (measures and len(rest) > 1)
    )


def _scene(pieces: list[Piece], unit: Unit, pace_m: float) -> Scene:
    scene = laid_out(pieces, unit, pace_m)
    scene.unit = unit_meant(scene)
    deny(scene)
    set_others_apart(scene)
    set_asides_apart(scene)
    return scene


@dataclass(frozen=True)
class _Measured:
    """Distances, trouble and green, and the scene with the numbers taken for them."""

    scene: Scene
    distances: Distances
    trouble: TroubleSaid
    green: GreenSaid


def _understood(heard: str, scene: Scene, *, correcting: bool, from_speech: bool) -> Understanding:
    lip, scene = read_lip(scene, read_lie(scene))
    shot = read_shot(scene)
    wind = read_wind(scene)
    lie = with_lip(read_lie(scene), lip)
    on_green = says_putt(scene, lie, shot)
    read = _measured(scene, lie, shot, on_green=on_green, from_speech=from_speech)
    if on_green and is_beyond_trouble(lie, read.trouble):
        on_green = False
        read = _measured(scene, lie, shot, on_green=False, from_speech=from_speech)
    if not on_green and reads_as_putt(read.scene, lie, read.distances, read.trouble, read.green):
        on_green = True
        read = _measured(scene, lie, shot, on_green=True, from_speech=from_speech)
    distances, trouble, green = read.distances, read.trouble, read.green
    toward, off = blown_by(scene, "toward"), blown_by(scene, "off")
    placed = with_origin(wind.wind, toward, off, trouble.hazards)
    wind = replace(wind, wind=placed, said=wind.said or bool(toward or off))
    evidence = Evidence.of(read.scene, distances, lie, trouble, green, wind, shot)
    made = not only_spoken_of(heard)
    intent = decide(read.scene, evidence, correcting=correcting, on_green=on_green, made=made)
    if intent is Intent.OUT_OF_SCOPE:
        return _denial(heard, scene, evidence, lie) or Understanding(heard=heard, intent=intent)
    if intent is Intent.RESULT:
        return _result(heard, scene.afresh(), shot, lie, trouble)
    left = left_over(read.scene, hazards=trouble.hazards, lies_at=lie.bunker_at, lost=distances.lost)
    if intent not in (Intent.SITUATION, Intent.PUTT, Intent.WHAT_IF, Intent.CORRECT):
        return Understanding(heard=heard, intent=intent, left_over=left)
    open_sides = () if on_green else read_open_sides(read.scene, trouble.hazards)
    situation = _situation(distances, lie, trouble, green, wind, open_sides, on_green=on_green)
    return Understanding(
        heard=heard,
        intent=intent,
        situation=situation,
        club=shot.club,
        swing=shot.swing,
        effort=shot.effort,
        family=shot.family if intent is not Intent.PUTT else None,
        flight=shot.flight,
        face=shot.face,
        not_lying=tuple(sorted(scene.denied_lies)),
        level_stance=lie.level and not lie.stance,
        gone=_gone(scene, trouble),
        not_green=not_green(scene),
        wind_toward=toward if placed.from_ is None else (),
        wind_off=off if placed.from_ is None else (),
        pin_named=distances.pin_rank == TO_THE_FLAG,
        pin_unit=distances.pin_unit,
        plays_only=distances.pin_rank == PLAYS,
        lies_well=lie.lie is Lie.FAIRWAY and _lies_well(scene),
        corrected=_corrected(situation, shot) if intent is Intent.CORRECT else (),
        approximate=distances.approximate,
        pin_range_m=distances.pin_range_m,
        sounds_like_m=distances.sounds_like_m,
        left_over=left,
        problem=distances.problem or trouble.problem or green.problem or wind.problem,
    )


def _measured(scene: Scene, lie: LieSaid, shot: ShotNamed, *, on_green: bool, from_speech: bool) -> _Measured:
    """Distances, trouble and green, each leaving the numbers it takes out of reach of the next."""
    scene = scene.afresh()
    scene.lain_in = lie.bunker_at
    trouble = read_trouble(scene, lie.bunker_at)
    distances = read_distances(scene, on_green=on_green, from_speech=from_speech, others=_of_the_green(scene))
    chips = lie.lie is Lie.FRINGE or bool(lie.greenside) or shot.family is Family.CHIP
    near = is_near(distances.pin_m, distances.front_m, chips=chips)
    putts = lie.lie is Lie.FRINGE
    green = read_green(scene, trouble.hazards, on_green=on_green, near=near, putts=putts)
    if on_green:
        trouble.hazards, trouble.lip_m = tiers_told(scene, trouble), None
        green.green = with_its_part(with_rise(green.green, scene, distances.pin_m), scene, distances.pin_m)
    trouble.hazards = set_on_the_way(scene, distances, trouble.hazards, on_green=on_green)
    if distances.front_m is None:
        distances.front_m = trouble.front_m
    trouble.hazards = carried_to(scene, trouble, distances.front_m)
    settle_the_room(scene, distances, trouble.pin_position)
    return _Measured(scene, distances, trouble, green)


def _of_the_green(scene: Scene) -> set[int]:
    """Numbers that tell the green's speed, slope or height, which are read after the distances."""
    told = {m.quantity_at for m in scene.having("stimp", "elevation", "slope") if "distance" not in m}
    return {at for at in told if at is not None} | break_amounts(scene)


def _gone(scene: Scene, trouble: TroubleSaid) -> tuple[HazardKind, ...]:
    """Trouble that was said not to be there, and not told in the same breath: "no water left, it's right"."""
    told = {hazard.kind for hazard in trouble.hazards}
    return tuple(kind for kind in HazardKind if kind in scene.gone and kind not in told)


def _lies_well(scene: Scene) -> bool:
    """Whether a lie was called good, and no other was named."""
    return all(mention.get("good_lie") for mention in scene.having("lie"))


def _denial(heard: str, scene: Scene, evidence: Evidence, lie: LieSaid) -> Understanding | None:
    """ "There's no water", "I'm not in the bunker", "level stance": nothing told but what is not."""
    denied = scene.gone or scene.denied_lies or scene.denied_green or lie.level
    if not denied or evidence.strange + evidence.elsewhere:
        return None
    if is_question(heard) and not any(scene.having("gone")):
        return None
    return Understanding(
        heard=heard,
        intent=Intent.CORRECT,
        not_lying=tuple(sorted(scene.denied_lies)),
        level_stance=lie.level,
        gone=_gone(scene, TroubleSaid()),
        not_green=not_green(scene),
    )


def _result(heard: str, scene: Scene, shot: ShotNamed, lie: LieSaid, trouble: TroubleSaid) -> Understanding:
    result = read_result(scene)
    return Understanding(
        heard=heard,
        intent=Intent.RESULT,
        result=result,
        club=shot.club,
        commitment=read_commitment(scene),
        down_in=read_strokes(scene),
        gone=_gone(scene, TroubleSaid()) if result == Result() else (),
        left_over=left_over(scene, hazards=trouble.hazards, lies_at=lie.bunker_at, lost=()),
    )


def _situation(
    distances: Distances,
    lie: LieSaid,
    trouble: TroubleSaid,
    green: GreenSaid,
    wind: WindSaid,
    open_sides: tuple[Side, ...],
    *,
    on_green: bool,
) -> Situation:
    return Situation(
        pin_m=distances.pin_m,
        front_m=distances.front_m,
        room_m=distances.room_m,
        behind_m=None if on_green else distances.behind_m,
        lie=Lie.GREEN if on_green else lie.lie,
        lie_guessed=None if on_green else lie.guessed,
        sitting=lie.sitting,
        wet=lie.wet,
        dirty_grooves=lie.dirty_grooves,
        mud_on_ball=lie.mud_on_ball,
        mud_side=lie.mud_side,
        sand=lie.sand,
        lip_m=lie.lip_m if trouble.lip_m is None else trouble.lip_m,
        deep_bunker=lie.deep_bunker,
        lip_away_m=lie.lip_away_m,
        under_lip=lie.under_lip,
        sand_behind=lie.sand_behind,
        hampered=lie.hampered,
        tall_grass=lie.tall_grass,
        obstruction=lie.obstruction,
        in_line=lie.in_line,
        against=lie.against,
        unplayable=lie.unplayable,
        stance=lie.stance,
        steepness=lie.steepness,
        flyer=lie.flyer,
        # Of a putt, "left centre" is the line.
        pin_position=None if green.borrow is not None else trouble.pin_position,
        elevation_m=green.elevation_m,
        hazards=trouble.hazards,
        green=green.green,
        wind=wind.wind,
        greenside=lie.greenside,
        open_sides=open_sides,
    )


@lru_cache(maxsize=1)
def _nothing() -> Situation:
    return Situation(green=Green(), wind=Wind())


def _corrected(situation: Situation, shot: ShotNamed) -> tuple[str, ...]:
    empty = _nothing()
    fields = [
        name for name in type(situation).model_fields if getattr(situation, name) != getattr(empty, name)
    ]
    named_parts = {"club": shot.club, "swing": shot.swing, "family": shot.family, "flight": shot.flight}
    return tuple(sorted(fields + [name for name, value in named_parts.items() if value is not None]))
