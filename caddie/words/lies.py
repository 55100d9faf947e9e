"""The lie, how the ball sits in it, and the slope under the feet."""

from dataclasses import dataclass

from caddie.situation import (
    IN_SAND,
    Against,
    BallSide,
    Hampered,
    InLine,
    Lie,
    Obstruction,
    Sand,
    Sitting,
    Stance,
    Steepness,
)
from caddie.words.lies_elsewhere import came_off, stands_elsewhere
from caddie.words.mentions import Mention
from caddie.words.result_mentions import goes_on_from_there
from caddie.words.roles import measures_room_on_the_green
from caddie.words.sand import (
    OUT_OF,
    bunker_lain_in,
    calls_it_deep,
    is_beside_the_sand,
    is_named_deep,
    is_other_sand,
    water_lain_in,
)
from caddie.words.scene import Scene
from caddie.words.similes import is_likened
from caddie.words.thick_grass import long_grass, thickened

_TELLS_MOST = (
    Lie.PLUGGED,
    Lie.DIVOT,
    Lie.BARE,
    Lie.PINE_STRAW,
    Lie.HEAVY_ROUGH,
    Lie.BUNKER,
    Lie.FIRST_CUT,
    Lie.LIGHT_ROUGH,
    Lie.FRINGE,
    Lie.FAIRWAY,
    Lie.GREEN,
)
"""Of two lies said together, a divot in the fairway, the one that changes the shot more."""

_SITS_IN = (Lie.BUNKER, Lie.FIRST_CUT, Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH)
"""Where a good lie is a ball that sits up; elsewhere it is the fairway's."""

_TELLS_OF_THE_BALL = frozenset(
    {
        *("i", "we", "it", "ball", "myself", "he", "she", "one", "shot", "putt", "putting", "chip"),
        *("away", "out", "up", "back", "down", "over", "uphill", "downhill", "hill", "and", "but", "then"),
        *("still", "already", "safely", "finally", "sitting", "sits", "sat", "lying", "resting", "got"),
        *("get", "landed", "land", "finished", "ended", "stopped", "rolled", "came", "feet", "in", "there"),
    }
)
"""What stands right before "on the green" when it says where the ball is."""
_LIP_M = {"none": 0.0, "low": 0.3, "high": 1.5, "under_high": 1.5}
"""Heights of a lip that is called low or high (common practice, no source)."""
_OFF_GREEN = ("front", "off_edge")
_SOON = 3  # Pieces behind "in" within which it is told what the ball is in.
_SUNK = frozenset({"nestled", "nestling", "buried", "sunk", "snuggled", "down", "deep", "sinking"})


@dataclass
class LieSaid:
    """What the ball lies on and how."""

    lie: Lie | None = None
    guessed: bool | None = None
    """Whether the lie is what usually lies there, and none was told."""
    sitting: Sitting | None = None
    wet: bool | None = None
    dirty_grooves: bool | None = None
    mud_on_ball: bool | None = None
    mud_side: BallSide | None = None
    sand: Sand | None = None
    lip_m: float | None = None
    deep_bunker: bool | None = None
    lip_away_m: float | None = None
    under_lip: bool | None = None
    sand_behind: bool | None = None
    against: Against | None = None
    unplayable: bool | None = None
    hampered: Hampered | None = None
    tall_grass: bool | None = None
    obstruction: Obstruction | None = None
    in_line: InLine | None = None
    greenside: bool | None = None
    stance: tuple[Stance, ...] = ()
    level: bool = False
    """Whether the ground under ball and feet is said not to slope."""
    steepness: Steepness | None = None
    flyer: bool | None = None
    bunker_at: frozenset[int] = frozenset()
    """Pieces that name the bunker the ball lies in, not one in the way."""


_GROUND = frozenset({Lie.FAIRWAY, Lie.FIRST_CUT, Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH})


