"""Where the pin is cut, and what stands short, long, left or right of it."""

from caddie.situation import USUAL_BRANCH_M, Hazard, HazardKind, PinPosition, Side
from caddie.words.breaks import two_ways
from caddie.words.carries import read_apart, read_carries, read_heights, read_over
from caddie.words.fallen_to import put_where_it_falls
from caddie.words.heads import Head, TroubleSaid, head_at, heads_of
from caddie.words.mentions import Mention
from caddie.words.obstacles import barriers_and_bounds, read_stand_off, read_ways_past, stops_the_club
from caddie.words.quantities import clause_start
from caddie.words.scene import Scene

_SIDE_OF = {"front": Side.SHORT, "back": Side.LONG}
_BOTH = {"sides": (Side.LEFT, Side.RIGHT), "ends": (Side.SHORT, Side.LONG)}
_ON_ONE_SIDE = "one_side"
_OF_A_HAZARD = tuple("carry_m height_m clear_m down not_over round gap_m past_flag_m called".split())
_ALWAYS_SHORT = (HazardKind.FALSE_FRONT,)
_FARTHEST_ATTACHED = 7.0
_NAMED_SOON = 2
"""Words at most between trouble without a name and what it is."""
_TOWARD = frozenset({"into", "to", "toward", "towards", "in"})
_ON_THE_WAY = frozenset("and but before it i you straight right into in to comes goes ground there".split())
_SEEN_FROM_BEHIND = {PinPosition.FRONT: PinPosition.BACK}
"""Where the lower tier is to a player behind the green."""
_OF_THE_BALL = frozenset({"in", "on", "from", "off", "out"})
"""Before a lie that an utterance begins with, they tell where the ball is."""


def read_trouble(scene: Scene, not_hazards: frozenset[int]) -> TroubleSaid:
    """The pin position and hazards; ``not_hazards`` are pieces that name the lie itself."""
    places = _places_told(scene)
    heads = heads_of(scene, not_hazards, places)
    heads += [Head(m.start, m.end, HazardKind.UNNAMED) for m in _without_a_side(scene, heads)]
    said = TroubleSaid()
    places = _that_place_something(heads, places, read_stand_off(scene, heads))
    for mention in places:
        if mention.get("with") == "trouble" and mention.trouble_at is not None:
            head = head_at(heads, mention.trouble_at)
            if head is not None:
                head.places.append(_place(mention))
                head.screens = scene.pieces[mention.start].text in ("behind", "over") and any(
                    other.kind is None and 0 <= mention.start - other.end <= 3 for other in heads
                )
    for mention in places:
        if mention.get("with") == "it":
            _attach_to_it(heads, mention)
        elif mention.get("with") != "trouble" and not _tells_where_the_ball_is(scene, mention):
            _attach(scene, heads, mention)
    read_ways_past(scene, heads)
    read_apart(scene, heads)
    read_over(scene, heads)
    read_carries(scene, heads, said)
    read_heights(scene, heads)
    for mention in scene.having("tier"):
        head = head_at(heads, mention.trouble_at) if mention.trouble_at is not None else None
        if head is not None:
            head.down = mention.get("tier") == "down"
    put_where_it_falls(scene, heads)
    heads = [head for head in heads if not (head.mine or _is_no_trouble(scene, head))]
    heads = barriers_and_bounds(scene, heads)
    _past_the_green(scene, heads)
    _hang(scene, heads)
    from_behind = _come_down_from_behind(scene, heads)
    outright = [
        m
        for m in scene.having("hazard")
        if not (_is_named_next(heads, m) or any(head.start == m.start for head in heads))
    ]
    nowhere = [head for head in heads if head.kind is HazardKind.UNNAMED and not head.places]
    hazards = [hazard for head in heads if head.kind and head not in nowhere for hazard in _hazards(head)]
    hazards += [hazard for mention in outright for hazard in _named_outright(mention, scene)]
    said.hazards = _merged(_named_elsewhere(hazards))
    said.pin_position = _pin_position([head for head in heads if head.kind is None])
    if from_behind and said.pin_position in _SEEN_FROM_BEHIND:
        said.pin_position = _SEEN_FROM_BEHIND[said.pin_position]
    return said


