"""Grass that is called thick with other words of it between: "thick dry grass", "the grass is wet and very long"."""

from caddie.situation import Lie
from caddie.words.mentions import Mention
from caddie.words.scene import Scene

_GRASS = frozenset({"grass", "grasses", "stuff", "lie", "rough"})


def thickened(scene: Scene, mention: Mention, lie: Lie) -> Lie:
    """Rough with "thick" beside it, not as one phrase: "heavy wet rough", "rough, really thick"."""
    if lie is not Lie.LIGHT_ROUGH or scene.pieces[mention.end - 1].text != "rough":
        return lie
    thick = scene.having("thick")
    near = (
        scene.gap(each, mention.start, mention.end) <= 1 or _leads_to_grass(scene, each) for each in thick
    )
    return Lie.HEAVY_ROUGH if any(near) else lie


def long_grass(scene: Scene) -> list[Lie]:
    """The lie that is told of the grass alone, with other words of it between."""
    thick = scene.having("thick")
    return (
        [Lie.HEAVY_ROUGH] if any(_leads_to_grass(scene, m) or _follows_grass(scene, m) for m in thick) else []
    )


def _leads_to_grass(scene: Scene, thick: Mention) -> bool:
    """ "Thick, dry old grass": nothing but words of grass between."""
    told = _of_grass(scene)
    for at in range(thick.end, len(scene.pieces)):
        piece = scene.pieces[at]
        if piece.text in _GRASS and not piece.after_break:
            return True
        if at not in told and piece.text != "and":
            return False
    return False


def _follows_grass(scene: Scene, thick: Mention) -> bool:
    """ "The grass is wet and very long"."""
    told, at = _of_grass(scene), thick.start
    while at > 0 and not scene.pieces[at].after_break and (at in told or scene.pieces[at].text == "and"):
        at -= 1
    apart = at < thick.start - 1 and not scene.pieces[at + 1].after_break
    return apart and scene.pieces[at].text in _GRASS


def _of_grass(scene: Scene) -> set[int]:
    mentions = scene.having("wet", "thick", "of_rough")
    return {at for mention in mentions for at in range(mention.start, mention.end)}