def read_lie(scene: Scene) -> LieSaid:
    """The lie and everything about it."""
    said = LieSaid()
    lies: list[Lie] = []
    well: Sitting | None = None
    in_a_word: Sitting | None = None
    """ "38, heavy rough, down": how a ball sits, where it can."""
    underfoot: object = None
    deep = False
    mine: set[int] = set()
    beside = is_beside_the_sand(scene)
    for mention in (m for m in scene.facts if not (came_off(scene, m) or is_other_sand(scene, m))):
        lie = mention.get("lie")
        if beside and (lie in IN_SAND or "feet_in_sand" in mention):
            mine |= _trouble_in(scene, mention)
            continue
        if lie is not None and _is_of_the_ball(scene, mention) and not goes_on_from_there(scene, mention):
            if not (_gives_way(mention) and _told_besides(scene, mention)):
                lies.append(thickened(scene, mention, Lie(str(lie))))
            if "under" not in mention:
                mine |= _trouble_in(scene, mention)
        if (sitting := mention.get("sitting")) is not None and not _of_something_else(scene, mention):
            said.sitting = Sitting(str(sitting))
        if mention.get("alone") and scene.pieces[mention.start].after_break:
            in_a_word = Sitting(str(mention.get("alone")))
        if mention.get("good_lie"):
            well = Sitting.UP
        if not (_tells_why_it_is_soft(scene, mention) or is_likened(scene, mention)):
            _of_the_grass(mention, said)
        if calls_it_deep(scene, mention):
            deep = True
        else:
            _of_the_sand(mention, said)
        underfoot = mention.get("underfoot") or underfoot
        if (against := mention.get("against")) is not None:
            said.against = Against(str(against))
            mine |= _trouble_in(scene, mention)
        _of_the_mud(mention, said)
        if _is_beside_it(mention, said):
            mine |= _trouble_in(scene, mention)
        _of_the_ground(mention, said)
    lies = _sunk_in_grass(scene, lies, said)
    if beside:
        said.stance = _above_the_feet(scene, said.stance)
        lies = lies or [Lie.LIGHT_ROUGH]
    lies, named = bunker_lain_in(scene, lies or _told_by_how_it_sits(scene) or long_grass(scene))
    lies = lies or [Lie.FAIRWAY] * (well is not None)
    mine |= named
    if said.against is Against.WATER:
        mine |= water_lain_in(scene)
    said.lie = next((lie for lie in _TELLS_MOST if lie in lies), None)
    said.guessed = _is_guessed(scene, said.lie)
    if said.against is Against.COLLAR and Lie.FRINGE in lies:
        said.lie = Lie.FRINGE  # The rough is what it lies against.
    if said.lie is not Lie.HEAVY_ROUGH:
        said.tall_grass = None
    said.sitting = _sits(said.lie, said.sitting, well or in_a_word)
    _of_its_bunker(scene, said, mine, underfoot, deep=deep)
    said.stance = _across_a_bank(scene, said.stance)
    return said


def _of_its_bunker(scene: Scene, said: LieSaid, mine: set[int], underfoot: object, *, deep: bool) -> None:
    """How the sand is by how it feels to the feet, which bunker it is, and whether that is a deep one."""
    if underfoot and said.sand is None and said.lie in IN_SAND:
        said.sand = Sand(str(underfoot))
    said.bunker_at = frozenset(mine)
    said.deep_bunker = (said.lie in IN_SAND and (deep or is_named_deep(scene, mine))) or None


def _trouble_in(scene: Scene, mention: Mention) -> set[int]:
    return {at for at in range(mention.start, mention.end) if scene.is_trouble(at)}


def _tells_why_it_is_soft(scene: Scene, mention: Mention) -> bool:
    """ "The green's soft after the rain": the weather of a firmness, in its clause, and no wet ball."""
    firm = (m for m in scene.having("firmness") if not scene.breaks_between(m.start, mention.start))
    return "weather" in mention and any(firm)


def _of_the_grass(mention: Mention, said: LieSaid) -> None:
    """Wet or dry, grooves full of it, beside the green, and not to be played at all."""
    if (wet := mention.get("wet")) is not None:
        said.wet = bool(wet)
    if (dirty := mention.get("dirty_grooves")) is not None:
        said.dirty_grooves = bool(dirty)
    if mention.get("greenside"):
        said.greenside = True
    said.unplayable = said.unplayable or bool(mention.get("unplayable")) or None


def _is_of_the_ball(scene: Scene, mention: Mention) -> bool:
    """Whether the lie that a mention names is the one under the ball."""
    on_green = mention.get("lie") == Lie.GREEN
    return not (
        mention.get("good_lie")  # Told of whatever it lies on; the fairway's, if of nothing else.
        or stands_elsewhere(scene, mention.start, mention.end)
        or (on_green and _tells_of_the_green(scene, mention))
        or (mention.get("by_stroke") and any(m.get("distance") in _OFF_GREEN for m in scene.facts))
        or (mention.get("of_grass") and _names_the_greens_grass(scene, mention))
        or measures_room_on_the_green(scene, mention)
    )


