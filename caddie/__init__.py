"""A caddie for golf's short game: from what the player sees to a shot they can commit to."""

__version__ = "0.1.0"
