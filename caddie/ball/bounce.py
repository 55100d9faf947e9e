"""What the ground gives back: bounce models by name (working version)."""

BOUNCE = ("penner", "rigid")
