"""The putt: the green as said, its read, the player's stroke, the pace that costs fewest putts."""
