"""What the player owns and can do: clubs, swing lengths, measured carries and trust."""

from caddie.bag.file import DEMO_BAG, load_bag, save_bag
from caddie.bag.models import (
    Bag,
    Carry,
    Club,
    ClubKind,
    Conditions,
    Family,
    Handed,
    Miss,
    Player,
    Risk,
    StrikeCount,
    SwingLength,
)

__all__ = [
    "DEMO_BAG",
    "Bag",
    "Carry",
    "Club",
    "ClubKind",
    "Conditions",
    "Family",
    "Handed",
    "Miss",
    "Player",
    "Risk",
    "StrikeCount",
    "SwingLength",
    "load_bag",
    "save_bag",
]