def _places_told(scene: Scene) -> list[Mention]:
    """Every place but those that tell how a putt breaks or how long the grass is."""
    twice = two_ways(scene)
    broken = {*break_places(scene), *(twice.at if twice else ())}
    breaks = {m.start for m in scene.having("break")}
    return [
        m
        for m in scene.having("where", "side")
        # "Then back right to left": how it breaks, and no place.
        if "hazard" not in m
        and m.start not in broken
        and m.end not in breaks
        and not _is_of_the_grass(scene, m)
    ]


def _is_of_the_grass(scene: Scene, place: Mention) -> bool:
    """ "Deep, dark rough": how long the grass is, though a flag may be deep too."""
    return "thick" in place and any(scene.gap(place, m.start, m.end) <= 1 for m in scene.having("lie"))


def _that_place_something(heads: list[Head], places: list[Mention], ahead: frozenset[int]) -> list[Mention]:
    """The places without the pieces that tell how far ahead trees stand, and "can't go over" said of trees."""
    trees = any(head.kind is HazardKind.TREES and not head.mine for head in heads)
    places = [m for m in places if m.start not in ahead or m.get("with") == "trouble"]
    return [m for m in places if not (trees and "not_over" in m)]


def break_places(scene: Scene) -> dict[int, str]:
    """Left and right that tell which way a putt breaks, by where they stand: "breaks a lot to the left"."""
    found: dict[int, str] = {}
    for lead in scene.having("break_lead"):
        if lead.start and scene.is_trouble(lead.start - 1) and not scene.pieces[lead.start].after_break:
            continue  # "Out of bounds runs all along the right".
        for mention in scene.having("where"):
            way = mention.get("where")
            near = 0 <= mention.start - lead.end <= 2 and not scene.breaks_between(lead.start, mention.start)
            if near and way in ("left", "right"):
                found[mention.start] = str(way)
    return found


def _place(mention: Mention) -> str:
    return str(mention.get("where") or mention.get("side"))


def _attach(scene: Scene, heads: list[Head], mention: Mention) -> None:
    only_trouble = "where" not in mention
    wanted = [head for head in heads if head.kind is not None or not only_trouble]
    costs = [(_distance(scene, heads, head, mention), index) for index, head in enumerate(wanted)]
    cost, index = min(costs, default=(99.0, -1))
    place = _place(mention)
    if (meant := _meant_by_they(scene, heads, mention)) is not None:
        meant.places.append(place)
        return
    names_flag = any(piece.text == "FLAG" for piece in scene.pieces[mention.start : mention.end])
    if names_flag and "where" in mention and "side" not in mention:
        heads.append(Head(mention.start, mention.end, None, [place]))
    elif cost <= _FARTHEST_ATTACHED:
        head = wanted[index]
        head.places.append(place)
        if head.several or head.kind is HazardKind.UNNAMED:
            head.end = max(head.end, mention.end)
    elif "warned" in mention:
        heads.append(Head(mention.start, mention.end, HazardKind.UNNAMED, [place]))
    elif "where" in mention and "side" not in mention and _means_pin_alone(scene, mention, place):
        heads.append(Head(mention.start, mention.end, None, [place]))


def _meant_by_they(scene: Scene, heads: list[Head], mention: Mention) -> Head | None:
    """ "Trees, lovely ones, but they're all along the left": the place is that of the trouble named before."""
    start = clause_start(scene.pieces, mention.start)
    led = {piece.text for piece in scene.pieces[start : mention.start]}
    before = [head for head in heads if head.end <= start]
    if "they" not in led or not before or any(start <= head.start < mention.start for head in heads):
        return None
    return before[-1] if before[-1].kind and not before[-1].mine and not before[-1].places else None