def _names_the_greens_grass(scene: Scene, mention: Mention) -> bool:
    """ "A putt on the kikuyu": what the green is sown with."""
    led = mention.start > 0 and scene.pieces[mention.start - 1].text in OUT_OF
    putt = any(p.text == "putt" or (p.quantity is not None and p.quantity.footer) for p in scene.pieces)
    return not led and (putt or any(m.get("lie") == Lie.GREEN for m in scene.having("lie")))


def _above_the_feet(scene: Scene, stance: tuple[Stance, ...]) -> tuple[Stance, ...]:
    """Feet down in the sand, with the ball on the grass beside it."""
    told = {Stance.BALL_ABOVE, Stance.BALL_BELOW} & {*stance}
    return stance if told or not any(scene.having("feet_in_sand")) else (*stance, Stance.BALL_ABOVE)


def _sunk_in_grass(scene: Scene, lies: list[Lie], said: LieSaid) -> list[Lie]:
    """The lies without the sand that no ball in turf or grass is plugged in."""
    if _is_buried_in_grass(scene, lies):
        said.sitting = Sitting.DOWN
        return [lie for lie in lies if lie is not Lie.PLUGGED]
    if _is_embedded_in_grass(scene, lies):
        said.sitting = Sitting.EMBEDDED
        return [lie for lie in lies if lie in _GROUND]
    return lies


def _is_buried_in_grass(scene: Scene, lies: list[Lie]) -> bool:
    """ "In the rough, the ball is buried": deep down in the grass; plugged is said of sand and of soft ground."""
    sunk = (_texts(scene, m) for m in scene.having("lie") if m.get("lie") == Lie.PLUGGED)
    buried = any({"buried", "top"} & {*words} for words in sunk)
    in_grass = Lie.LIGHT_ROUGH in lies or Lie.HEAVY_ROUGH in lies
    return buried and in_grass and Lie.BUNKER not in lies


def _is_embedded_in_grass(scene: Scene, lies: list[Lie]) -> bool:
    """ "Embedded in soft fairway": plugged in the ground, where no sand is told of."""
    sand = any(piece.text == "BUNKER" for piece in scene.pieces) or any(scene.having("sand"))
    sunk = any(
        {"plugged", "embedded"} & {*_texts(scene, m)}
        for m in scene.having("lie")
        if m.get("lie") == Lie.PLUGGED
    )
    return sunk and not _GROUND.isdisjoint(lies) and not sand and Lie.BUNKER not in lies


def _texts(scene: Scene, mention: Mention) -> list[str]:
    return [piece.text for piece in scene.pieces[mention.start : mention.end]]


def _of_the_ground(mention: Mention, said: LieSaid) -> None:
    """The slope under the feet, how steep it is, and grass that makes a flyer."""
    said.flyer = said.flyer or bool(mention.get("flyer")) or None
    stance, steepness = mention.get("stance"), mention.get("steepness")
    said.level = said.level or stance == "flat" or bool(mention.get("level_there"))
    if stance is None or stance in ("side", "flat"):
        return
    said.stance = tuple(dict.fromkeys((*said.stance, Stance(str(stance)))))
    if steepness is not None:
        said.steepness = Steepness(str(steepness))


def _in_the_way(mention: Mention, said: LieSaid) -> bool:
    """What hampers the swing or lies on the line; whether the mention tells of something beside the ball."""
    if (hampered := mention.get("hampered")) is not None:
        told = Hampered(str(hampered))
        # A ball played the wrong way round, or out of a bush, is told by that more than by the stance for it.
        said.hampered = max(told, said.hampered or told, key=list(Hampered).index)
    if (in_line := mention.get("in_line")) is not None:
        said.in_line = InLine(str(in_line))
    said.tall_grass = said.tall_grass or bool(mention.get("tall_grass")) or None
    if (obstruction := mention.get("obstruction")) is not None:
        said.obstruction = Obstruction(str(obstruction))
    return hampered is not None or in_line is not None


def _is_beside_it(mention: Mention, said: LieSaid) -> bool:
    """Whether trouble that is named stands at the ball itself and is no other."""
    beside = ("sand_behind", "beside_sand", "feet_in_sand")
    return _in_the_way(mention, said) or any(key in mention for key in beside)


def _of_the_mud(mention: Mention, said: LieSaid) -> None:
    said.mud_on_ball = said.mud_on_ball or bool(mention.get("mud_on_ball")) or None
    if (side := mention.get("mud_side")) is not None:
        said.mud_side = BallSide(str(side))


