"""What the caddie remembers for the player: holes, own words, usual settings, the day."""