def _attach_to_it(heads: list[Head], mention: Mention) -> None:
    """ "A ridge in the middle, and the flag is behind it"."""
    before = [head for head in heads if head.kind and not head.mine and head.end <= mention.start]
    if before:
        before[-1].places.append(_place(mention))


def _tells_where_the_ball_is(scene: Scene, place: Mention) -> bool:
    """ "On the short grass in the middle, the flag is forty away": the place of the lie, at the end of its clause."""
    if place.get("where") is None or place.end == place.start + 1 or scene.pieces[place.start].after_break:
        return False
    ends = place.end == len(scene.pieces) or scene.pieces[place.end].after_break
    lies = (m for m in scene.having("lie") if m.end == place.start)
    return ends and any(m.start > 0 or scene.pieces[0].text in _OF_THE_BALL for m in lies)


def _means_pin_alone(scene: Scene, mention: Mention, place: str) -> bool:
    """A place with nothing near to have it is the pin's, if it is plainly a place."""
    if place in ("sides", "ends", "left", "right"):
        return False
    return mention.end - mention.start > 1 or place in ("middle",)


def _distance(scene: Scene, heads: list[Head], head: Head, mention: Mention) -> float:
    if mention.start <= head.start < mention.end:
        return 99.0
    gap = scene.gap(mention, head.start, head.end)
    if head.kind is HazardKind.TIER and any(
        p.text == "TIER" for p in scene.pieces[mention.start : mention.end]
    ):
        return 99.0  # "On the back tier" tells where the flag is, whatever other tier was named.
    if head.kind is HazardKind.UNNAMED and (gap > 1 or scene.breaks_between(mention.start, head.start)):
        return 99.0
    if head.kind is None and "side" in mention and scene.breaks_between(mention.start, head.start):
        return 99.0  # "In front of the green, 14 to the cup": beside the green, not where the hole is cut.
    after = head.start >= mention.end
    low, high = (mention.end, head.start) if after else (head.end, mention.start)
    between = [other for other in heads if other is not head and low <= other.start < high]
    crossed = scene.breaks_between(mention.start, head.start)
    if head.kind is None and between and all(other.screens for other in between):
        return 1.0 + crossed
    led = 0.0 if not after else 0.5 if gap == crossed == 0 and head.kind is None else 1.5
    cost = gap + 2.0 * crossed + 3.0 * len(between) + led + (4.0 if head.screens else 0.0)
    if head.places and not head.several:
        cost += 1.0 if _complementary(head.places[-1], _place(mention)) else 4.0
    return cost


def _complementary(first: str, second: str) -> bool:
    across = ("left", "right")
    return (first in across) != (second in across) and "_" not in first + second


def _hazards(head: Head) -> list[Hazard]:
    assert head.kind is not None
    told = {name: getattr(head, name) for name in _OF_A_HAZARD if name != "clear_m"}
    plain = Hazard(kind=head.kind, **told)
    if head.overhead:
        plain = plain.model_copy(update={"height_m": None, "clear_m": head.height_m or USUAL_BRANCH_M})
    both = next((_BOTH[place] for place in head.places if place in _BOTH), None)
    if both is not None:
        return [plain.model_copy(update={"side": side}) for side in both]
    sides = list(dict.fromkeys(side for place in head.places for side in _sides_of(place)))
    if len(head.places) == 1 and len(sides) == 2 and head.carry_m is None:
        return [plain.model_copy(update={"side": s, "corner": c}) for s, c in (sides, sides[::-1])]
    if head.kind in _ALWAYS_SHORT:
        sides = [Side.SHORT]
    if not sides and (head.carry_m is not None):
        sides = [Side.SHORT]
    if not sides and _ON_ONE_SIDE in head.places:
        return [plain.model_copy(update={"beside": True})]
    return [plain.model_copy(update={"side": side}) for side in sides or [None]]