def _of_the_sand(mention: Mention, said: LieSaid) -> None:
    said.sand_behind = said.sand_behind or bool(mention.get("sand_behind")) or None
    if (sand := mention.get("sand")) is not None and said.sand is not Sand.THIN:
        said.sand = Sand(str(sand))
    if (lip := mention.get("lip")) is not None:
        said.lip_m = _LIP_M.get(str(lip), said.lip_m)
        said.under_lip = str(lip).startswith("under") or said.under_lip
    if (lip_m := mention.get("lip_m")) is not None:
        said.lip_m = float(str(lip_m))


def _sits(lie: Lie | None, told: Sitting | None, in_a_word: Sitting | None) -> Sitting | None:
    """How the ball sits; "buried, I can hardly see it" tells no more than that it is plugged."""
    if lie is Lie.PLUGGED and told is Sitting.DOWN:
        return None
    return told or in_a_word if lie in _SITS_IN else told


def _across_a_bank(scene: Scene, stance: tuple[Stance, ...]) -> tuple[Stance, ...]:
    """ "Above my feet on this bank": the bank is what puts it there, no hill to climb besides."""
    if not {Stance.BALL_ABOVE, Stance.BALL_BELOW} & {*stance} or Stance.UPHILL not in stance:
        return stance
    uphill = [m for m in scene.having("stance") if m.get("stance") == Stance.UPHILL]
    if all(_on_a_bank(scene, mention) for mention in uphill):
        return tuple(each for each in stance if each is not Stance.UPHILL)
    return stance


def _on_a_bank(scene: Scene, mention: Mention) -> bool:
    """Whether the slope is named as a thing that stands there; an upslope under the feet is how one stands."""
    named = [piece.said for piece in scene.pieces[mention.start : mention.end] if piece.text == "UPSLOPE"]
    return any("bank" in said for said in named)


def _gives_way(mention: Mention) -> bool:
    """Whether a lie is only what usually lies there, or is told by the ground under the grass."""
    return bool(mention.get("guessed") or mention.get("of_ground"))


def _told_besides(scene: Scene, guess: Mention) -> bool:
    """ "Under a tree, light rough": what grows there is told, and no guess of needles is wanted."""
    return any(
        not _gives_way(mention) and not stands_elsewhere(scene, mention.start, mention.end)
        for mention in scene.having("lie")
        if mention is not guess and mention.get("lie") != Lie.GREEN
    )


def _is_guessed(scene: Scene, lie: Lie | None) -> bool | None:
    """Whether a lie is known from the place alone: "in the trees"."""
    telling = [mention for mention in scene.having("lie") if mention.get("lie") == lie]
    return (bool(telling) and all(mention.get("guessed") for mention in telling)) or None


def _tells_of_the_green(scene: Scene, mention: Mention) -> bool:
    """ "Everything kicks left on this green" says what is on the green, not that the ball is."""
    at = mention.start
    if scene.pieces[at].text not in ("on", "onto") or at == 0 or scene.pieces[at].after_break:
        return False
    return scene.pieces[at - 1].quantity is None and scene.pieces[at - 1].text not in _TELLS_OF_THE_BALL


def _of_something_else(scene: Scene, mention: Mention) -> bool:
    """ "The pin's perched on a ridge", "down in the bunker": no ball sits so."""
    at = mention.start
    perched = at > 0 and scene.pieces[at].text == "perched" and not scene.pieces[at].after_break
    of_the_flag = perched and scene.pieces[at - 1].text in ("FLAG", "GREEN")
    return of_the_flag or _down_in_trouble(scene, mention)


def _down_in_trouble(scene: Scene, mention: Mention) -> bool:
    """ "Down in the bunker" and "settled in the semi" say where the ball is, "down in it" how it sits."""
    words = [piece.text for piece in scene.pieces[mention.start : mention.end]]
    after = mention.end
    if words[-1] != "in" or "lie" in mention or after == len(scene.pieces) or scene.pieces[after].after_break:
        return False
    if scene.is_trouble(after) or (scene.pieces[after].text == "it" and _is_where_i_am(scene, mention)):
        return True
    end = next((at for at in range(after, len(scene.pieces)) if scene.pieces[at].after_break), after + _SOON)
    named = (m for m in scene.having("lie") if after < m.end and m.start < min(end, after + _SOON))
    return _SUNK.isdisjoint(words) and any(named)


def _is_where_i_am(scene: Scene, mention: Mention) -> bool:
    """ "I'm sat in it": the player is, in what was named before."""
    return mention.start > 0 and scene.pieces[mention.start - 1].text in ("i", "we")


def _told_by_how_it_sits(scene: Scene) -> list[Lie]:
    """ "Up on top of the rough" tells what it lies in too."""
    return [Lie.LIGHT_ROUGH] if any("rough" in _texts(scene, m) for m in scene.having("sitting")) else []
