"""Practice that transfers: range sessions, rehearsals, games, what to work on next, and the report."""