def _merged(hazards: list[Hazard]) -> tuple[Hazard, ...]:
    """One hazard where the same was named twice, the second time with its carry."""
    kept: list[Hazard] = []
    for hazard in dict.fromkeys(hazards):
        same = next((k for k in kept if (k.kind, k.side) == (hazard.kind, hazard.side)), None)
        if same is None or None not in (same.carry_m, hazard.carry_m):
            kept.append(hazard)
            continue
        both = {name: _either(getattr(same, name), getattr(hazard, name)) for name in _OF_A_HAZARD}
        both["height_m"] = None if both["clear_m"] is not None else both["height_m"]
        kept[kept.index(same)] = same.model_copy(update=both)
    kept = _branches_of_the_trees(kept)
    placed = {hazard.kind for hazard in kept if hazard.side is not None}
    return tuple(h for h in kept if h.side is not None or h.carry_m is not None or h.kind not in placed)


def _named_elsewhere(hazards: list[Hazard]) -> list[Hazard]:
    """ "A wall behind, so I can't be long": trouble without a name is what else was told to be on that side."""
    sides = {hazard.side for hazard in hazards if hazard.kind is not HazardKind.UNNAMED}
    return [h for h in hazards if h.kind is not HazardKind.UNNAMED or h.side not in sides]


def _branches_of_the_trees(hazards: list[Hazard]) -> list[Hazard]:
    """ "A gap between two trunks, low branches as well": both are passed at one place."""
    trees = [h for h in hazards if h.kind is HazardKind.TREES and h.side in (Side.SHORT, None)]
    told = [h for h in trees if h.gap_m or h.round]
    branches = [h for h in trees if h.clear_m and h not in told]
    if not (told and branches):
        return hazards
    both = told[0].model_copy(update={"clear_m": branches[0].clear_m, "height_m": None})
    return [both if h is told[0] else h for h in hazards if h not in branches]


def _either(first: object, second: object) -> object:
    return second if first is None else first


def _sides_of(place: str) -> list[Side | None]:
    """A corner is at both its sides: "bunker front left"."""
    named = [_SIDE_OF.get(part) or _as_side(part) for part in place.split("_")]
    return [side for side in named if side is not None]


def _as_side(place: str) -> Side | None:
    return Side(place) if place in set(Side) else None


def _named_outright(mention: Mention, scene: Scene) -> list[Hazard]:
    kind, side = HazardKind(str(mention.get("hazard"))), mention.get("side")
    if mention.get("around"):
        return [Hazard(kind=kind, side=each) for each in Side]
    if side is None:
        near = min(
            (m for m in scene.having("side", "where") if m is not mention),
            key=lambda m: scene.gap(m, mention.start, mention.end),
            default=None,
        )
        if near is None or scene.gap(near, mention.start, mention.end) > 2:
            return []
        if scene.breaks_between(near.start, mention.start):
            return []
        return [Hazard(kind=kind, side=side) for side in _sides_of(_place(near))]
    return [Hazard(kind=kind, side=Side(str(side)))]


def _come_down_from_behind(scene: Scene, heads: list[Head]) -> bool:
    """ "The pin is on the lower tier, I am over the back": the ball comes down it to a flag that is far away."""
    tiers = [head for head in heads if head.kind is HazardKind.TIER]
    lower = any(_place(m) == "front" for m in scene.having("where"))
    if not (tiers and lower and any(scene.having("from_behind"))):
        return False
    for head in tiers:
        head.down, head.places = True, []
    return True


def _only_leads_there(scene: Scene, head: Head) -> bool:
    """ "It runs off into a bunker": the way there, inside the phrase of what is there."""
    if head.kind is not HazardKind.RUN_OFF:
        return False
    return any(
        m.get("with") == "trouble" and m.start <= head.start < (m.trouble_at or 0)
        for m in scene.having("side")
    )


