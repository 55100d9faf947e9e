"""What is only likened: "plugged like a brick in wet muck" tells of a brick, and not what the ball lies in."""

from caddie.words.grammar import grammar
from caddie.words.mentions import Mention
from caddie.words.scene import Scene

_LIKENS = frozenset({"like", "as"})
_GOES_ON = frozenset({"and", "but", "with", "i", "it", "ball"})
"""Behind these it is told of the ball again."""


def is_likened(scene: Scene, mention: Mention) -> bool:
    """Whether a fact is told of a thing that is no word of golf, named behind "like" in the same clause."""
    for at in range(mention.start - 1, 0, -1):
        if scene.pieces[at + 1].after_break or scene.pieces[at].text in _GOES_ON:
            return False
        if scene.pieces[at].text in _LIKENS:
            return at + 1 < mention.start and _is_another_thing(scene, at + 1)
    return False


def _is_another_thing(scene: Scene, at: int) -> bool:
    """Whether a piece is neither of the trade nor a plain word that leads on."""
    text = scene.pieces[at].text
    told = any(m.start <= at < m.end for m in scene.facts)
    return text.islower() and text.isalpha() and not told and text not in grammar().plain
