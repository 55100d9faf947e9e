"""What is told of a bag where it was asked for: clubs, how far they carry, a handicap."""

from collections.abc import Iterator
from dataclasses import replace

from caddie.units import to_metres
from caddie.words.asked_for import Answer
from caddie.words.quantities import Piece
from caddie.words.replies import CarrySaid, Reply

_WEDGES = {"pitching wedge": "pw", "gap wedge": "gw", "sand wedge": "sw", "lob wedge": "lw"}


def read_clubs(answer: Answer) -> Reply:
    raise NotImplementedError


def read_carries(answer: Answer) -> Reply:
    raise NotImplementedError


def read_handicap(answer: Answer) -> Reply:
    raise NotImplementedError