def _is_no_trouble(scene: Scene, head: Head) -> bool:
    return _only_leads_there(scene, head) or _is_the_bank_up(scene, head) or stops_the_club(scene, head)


def _is_the_bank_up(scene: Scene, head: Head) -> bool:
    """ "Green's eight feet above me, shaved bank": the way up to it, which its height tells, and no fall behind."""
    if head.kind is not HazardKind.RUN_OFF or head.places or head.carry_m is not None:
        return False
    named = " ".join(piece.said for piece in scene.pieces[head.start : head.end])
    up = "bank" in named and any(m.get("elevation") == "up" for m in scene.having("elevation"))
    if up:
        scene.covered.update(range(head.start, head.end))
    return up


def _past_the_green(scene: Scene, heads: list[Head]) -> None:
    """ "Thirteen yards, five paces of green, then water": what comes right after the green lies behind it."""
    ends = {m.end for m in scene.having("distance") if m.get("distance") == "room"}
    behind = [m.end for m in scene.facts if "behind" in (*m.readings[0], m.get("distance"))]
    for head in heads:
        if not head.kind or head.places or head.carry_m is not None:
            continue
        after_green = head.start in ends and scene.pieces[head.start - 1].text == "GREEN"
        if after_green or any(_goes_on_to(scene, end, head.start) for end in behind):
            head.places.append("long")
    for told in scene.having("break"):
        into = next((head for head in heads if head.kind and 0 < head.start - told.end <= _NAMED_SOON), None)
        if into is not None and not into.places and scene.pieces[told.end].text in _TOWARD:
            into.places.append("right" if told.get("break") == "left_to_right" else "left")


def _goes_on_to(scene: Scene, end: int, start: int) -> bool:
    """ "Not much green behind the flag and then straight into the lake": what comes next on the same way."""
    between = scene.pieces[end:start]
    return end <= start and _ON_THE_WAY.issuperset(piece.text for piece in between)


def _hang(scene: Scene, heads: list[Head]) -> None:
    """Trees that are played under hang over the way; the body tells how high a branch is, or a wall, a hedge."""
    trees = [head for head in heads if head.kind is HazardKind.TREES]
    before = [
        head for head in trees if not any(place in ("left", "right", "back", "long") for place in head.places)
    ]
    if any(scene.having("under")):
        for head in before:
            head.overhead = True
    for mention in scene.having("hangs_m"):
        for head in before:
            if (head.overhead or head.called) and head.height_m is None:
                head.height_m = float(str(mention.get("hangs_m")))


def _without_a_side(scene: Scene, heads: list[Head]) -> list[Mention]:
    """ "Trouble long and left": it takes its places as trouble with a name does, unless that comes next."""
    found = (m for m in scene.having("unnamed") if "side" not in m and m.get("hazard") == HazardKind.UNNAMED)
    return [m for m in found if not _is_named_next(heads, m)]


def _is_named_next(heads: list[Head], mention: Mention) -> bool:
    """ "Trouble left, water", "right is dead, there's a ditch": what the trouble is comes right behind it."""
    if "unnamed" not in mention:
        return False
    near = (head for head in heads if head.kind and 0 <= head.start - mention.end <= _NAMED_SOON)
    named = next(near, None)
    side = mention.get("side")
    if named is not None and side is not None and not named.places:
        named.places.append(str(side))
    return named is not None


def _pin_position(pins: list[Head]) -> PinPosition | None:
    places = [place for head in pins for place in head.places]
    depth = next((p for p in reversed(places) if p.split("_")[0] in ("front", "middle", "back")), None)
    across = next((p for p in reversed(places) if p in ("left", "right")), None)
    if depth is None:
        return PinPosition(f"middle_{across}") if across else None
    if across is None or "_" in depth:
        return PinPosition(depth)
    return PinPosition(f"{depth}_{across}")
