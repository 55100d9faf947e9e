"""Practice that transfers: the range session, rehearsals, games, what to work on, and the report."""
