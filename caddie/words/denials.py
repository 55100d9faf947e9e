"""What a "no" or "not" right before it takes away: "no bunkers", "not in the rough"."""

from collections.abc import Collection, Sequence

from caddie.situation import Green, HazardKind
from caddie.words.heads import kind_at
from caddie.words.mentions import Mention
from caddie.words.quantities import Piece, clause_start
from caddie.words.scene import Scene

NO = frozenset({"no", "nope", "nah"})
DENIALS = frozenset({"not", "no", "without", "never", "nothing", "nor"})
_PASSED_BY = frozenset({"any", "in", "on", "at", "of", "much", "even", "from", "one", "into", "really"})
"""What may stand between a denial and what it takes away."""
_SAID = frozenset({"say", "said", "mean", "meant", "mention", "mentioned", "call", "called", "tell", "told"})
_SAID_OF = frozenset(
    {
        "it",
        "they",
        "them",
        "there",
        "that",
        "you",
        "of",
        "about",
        "anything",
        "any",
        "GREEN",
        "had",
        "would",
        "was",
        "were",
        "is",
        "are",
    }
)
"""What may stand between words that were never said and what they would have told."""
_ASKED = frozenset({"you", "i", "we"})
"""After these a Scots "no" is "not": "would ye no putt it"."""
_OUTDOES = frozenset({"more", "rather"})
"""Before "than" they take away what stands behind it: "more light rough than heavy"."""
PREFERS = frozenset({"rather", "sooner"})
"""Anywhere before "than" in its clause they do the same: "I'd sooner putt it from here than chip it"."""
_CORRECTED = ("lie", "where", "side", "club", "swing")
"""Facts that "no" before them says instead of others: "pin front, no, back"."""
_OF_THE_GREEN = ("firmness", "stimp_ft")


def deny(scene: Scene) -> None:
    """Leave out what a "no" or "not" right before it takes away."""
    kept: list[Mention] = []
    lies: set[int] = set()
    for mention in scene.facts:
        if _denied_before(scene, mention.start):
            scene.denied.update(range(mention.start, mention.end))
            if "lie" in mention:
                scene.denied_lies.add(str(mention.get("lie")))
                lies.update(range(mention.start, mention.end))
            if "stance" in mention:
                scene.denied_lies.add(str(mention.get("stance")))
            kept = [each for each in kept if not _is_unsaid(each, mention)]
            scene.wind_denied = scene.wind_denied or "wind_word" in mention
            scene.denied_green |= {key: mention.get(key) for key in _OF_THE_GREEN if key in mention}
        else:
            kept.append(mention)
    for at in range(len(scene.pieces)):
        if scene.is_trouble(at) and _denied_before(scene, at):
            scene.denied.add(at)
            scene.gone.update(set() if at in lies else {kind_at(scene, at)})
    scene.gone.update(kind_at(scene, m.trouble_at) for m in scene.having("gone") if m.trouble_at is not None)
    for mention in scene.having("gone_kind", "not_fall"):
        scene.gone |= {HazardKind(str(mention.get("gone_kind")))} if "gone_kind" in mention else set()
        scene.denied_green |= {"fall": mention.get("not_fall")} if "not_fall" in mention else {}
    scene.denied.update(at for m in scene.having("no_club") for at in range(m.start, m.end))
    for mention in scene.having("absent"):
        if mention.trouble_at is not None:
            scene.denied.add(mention.trouble_at)
            if "unsaid" in mention:
                scene.gone.add(kind_at(scene, mention.trouble_at))
    scene.facts[:] = kept


def _is_unsaid(said: Mention, denied: Mention) -> bool:
    """ "Plugged, well, not plugged": a lie said and then denied was not said."""
    return "lie" in said and said.get("lie") == denied.get("lie") and said.end <= denied.start


def _denied_before(scene: Scene, start: int) -> bool:
    at = start - 1
    if scene.pieces[start].after_break or at < 0:
        return False
    if _never_said(scene, at):
        return True
    while at > 0 and scene.pieces[at].text in _PASSED_BY and not scene.pieces[at].after_break:
        at -= 1
    text = scene.pieces[at].text
    if text == "than" and any(piece.text in _OUTDOES for piece in scene.pieces[max(at - 4, 0) : at]):
        return True
    if _is_less_liked(scene, at, start):
        return True
    if text == "or" and at > 0 and (at - 1) in scene.denied:
        return True
    if text not in DENIALS:
        return False
    asks = text == "not" or (text == "no" and scene.pieces[at - 1].text in _ASKED)
    if asks and any(m.start <= at < m.end for m in scene.intents):
        return False
    return text not in NO or denies(scene.pieces, scene.facts, scene.troubles, start)


def _is_less_liked(scene: Scene, at: int, start: int) -> bool:
    """ "I'd sooner putt it than chip it", "I prefer a putt to a chip": the shot named second is not played."""
    led = clause_start(scene.pieces, at)
    before = {piece.text for piece in scene.pieces[led:at]}
    if scene.pieces[at].text == "than":
        return not before.isdisjoint(PREFERS)
    shots = [m for m in scene.having("family", "club") if m.start == start or led <= m.start < at]
    return scene.pieces[at].text in ("to", "over") and "prefer" in before and len(shots) > 1


def _never_said(scene: Scene, at: int) -> bool:
    """ "I didn't say it was soft", "never mentioned there was water"."""
    while at > 1 and scene.pieces[at].text in _SAID_OF and not scene.pieces[at].after_break:
        at -= 1
    return at > 0 and scene.pieces[at].text in _SAID and scene.pieces[at - 1].text in ("not", "never")


def denies(pieces: Sequence[Piece], facts: Sequence[Mention], troubles: Collection[str], at: int) -> bool:
    """Whether "no" before the piece at ``at`` denies it, rather than corrects what stood before."""
    text = pieces[at].text
    if text == "#":
        return False
    if text in troubles or text in _PASSED_BY:
        return True
    mention = next((m for m in facts if m.start <= at < m.end), None)
    return mention is None or not (mention.quantity is not None or any(key in mention for key in _CORRECTED))


def not_green(scene: Scene) -> Green:
    """What the green was said not to be: "not soft at all"."""
    return Green.model_validate(scene.denied_green)
