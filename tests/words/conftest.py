"""What the readers of words work on, made from a text the way the whole reader makes it."""

from collections.abc import Callable

import pytest

from caddie.units import YARD_M, Unit
from caddie.words.quantities import Piece
from caddie.words.reading import _scene, laid_in_order
from caddie.words.reduction import reducer
from caddie.words.scene import Scene


@pytest.fixture(scope="session")
def pieces_of() -> Callable[[str], list[Piece]]:
    """The pieces of a text, in the order they were said."""
    return lambda text: reducer().pieces(reducer().tokens(text))


@pytest.fixture(scope="session")
def scene_of(pieces_of: Callable[[str], list[Piece]]) -> Callable[[str], Scene]:
    """The mentions of a text, with what was taken back or denied left out."""
    return lambda text: _scene(laid_in_order(pieces_of(text)), Unit.YARDS, YARD_M)
