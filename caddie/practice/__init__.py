"""Practice that transfers: the range session, rehearsals, drills, games, what to work on."""
